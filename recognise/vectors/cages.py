"""Cages: lines set in from the edges of the cells that they enclose, whatever they are made of.

Nothing is asked of the make: closed outline, one line a side, or single dashes. For each side of each cell the ink that
runs along it is measured; two neighbours between which no line runs are of one cage; and a group counts only when a
line runs along every one of its sides."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import cv2
import numpy as np

from ingest.page import Colour, Point
from recognise.evidence import Edges, Fence, FenceStyle
from recognise.geometry import extent, holds, middle
from recognise.grids.boxes import boxes_from, thick_regions
from recognise.pixels.frame import Raster
from recognise.vectors.cage_lines import is_square, lines_of_cages
from recognise.vectors.cage_sides import SIDES, STRAIGHT, Side, Sides, all_sides
from recognise.vectors.inks import Canvas, Ink, darkness, near
from recognise.vectors.place import Floats
from schema.cells import Cell
from schema.kinds._outline import inset_outline

INSIDE = 0.9
"""The part of an ink that lies along the sides of the cages which explain it."""
SPARE = 0.02
"""In cells: how much wider than its line a claim is on either side."""
UNBROKEN = 0.97
"""The part of its sides that a solid line covers."""
ROUND_DOTS = 1.7
"""A dash no longer than this many times its thickness is a dot."""
PIECE, MOST_ARE = 0.3, 0.5
"""In cells: a stroke no longer is a dash; and the part of a line's strokes that are such where it is broken."""
SURE = 0.999
"""Confidence of a cage whose sides the file draws."""


ALONG = 0.035
"""In cells: how far apart two lines of one cage run at most."""
BENT, OFF_CORNER, ALIKE = 0.3, 0.08, 0.012
"""In cells: a dash round a corner is no longer, and so near to the cage's outline, whose corners are square; and how
much two dashes of one shape differ."""
CRUMB, AT_CORNER = 0.1, 0.02
"""In cells: what is no larger, and lies upon a corner of the outline or so near to it, is where a line of dashes begins
and ends; no figure of a total is so small."""


@dataclass(frozen=True, slots=True)
class Cages:
    """The fences, and the indices of the inks that draw them."""

    fences: tuple[Fence, ...]
    inks: frozenset[int]


def find_cages(inks: Sequence[tuple[int, Ink]], canvas: Canvas) -> Cages:
    """The cages among inks given with their indices, colour by colour."""
    fences: list[Fence] = []
    used: set[int] = set()
    coloured = lines_of_cages(inks, canvas)
    for group in (make for one_colour in coloured for make in _by_make(one_colour, canvas)):
        its = [ink for _, ink in group]
        drawn = list(_fences(all_sides(its, canvas), its, canvas.raster))
        fences += drawn
        used |= set(explained_by(drawn, group, canvas))
        used |= set(_round_corners([each for each in inks if near(group[0][1].colour, each[1].colour)], drawn))
    return Cages(tuple(_once(fences)), frozenset(used))


def _once(fences: Sequence[Fence]) -> Iterator[Fence]:
    """The fences, those that run along each other around the same cells as one, in the darkest colour: a line with a
    pale one under it."""
    along: list[list[Fence]] = []
    for fence in fences:
        for group in along:
            if group[0].cells == fence.cells and _run_along(group[0], fence):
                group.append(fence)
                break
        else:
            along.append([fence])
    for group in along:
        darkest = max(group, key=lambda fence: darkness(fence.colour))
        yield replace(darkest, claims=tuple(claim for fence in group for claim in fence.claims))


def _run_along(one: Fence, other: Fence) -> bool:
    if not one.where or not other.where:
        return False
    boxes = [np.concatenate([np.min(each.where, axis=0), np.max(each.where, axis=0)]) for each in (one, other)]
    return bool(np.abs(boxes[0] - boxes[1]).max() <= ALONG)


def _round_corners(inks: Sequence[tuple[int, Ink]], fences: Sequence[Fence]) -> Iterator[int]:
    """The inks that are dashes bent round the corners of cages: small, and near the outline all along. Where a total
    may stand, only such as are drawn elsewhere too, and crumbs upon the corner itself."""
    bent = [(index, ink, at) for index, ink in inks if (at := _on_outline(ink, fences)) is not None]
    sizes = [_size(ink) for _, ink, at in bent if at != "total"]
    for index, ink, at in bent:
        drawn_elsewhere = any(np.abs(_size(ink) - size).max() <= ALIKE for size in sizes)
        if at != "total" or drawn_elsewhere or _is_crumb(ink, fences):
            yield index


