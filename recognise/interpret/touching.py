"""Two areas of one tint that touch, with a line between them that closes nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from recognise.evidence import Edges
from recognise.grouping import areas
from schema.cells import Cell

PARTED = "it touches another area of its tint, and where the two are parted was hard to tell"
DARKER = 1.5
"""So many times as much ink as the lines within an area has the line that parts it."""

LARGEST = 9
"""So many cells at most has a half that is looked for: larger areas can be parted in too many ways to try."""

Area = tuple[Cell, ...]
InkOf = Callable[[Cell, Cell], float]


def ink_between(edges: Edges) -> InkOf:
    """How much ink the lattice line between two cells has, as its thickness in cells by its darkness."""

    def ink(one: Cell, other: Cell) -> float:
        first, second = sorted((one, other))
        across = first.row != second.row
        at = (first.row, first.column - 1) if across else (first.row - 1, first.column)
        thick = edges.horizontal if across else edges.vertical
        dark = edges.horizontal_darkness if across else edges.vertical_darkness
        return float(thick[at] * dark[at])

    return ink


def in_two(area: Area, most: int, ink: InkOf, boxes: tuple[Area, ...] = ()) -> list[Area]:
    """The two halves of an area of twice as many cells as there are digits (`most`), for in one no digit can stand only
    once: parted where the lattice has most ink, the lines of `boxes` aside, or as it is where it has another size or
    no such line."""
    if len(area) != 2 * most or most > LARGEST:
        return [area]
    box_of = {cell: number for number, box in enumerate(boxes) for cell in box}
    lines = {
        frozenset((one, other)): ink(one, other)
        for one in area
        for other in area
        if one < other and one.beside(other) and box_of.get(one) == box_of.get(other)
    }
    if not lines:
        return [area]
    ways = []
    for half in _halves(area):
        rest = tuple(cell for cell in area if cell not in half)
        cut = [shown for pair, shown in lines.items() if len(pair.intersection(half)) == 1]
        if cut and len(areas(rest)) == 1:
            ways.append((min(cut), half, rest))
    least, half, rest = max(ways, default=(0.0, area, area))
    return [half, rest] if least > DARKER * float(np.median(list(lines.values()))) else [area]


def _halves(area: Area) -> Iterator[Area]:
    """Every connected half of an area that has its first cell, once each."""
    beside = {cell: [other for other in area if cell.beside(other)] for cell in area}

    def grown(half: frozenset[Cell], left_out: frozenset[Cell]) -> Iterator[Area]:
        if 2 * len(half) == len(area):
            yield tuple(sorted(half))
            return
        for cell in sorted({other for one in half for other in beside[one]} - half - left_out):
            yield from grown(half | {cell}, left_out)
            left_out |= {cell}

    yield from grown(frozenset(area[:1]), frozenset())
