"""Which cells are not forced: those whose digit differs between some two of all the solutions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from checker.items import Items
from checker.search import Clock, Solution, find
from schema.cells import Cell


@dataclass(frozen=True, slots=True)
class Unforced:
    """The cells found not to be forced; `complete` when every other cell is proved to be."""

    cells: tuple[Cell, ...]
    complete: bool


def unforced(items: Items, two: Sequence[Solution], clock: Clock) -> Unforced:
    """The cells in which the solutions of `items` differ, over all of them.

    The cells in which every solution found so far agrees are candidates for being forced. The solver is asked for a
    solution that differs in one of them, until there is none: each answer takes at least one candidate away, so that
    there are at most as many runs as cells. `two` are different solutions to begin with. Raises CheckerFault.
    """
    board = items.board()
    first, second = two
    agreed = {cell: digit for cell, digit in first.items() if second[cell] == digit and cell not in items.givens}
    complete = True
    while agreed:
        board.exclude(agreed)
        found = find(items, board, clock)
        if not isinstance(found, dict):
            complete = found == "none"
            break
        agreed = {cell: digit for cell, digit in agreed.items() if found[cell] == digit}
    cells = (c for c in items.grid.cells() if c not in agreed and c not in items.givens)
    return Unforced(tuple(cells), complete)
