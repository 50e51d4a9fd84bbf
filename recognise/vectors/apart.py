"""Grids whose cells stand apart, each a box of its own, as tables with room between their cells have them: the lattice
lines are the gaps."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Box, Colour, Page
from recognise.evidence import Edges, Tint
from recognise.geometry import middle
from recognise.pixels.frame import Raster
from recognise.vectors.edges import LatticeLines
from recognise.vectors.inks import Ink, darkness
from recognise.vectors.painting import polygon_area
from recognise.vectors.place import Floats, frame_to_image
from schema.cells import Cell

LEAST, MOST_BOXES = 4, 3000
"""Rows and columns at least; and boxes of a page that is no drawing."""
SMALLEST, SQUARISH = 9.0, 1.35
"""Points: side of a cell at least; and its longer side by the shorter one at most."""
FULL = 0.94
"""The part of its box that a cell with round corners fills."""
ALIKE, LEVEL = 0.16, 0.06
"""As a part of a cell's side: how much cells differ in size, those beside a wider gap between boxes being the smaller
ones; and how far those of one row lie off each other."""
NARROWEST, WIDEST = 0.015, 0.3
"""The gap between two cells, as a part of their side; nearer ones share a line."""
CONCENTRIC, SHADOW = 0.01, 0.25
"""As a part of a cell's side: how far off its middle a second outline of a tile lies at most, and its shadow."""
ALL = 0.97
"""The part of the places of a grid at which there is a cell."""
THICKER = 1.5
"""How many times as thick as another one a frame of the same look is at most."""
SMOOTHED = 0.05
"""In cells: how wide the rim of an area is in a picture, for edges are smoothed."""
IN_CELL, BEYOND = 0.2, 0.05
"""In cells: how far inside the lattice lines the sides of its box lie at most, and beyond them."""


def gap_lattice(page: Page) -> tuple[Floats, Floats] | None:
    """Where the lattice lines run between the cells of the one grid of the page whose cells stand apart: along x and
    along y, in frame units of the upright page. None where there is none."""
    boxes = list(dict.fromkeys(_boxes(page)))
    if not LEAST**2 <= len(boxes) <= MOST_BOXES:
        return None
    sizes = Counter((round(b[2] - b[0]), round(b[3] - b[1])) for b in boxes)
    ((width, height), _) = sizes.most_common(1)[0]
    cells = _without_shadows(np.array([b for b in boxes if _is_sized(b, width, height)]))
    lines = [_gaps(cells[:, axis], cells[:, axis + 2]) for axis in (0, 1)]
    xs, ys = lines
    if xs is None or ys is None:
        return None
    places = {(int(np.searchsorted(xs, x)), int(np.searchsorted(ys, y))) for x, y in map(middle, cells.tolist())}
    return (xs, ys) if len(places) >= ALL * (len(xs) - 1) * (len(ys) - 1) else None


def _without_shadows(boxes: Floats) -> Floats:
    """Boxes in paint order without those upon which another one was painted a little aside."""
    middles, side = (boxes[:, :2] + boxes[:, 2:]) / 2, float(np.median(boxes[:, 2] - boxes[:, 0]))
    aside = np.abs(middles[:, None] - middles).max(axis=2)
    over = np.triu((aside > CONCENTRIC * side) & (aside < SHADOW * side))
    bare: Floats = boxes[~over.any(axis=1)]
    return bare


def _is_sized(box: Box, width: float, height: float) -> bool:
    off = abs(box[2] - box[0] - width), abs(box[3] - box[1] - height)
    return max(off) <= 0.5 + ALIKE * min(width, height)