def _is_crumb(ink: Ink, fences: Sequence[Fence]) -> bool:
    """Whether an ink is the first and the last dot of a cage's line that run into one another at its corner."""
    left, top, right, bottom = ink.box
    around = (left - AT_CORNER, top - AT_CORNER, right + AT_CORNER, bottom + AT_CORNER)
    return extent(ink.box) <= CRUMB and any(holds(around, corner) for fence in fences for corner in fence.where)


def _size(ink: Ink) -> Floats:
    left, top, right, bottom = ink.box
    return np.array((right - left, bottom - top))


def _on_outline(ink: Ink, fences: Sequence[Fence]) -> Literal["total", "side"] | None:
    """Whether a small ink lies on the outline of a cage, and if so, whether where its total stands."""
    if extent(ink.box) > BENT:
        return None
    points = [(float(x), float(y)) for outline in ink.outlines for x, y in outline]
    for fence in fences:
        outline = np.asarray(fence.where, np.float32)
        if len(outline) > 2 and all(abs(cv2.pointPolygonTest(outline, at, True)) <= OFF_CORNER for at in points):
            first, (x, y) = min(fence.cells), middle(ink.box)
            return "total" if x < first.column - 0.4 and y < first.row - 0.5 else "side"
    return None


def border_cages(edges: Edges) -> tuple[Fence, ...]:
    """Groups of cells that thickened lattice lines enclose where those are no boxes."""
    regions = thick_regions(edges)
    if len(regions) < 2 or boxes_from(edges).cells is not None:
        return ()
    half = sum(map(len, regions)) / 2
    return tuple(
        Fence(cells, "border", (0, 0, 0), "vector", SURE, _outline(cells, 0.0), _claims(cells, 0.0, _thickness(edges)))
        for cells in regions
        if len(cells) <= half
    )


def _thickness(edges: Edges) -> float:
    return float(max(edges.horizontal.max(), edges.vertical.max()))


def _by_make(group: list[tuple[int, Ink]], canvas: Canvas) -> list[list[tuple[int, Ink]]]:
    """Lines of one colour, squares in single cells apart where the others are broken: where cages are dashed or dotted,
    a whole line round one cell is a mark in it."""
    squares = [each for each in group if is_square(each[1])]
    rest = [each for each in group if not is_square(each[1])]
    others = [ink for _, ink in rest]
    if not squares or not rest or line_style(list(all_sides(others, canvas).values()), others) == "solid":
        return [group]
    return [rest, squares]


def _fences(sides: Sides, inks: Sequence[Ink], raster: Raster) -> Iterator[Fence]:
    groups = [cells for cells in _groups(sides, raster) if len(cells) < raster.rows * raster.columns]
    style = line_style([sides[key] for key in sides], inks)
    several = [cells for cells in groups if len(cells) > 1]
    size = max(raster.rows, raster.columns)
    if style == "solid" and len(groups) * size == raster.rows * raster.columns and all(len(g) == size for g in groups):
        # A second line within the border of every box.
        return
    for cells in groups:
        if len(cells) == 1 and style == "solid" and not (several and _alike(cells, several, sides)):
            # A square in a cell marks the cell.
            continue
        yield fence_along(cells, _border(cells, sides), style, inks[0].colour)


def fence_along(cells: Iterable[Cell], border: Sequence[Side], style: FenceStyle, colour: Colour) -> Fence:
    """The fence round cells along whose sides such lines run."""
    inset, thickness = (float(np.median([getattr(side, name) for side in border])) for name in ("inset", "thickness"))
    # In a table's uneven rows a line of one box is not set in alike from all edges.
    insets = [side.inset for side in border]
    strip = max(max(insets) - inset, inset - min(insets)) * 2 + thickness
    cells = tuple(sorted(cells))
    return Fence(cells, style, colour, "vector", SURE, _outline(cells, inset), _claims(cells, inset, strip))


