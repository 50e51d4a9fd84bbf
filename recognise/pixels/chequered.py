"""Boxes told apart by their ground: every other one is tinted, as newspapers do.

Such tints are pale, and cell by cell a fold, a stain or the other side's print hides them or looks like more of them.
All borders of all those boxes together cannot be mistaken: the ground changes at every one of them, and always in the
same sense.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Set

from recognise.pixels.borders import Borders
from recognise.pixels.ground import PALE
from schema.cells import Cell

SHOWN = 0.85
"""Share of the stretches of the boxes' borders at which the ground changes; folds, print and the plates of numbers
cover the rest."""
RATHER = 0.5
"""Share of those boxes' cells that must look tinted before their borders are looked at."""


def chequered(borders: Borders, size: tuple[int, int], tinted: Set[Cell]) -> frozenset[Cell] | None:
    """The cells of every other box of a grid of `size` (rows, columns), where their ground shows them; None elsewhere.
    `tinted` are cells that look tinted one by one."""
    rows, columns = size
    high = next(n for n in range(math.isqrt(rows), 0, -1) if rows % n == 0)
    if rows != columns or high == 1:
        return None
    for board in _boards(rows, high):
        if len(board.intersection(tinted)) >= RATHER * len(board):
            border = borders.around(board, frame=False)
            if border is not None and border.is_tint and border.seen >= SHOWN:
                return frozenset(cell for cell in board if not _lighter(borders, cell, board))
            if border is not None and border.level < 0 and board == tinted:
                return board
    return None


def _boards(side: int, lesser: int) -> Iterator[frozenset[Cell]]:
    """Every other box of a square grid, whose boxes have `lesser` cells along one side: lying and standing ones."""
    for high in sorted({lesser, side // lesser}):
        for first in (0, 1):
            yield frozenset(
                Cell(row + 1, column + 1)
                for row in range(side)
                for column in range(side)
                if (row // high + column // (side // high)) % 2 == first
            )


def _lighter(borders: Borders, cell: Cell, board: Collection[Cell]) -> bool:
    """Whether a cell of a tinted box was left white."""
    border = borders.around([cell], frame=False, among=board)
    return border is not None and border.level > PALE and min(border.step) > PALE
