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


def inset_outline(cells: Iterable[Cell], inset: float) -> Iterator[list[Point]]:
    """The outline of a group of cells as closed loops, moved inwards by `inset`; one loop for each part and hole.

    Each lattice edge between a cell of the group and another is walked with the group on its right; where two cells
    of the group touch by a corner alone the loop turns right, so that each keeps its own outline."""
    group = set(cells)
    edges = _edges(group)
    while edges:
        start = next(iter(edges))
        corner, heading = start
        loop: list[Point] = []
        while (corner, heading) in edges:
            edges.remove((corner, heading))
            corner = (corner[0] + heading[0], corner[1] + heading[1])
            turned = next(turn for turn in _turns(heading) if (corner, turn) in edges or (corner, turn) == start)
            if turned != heading:
                right = (-heading[1], heading[0]), (-turned[1], turned[0])
                loop.append(
                    (corner[0] + inset * (right[0][0] + right[1][0]), corner[1] + inset * (right[0][1] + right[1][1]))
                )
            heading = turned
        yield loop


Step = tuple[int, int]


def _edges(group: set[Cell]) -> set[tuple[Step, Step]]:
    """Every border edge as (corner, heading), heading with the group on its right."""
    edges = set()
    for cell in group:
        left, top = cell.column - 1, cell.row - 1
        for beyond, corner, heading in (
            (cell.stepped(-1, 0), (left, top), (1, 0)),
            (cell.stepped(0, 1), (left + 1, top), (0, 1)),
            (cell.stepped(1, 0), (left + 1, top + 1), (-1, 0)),
            (cell.stepped(0, -1), (left, top + 1), (0, -1)),
        ):
            if beyond not in group:
                edges.add((corner, heading))
    return edges


def _turns(heading: Step) -> Iterator[Step]:
    """Right, straight on, left: y runs downwards, so right of (dx, dy) is (-dy, dx)."""
    dx, dy = heading
    return iter(((-dy, dx), (dx, dy), (dy, -dx)))
