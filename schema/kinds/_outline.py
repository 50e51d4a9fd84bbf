"""Borders between groups of cells, and the outline of one group."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Point


def borders(grid: Grid, groups: Sequence[Iterable[Cell]]) -> Iterator[tuple[Point, Point]]:
    """The lattice edges inside the grid between two cells that are not in the same group, joined where they run on."""
    group_of = {cell: number for number, group in enumerate(groups) for cell in group}

    def parted(one: Cell, other: Cell) -> bool:
        return group_of.get(one) != group_of.get(other)

    for r in range(1, grid.rows):
        for start, end in _runs([parted(Cell(r, c), Cell(r + 1, c)) for c in range(1, grid.columns + 1)]):
            yield (start, r), (end, r)
    for c in range(1, grid.columns):
        for start, end in _runs([parted(Cell(r, c), Cell(r, c + 1)) for r in range(1, grid.rows + 1)]):
            yield (c, start), (c, end)


def _runs(flags: Sequence[bool]) -> Iterator[tuple[int, int]]:
    """Where stretches of True start and end."""
    start = None
    for index, flag in enumerate([*flags, False]):
        if flag and start is None:
            start = index
        elif not flag and start is not None:
            yield start, index
            start = None