def _groups(sides: Sides, raster: Raster) -> Iterator[frozenset[Cell]]:
    """Groups of cells between which no line runs, with a line along every side of the group."""
    left = {cell for cell, _ in sides}
    while left:
        group, fresh, closed = set[Cell](), [left.pop()], True
        while fresh:
            cell = fresh.pop()
            group.add(cell)
            for way in SIDES:
                other = cell.stepped(*way)
                on_grid = 1 <= other.row <= raster.rows and 1 <= other.column <= raster.columns
                back = (-way[0], -way[1])
                if (cell, way) in sides:
                    continue
                if not on_grid or (other, back) in sides:
                    closed = False
                elif other not in group and other not in fresh:
                    fresh.append(other)
        left -= group
        if closed:
            yield frozenset(group)


def _border(cells: Iterable[Cell], sides: Sides) -> list[Side]:
    group = set(cells)
    return [sides[cell, way] for cell in group for way in SIDES if cell.stepped(*way) not in group]


def _alike(cells: frozenset[Cell], several: Sequence[frozenset[Cell]], sides: Sides) -> bool:
    """Whether a group is drawn as cages of several cells are: set in as far, with as thick a line."""
    own, theirs = (
        np.array([(s.inset, s.thickness) for s in _border(group, sides)]).mean(axis=0)
        for group in (cells, frozenset().union(*several))
    )
    return bool(np.abs(own - theirs).max() <= STRAIGHT)


def line_style(sides: Sequence[Side], inks: Sequence[Ink]) -> FenceStyle:
    """How lines along sides of cells are drawn that inks make up."""
    dashed = [ink for ink in inks if ink.dash]
    if dashed:
        # Dashes count, gaps lie between them (ISO 32000-1, 8.4.3.6).
        longest = max(max(ink.dash[::2]) / max(ink.width, 1e-6) for ink in dashed)
        return "dotted" if longest <= ROUND_DOTS else "dashed"
    # The masks of fine strokes are wider than these, and run into one another.
    pieces = [_long_and_thick(ink) for ink in inks if ink.role == "stroke" and extent(ink.box) <= PIECE]
    if len(pieces) >= MOST_ARE * len(inks) and inks:
        return "dotted" if np.median([long / thick for long, thick in pieces]) <= ROUND_DOTS else "dashed"
    if not sides or float(np.median([side.cover for side in sides])) >= UNBROKEN:
        return "solid"
    dots = np.median([side.longest / side.thickness for side in sides]) <= ROUND_DOTS
    return "dotted" if dots else "dashed"


def _long_and_thick(stroke: Ink) -> tuple[float, float]:
    """How long and how thick a short stroke is, in cells."""
    return max(float(np.ptp(stroke.outlines[0], axis=0).max()), stroke.width), max(stroke.width, 1e-6)


def _outline(cells: Iterable[Cell], inset: float) -> tuple[Point, ...]:
    return tuple(sorted(inset_outline(cells, inset), key=len)[-1])


def _claims(cells: Iterable[Cell], inset: float, thickness: float) -> tuple[tuple[Point, ...], ...]:
    """A thin rectangle along every straight piece of the outline."""
    half = thickness / 2 + SPARE
    claims = []
    for loop in inset_outline(cells, inset):
        for (x0, y0), (x1, y1) in zip(loop, [*loop[1:], loop[0]], strict=True):
            left, right, top, bottom = min(x0, x1) - half, max(x0, x1) + half, min(y0, y1) - half, max(y0, y1) + half
            claims.append(((left, top), (right, top), (right, bottom), (left, bottom)))
    return tuple(claims)


def explained_by(fences: Sequence[Fence], group: Sequence[tuple[int, Ink]], canvas: Canvas) -> Iterator[int]:
    """The inks, with their indices, that lie along the claims of fences."""
    area = np.zeros(canvas.shape, dtype=np.bool_)
    for fence in fences:
        for claim in fence.claims:
            (x0, y0), _, (x1, y1), _ = claim
            rows, columns = canvas.raster.slices((x0, y0, x1, y1))
            area[rows, columns] = True
    for index, ink in group:
        mask = ink.whole.mask
        if np.count_nonzero(mask & area[ink.whole.window]) >= INSIDE * np.count_nonzero(mask):
            yield index