def _boxes(page: Page) -> Iterator[Box]:
    """The upright boxes that paths draw, their corners round or not."""
    for path in page.vectors.paths if page.vectors else ():
        for points, closed in zip(path.subpaths, path.closed, strict=True):
            if len(points) < 4 or not (closed or path.fill):
                continue
            outline = frame_to_image(page, np.array(points, dtype=np.float64)) / page.scale
            (left, top), (right, bottom) = outline.min(axis=0), outline.max(axis=0)
            across, down = right - left, bottom - top
            if min(across, down) < SMALLEST or max(across, down) > SQUARISH * min(across, down):
                continue
            if abs(polygon_area(outline)) >= FULL * across * down:
                yield round(float(left), 2), round(float(top), 2), round(float(right), 2), round(float(bottom), 2)


def _gaps(starts: Floats, ends: Floats) -> Floats | None:
    """The middles of the gaps between cells that begin and end there, and the outer lines; None where cells do not
    follow each other with a gap."""
    side = float(np.median(ends - starts))
    order = np.argsort(starts)
    parts = np.split(order, np.flatnonzero(np.diff(starts[order]) > LEVEL * side) + 1)
    first = np.array([starts[part].mean() for part in parts])
    last = np.array([ends[part].mean() for part in parts])
    gaps = first[1:] - last[:-1]
    if len(parts) < LEAST or gaps.min() < NARROWEST * side or gaps.max() > WIDEST * side:
        return None
    half = gaps.min() / 2
    return np.concatenate([[first[0] - half], (first[1:] + last[:-1]) / 2, [last[-1] + half]])


def gap_lines(inks: Sequence[Ink], raster: Raster) -> LatticeLines | None:
    """The gaps between the boxes of cells as lattice lines, as thick as they are wide; None where not all cells have a
    box of their own."""
    boxes = _boxes_of_cells(inks, raster)
    if boxes is None:
        return None
    own, tiles = boxes
    sides: dict[tuple[int, int], Box] = {}
    for index, place in (tiles | own).items():
        half = inks[index].width / 2
        left, top, right, bottom = inks[index].box
        sides[place] = (left + half, top + half, right - half, bottom - half)
    dark = max(darkness(inks[index].colour) for index in own)
    rimmed = [index for index in tiles | own if inks[index].role == "stroke" or index not in own]
    rails = [rail for index in rimmed for rail in _rim(inks[index])]
    tinted = [
        Tint(
            Cell(place[0] + 1, place[1] + 1),
            inks[index].colour,
            float(np.prod(np.ptp(inks[index].outlines[0], 0))),
            "vector",
        )
        for index, place in tiles.items()
        if index not in own
    ]
    return replace(_edges(sides, dark, raster), used={*own, *tiles}, rails=rails, tints=tinted)


def with_frames_of_cells(lines: LatticeLines, inks: Sequence[Ink], raster: Raster) -> LatticeLines:
    """Lattice lines with the outlines or tiles of one look that stand within them, one in every cell: they mark
    nothing."""
    frames = {
        index
        for colours in _by_look(inks, raster).values()
        for its in colours.values()
        for index in _one_in_each(its, inks, raster)
        if index not in lines.used
    }
    rails = [rail for index in sorted(frames) for rail in _rim(inks[index])]
    return replace(lines, used=lines.used | frames, rails=[*lines.rails, *rails])


def _one_in_each(places: dict[int, tuple[int, int]], inks: Sequence[Ink], raster: Raster) -> list[int]:
    """Of boxes of one colour the outermost in each cell, where all cells have one of the same size and thickness: a
    smaller or thicker one, or one that is missing, marks its cell."""
    outer: dict[tuple[int, int], int] = {}
    for index, place in sorted(places.items(), key=lambda each: _side(inks[each[0]])):
        outer[place] = index
    if len(outer) < raster.rows * raster.columns:
        return []
    frames = list(outer.values())
    sides, widths = ([of(inks[index]) for index in frames] for of in (_side, lambda ink: ink.width))
    alike = max(sides) - min(sides) <= ALIKE and max(widths) <= THICKER * min(widths)
    return frames if alike else []


def _side(ink: Ink) -> float:
    """The shorter side of a box, in cells."""
    left, top, right, bottom = ink.box
    return min(right - left, bottom - top)


