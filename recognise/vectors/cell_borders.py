"""Tables whose cells draw borders of their own, as web pages set them: between two cells run the border of the one and
that of the other, side by side or with some room between, and both together are one lattice line."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from ingest.page import Box
from recognise.evidence import Edges
from recognise.pixels.frame import Raster
from recognise.vectors.edges import LatticeLines
from recognise.vectors.inks import Ink, darkness
from recognise.vectors.painting import polygon_area
from recognise.vectors.place import Floats

THIN, LEAST, MOST = 0.13, 0.75, 1.1
"""In cells: how thick a border is at most, and how long one of one cell."""
NEAR = 0.16
"""In cells: how far from the lattice line a border runs at most."""
ALL = 0.97
"""The part of the edges inside the grid at which there are just two borders."""
TOUCHING = 0.004
"""In cells: two borders overlap by no more; cells that share a line draw it twice in one place."""
CORNERS, FULL = 5, 0.98
"""Points of the outline of a box at most, and the part of its box that one fills."""
BLUR = 0.02
"""In cells: how far the edges of a bar are smoothed in a picture."""
TOLD = 1.25
"""So many times as much ink as on others tells some edges."""

Edge = tuple[bool, int, int]
"""Whether it is upright, its lattice line, and its place along that."""
Border = tuple[float, float, int, Box]
"""Where it begins and ends across its edge, the index of its ink, and its box."""


def border_lines(inks: Sequence[Ink], raster: Raster) -> LatticeLines | None:
    """The pairs of borders between cells as lattice lines, as thick as the ink of both, or as they are wide where that
    tells nothing; None where cells have no borders of their own."""
    on_edges: dict[Edge, list[Border]] = defaultdict(list)
    outer: dict[int, list[Box]] = defaultdict(list)
    for index, ink in enumerate(inks):
        for box in _bars(ink):
            edge = _edge_of(box, raster)
            if edge is not None:
                start, end = (box[0], box[2]) if edge[0] else (box[1], box[3])
                on_edges[edge].append((start, end, index, box))
            elif _is_of_frame(box, raster):
                outer[index].append(box)
            elif _is_lattice_line(box, raster):
                return None
    if not _are_pairs(on_edges, raster):
        return None
    used = {border[2] for borders in on_edges.values() for border in borders} | set(outer)
    bars = [border[3] for borders in on_edges.values() for border in borders]
    bars += [box for boxes in outer.values() for box in boxes]
    rails = [(x0 - BLUR, y0 - BLUR, x1 + BLUR, y1 + BLUR) for x0, y0, x1, y1 in bars]
    dark = max(darkness(inks[index].colour) for index in used)
    horizontal, vertical = _thickness(on_edges, raster)
    edges = Edges(horizontal, vertical, np.full_like(horizontal, dark), np.full_like(vertical, dark))
    return LatticeLines(edges, used, rails)


def _bars(ink: Ink) -> Iterator[Box]:
    """The straight bars that an ink draws: itself, or the four sides of a box."""
    left, top, right, bottom = ink.box
    if ink.dashed or ink.curved:
        return
    if len(ink.outlines) == 1 and min(right - left, bottom - top) <= THIN:
        yield ink.box
        return
    inside = _inside(ink)
    if inside is not None:
        x0, y0, x1, y1 = inside
        sides = (left, top, right, y0), (left, y1, right, bottom), (left, top, x0, bottom), (x1, top, right, bottom)
        yield from (side for side in sides if 0 < min(side[2] - side[0], side[3] - side[1]) <= THIN)


def _inside(ink: Ink) -> Box | None:
    """What a box leaves bare, drawn by one stroke or as an area between two boxes."""
    if not all(len(points) <= CORNERS and _is_box(points) for points in ink.outlines):
        return None
    if len(ink.outlines) == 1 and ink.role == "stroke" and ink.closed[0]:
        left, top, right, bottom = ink.box
        return left + ink.width, top + ink.width, right - ink.width, bottom - ink.width
    if len(ink.outlines) == 2 and ink.role == "fill":
        inner = min(ink.outlines, key=lambda points: float(np.prod(np.ptp(points, axis=0))))
        (left, top), (right, bottom) = inner.min(axis=0).tolist(), inner.max(axis=0).tolist()
        return left, top, right, bottom
    return None


def _is_box(points: Floats) -> bool:
    return abs(polygon_area(points)) >= FULL * float(np.prod(np.ptp(points, axis=0)))


def _edge_of(box: Box, raster: Raster) -> Edge | None:
    """The edge of one cell along which a bar runs."""
    left, top, right, bottom = box
    upright = right - left < bottom - top
    across, along = ((left + right) / 2, (top + bottom) / 2) if upright else ((top + bottom) / 2, (left + right) / 2)
    line, place = round(across), int(np.floor(along))
    lines, places = (raster.columns, raster.rows) if upright else (raster.rows, raster.columns)
    fits = LEAST <= max(right - left, bottom - top) <= MOST and abs(across - line) <= NEAR
    return (upright, line, place) if fits and 0 <= line <= lines and 0 <= place < places else None


def _is_of_frame(box: Box, raster: Raster) -> bool:
    """Whether a bar runs along the outline of the grid."""
    left, top, right, bottom = box
    if right - left < bottom - top:
        return min(abs((left + right) / 2 - line) for line in (0, raster.columns)) <= 2 * NEAR
    return min(abs((top + bottom) / 2 - line) for line in (0, raster.rows)) <= 2 * NEAR


def _is_lattice_line(box: Box, raster: Raster) -> bool:
    """Whether a bar runs along a lattice line inside the grid for more than one cell."""
    left, top, right, bottom = box
    upright = right - left < bottom - top
    across, last = ((left + right) / 2, raster.columns) if upright else ((top + bottom) / 2, raster.rows)
    inside = 0 < round(across) < last and abs(across - round(across)) <= NEAR
    return inside and max(right - left, bottom - top) > MOST


def _are_pairs(on_edges: dict[Edge, list[Border]], raster: Raster) -> bool:
    """Whether two borders run along nearly all edges inside the grid, beside each other, and one along the others."""
    rows, columns = raster.rows, raster.columns
    inner = [(True, line, place) for line in range(1, columns) for place in range(rows)]
    inner += [(False, line, place) for line in range(1, rows) for place in range(columns)]
    return sum(_is_pair(on_edges.get(edge, ())) for edge in inner) >= ALL * len(inner)


def _is_pair(borders: Iterable[Border]) -> bool:
    ordered = sorted(borders)
    return len(ordered) == 2 and ordered[0][1] <= ordered[1][0] + TOUCHING


def _thickness(on_edges: dict[Edge, list[Border]], raster: Raster) -> tuple[Floats, Floats]:
    """How thick each edge is, level ones and upright ones: by its ink where that tells some from others, else from the
    one border to the other."""
    shapes = (raster.rows + 1, raster.columns), (raster.rows, raster.columns + 1)
    inked, wide = ([np.zeros(shape) for shape in shapes] for _ in ("ink", "width"))
    for (upright, line, place), borders in on_edges.items():
        at = (place, line) if upright else (line, place)
        inked[upright][at] = sum(end - start for start, end, *_ in borders)
        wide[upright][at] = max(border[1] for border in borders) - min(border[0] for border in borders)
    inner = np.concatenate([inked[0][1:-1].ravel(), inked[1][:, 1:-1].ravel()])
    told = inner.max() >= TOLD * np.median(inner)
    return (inked[0], inked[1]) if told else (wide[0], wide[1])
