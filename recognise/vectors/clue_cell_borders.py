"""Borders of cells beside a grid, each side by itself, as tables have them whose cells differ: a line along the outer
side of each cell with a clue, and lines from there to the grid. They say no more than where the clues stand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import get_args

from ingest.page import Box
from recognise.evidence import Shape
from recognise.geometry import seen_from
from schema.grid import Side

OFF = 0.05
"""In cells: how far the end or the middle of such a border may lie off its place."""
THIN = 0.1
"""In cells: the thickest border."""
DEEP = 0.3, 2.0
"""In cells: how far the outer side of such cells lies from the grid: they hold a number, or two of them."""
LEAST = 2
"""So many cells at least; a single frame is a mark."""


@dataclass(frozen=True, slots=True)
class _Bar:
    """A thin bar as seen from one side of the grid: from where to where it reaches along that side, and how far away
    from the grid it begins and ends, in cells."""

    shape: Shape
    along: tuple[float, float]
    away: tuple[float, float]


def clue_cell_borders(shapes: Iterable[Shape], rows: int, columns: int) -> list[Shape]:
    """The bars that are borders of cells beside a grid of so many rows and columns: of each such cell the outer side
    and both sides between that and the grid must be drawn."""
    bars = [shape for shape in shapes if shape.name == "bar" and _is_thin(shape.box)]
    cells = [cell for seen in _seen_from_sides(bars, rows, columns) for cell in _cells(seen)]
    if len(cells) < LEAST:
        return []
    return list({id(shape): shape for cell in cells for shape in cell}.values())


def _is_thin(box: Box) -> bool:
    return min(box[2] - box[0], box[3] - box[1]) <= THIN


def _seen_from_sides(bars: Sequence[Shape], rows: int, columns: int) -> Iterator[list[_Bar]]:
    """The bars beside each of the four sides of the grid."""
    for side in get_args(Side):
        seen = (_Bar(shape, *seen_from(side, shape.box, rows, columns)) for shape in bars)
        yield [bar for bar in seen if bar.away[0] >= -OFF]


def _cells(bars: Sequence[_Bar]) -> Iterator[list[Shape]]:
    """The bars round each cell, or round several in one row that have one outer side."""
    for outer in bars:
        start, end = (round(place) for place in outer.along)
        fits = max(abs(outer.along[0] - start), abs(outer.along[1] - end)) <= OFF and start < end
        if fits and DEEP[0] <= outer.away[1] <= DEEP[1]:
            sides = [[bar for bar in bars if _leads_to(bar, outer, place)] for place in range(start, end + 1)]
            if sides[0] and sides[-1]:
                yield [outer.shape, *(bar.shape for its in sides for bar in its)]


def _leads_to(bar: _Bar, outer: _Bar, place: int) -> bool:
    """Whether a bar leads from the grid to an outer side, along the lattice line that ends in such a place."""
    low, high = bar.along
    on_line = abs((low + high) / 2 - place) <= OFF and high - low <= THIN
    return on_line and abs(bar.away[0]) <= OFF and abs(bar.away[1] - outer.away[1]) <= OFF