def _boxes_of_cells(
    inks: Sequence[Ink], raster: Raster
) -> tuple[dict[int, tuple[int, int]], dict[int, tuple[int, int]]] | None:
    """The inks that draw the boxes of the cells, with their places: outlines or areas of one colour, or both, of which
    every cell has one. And those that do so in other colours: the same tiles, tinted. None where there are none."""
    own: dict[int, tuple[int, int]] = {}
    tinted: dict[int, tuple[int, int]] = {}
    for colours in _by_look(inks, raster).values():
        whole = [its for its in colours.values() if _everywhere(its, raster)]
        others = [its for its in colours.values() if not _everywhere(its, raster)]
        tiles = {index: place for its in others for index, place in its.items()}
        if _everywhere(tiles, raster):
            # Each cell has one tile, on its shadow perhaps: those of the commonest colour are the ground.
            whole.append(max(others, key=len))
            tinted |= tiles
        own |= {index: place for its in whole for index, place in its.items()}
    return (own, tinted) if own else None


def _by_look(inks: Sequence[Ink], raster: Raster) -> dict[str, dict[Colour, dict[int, tuple[int, int]]]]:
    """The inks that draw boxes in cells, with their places, as outlines and as areas, by colour."""
    found: dict[str, dict[Colour, dict[int, tuple[int, int]]]] = {}
    for index, ink in enumerate(inks):
        place = _cell_of(ink.box, raster) if len(ink.outlines) == 1 else None
        if place is not None and abs(polygon_area(ink.outlines[0])) >= FULL * float(
            np.prod(np.ptp(ink.outlines[0], 0))
        ):
            found.setdefault(ink.role, {}).setdefault(ink.colour, {})[index] = place
    return found


def _everywhere(places: dict[int, tuple[int, int]], raster: Raster) -> bool:
    return len(set(places.values())) >= ALL * raster.rows * raster.columns


def _cell_of(box: Box, raster: Raster) -> tuple[int, int] | None:
    """The place, row and column from 0, of the cell that a box fills but for its rim."""
    column, row = int(np.floor((box[0] + box[2]) / 2)), int(np.floor((box[1] + box[3]) / 2))
    inner = (box[0] - column, box[1] - row, column + 1 - box[2], row + 1 - box[3])
    fits = min(inner) >= -BEYOND and max(inner) <= IN_CELL
    return (row, column) if fits and 0 <= row < raster.rows and 0 <= column < raster.columns else None


def _edges(sides: dict[tuple[int, int], Box], dark: float, raster: Raster) -> LatticeLines:
    """Each edge as thick as the gap between its two cells; on the outside as the narrowest of all."""
    gaps = {
        axis: np.array([_gap(sides, at, axis) for at in np.ndindex(raster.rows + 1 - axis, raster.columns + axis)])
        for axis in (0, 1)
    }
    least = min(float(np.nanmin(each)) for each in gaps.values())
    horizontal, vertical = (
        np.nan_to_num(gaps[axis], nan=least).reshape(raster.rows + 1 - axis, raster.columns + axis) for axis in (0, 1)
    )
    return LatticeLines(Edges(horizontal, vertical, np.full_like(horizontal, dark), np.full_like(vertical, dark)))


def _gap(sides: dict[tuple[int, int], Box], at: tuple[int, ...], axis: int) -> float:
    """The gap before a cell, above it (axis 0) or to its left (1); nan where one side has no cell."""
    row, column = at
    here = sides.get((row, column))
    before = sides.get((row - 1, column) if axis == 0 else (row, column - 1))
    return np.nan if here is None or before is None else here[1 - axis] - before[3 - axis]


def _rim(ink: Ink) -> Iterator[Box]:
    """The boxes of what the outline of a cell inks, piece by piece."""
    half = max(ink.width, SMOOTHED) / 2
    for points in ink.outlines:
        for start, end in zip(points, np.roll(points, -1, axis=0), strict=True):
            (left, top), (right, bottom) = np.minimum(start, end) - half, np.maximum(start, end) + half
            yield float(left), float(top), float(right), float(bottom)
