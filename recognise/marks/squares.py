"""Squares drawn in cells told from cages of one cell: both have four sides."""

from __future__ import annotations

import numpy as np

from recognise.marks.network import BY_NAME, Chances, Probabilities

LIKELY = 0.5
"""From here on a square, a small number or a wall is likelier than not."""
OPEN = 0.02
"""A side less likely to have a wall is open: a cage goes on there. A square raises all four."""
SURE, DOUBTFUL = 0.95, 0.9
"""From where on a square is nearly sure, and up to where a wall beside it is the square's own side."""
SELDOM = 0.01
"""How much rarer a cage of one cell without a number is than a square, where rules speak of squares in cells."""
FACING = (((-1, 0), 2), ((0, -1), 3), ((1, 0), 0), ((0, 1), 1))
"""For each side of a cell, in the order of the network, the way to the neighbour there (rows, columns) and which of the
neighbour's sides it is."""


def walls_beside_squares(chances: Chances) -> Probabilities:
    """The chances of walls, where the rules speak of squares in cells: of a cell with a square and no small number that
    is open to no other cell of a cage they are the square's own sides, and of any with a sure square those in doubt."""
    found = chances.heads["side"].copy()
    sides = chances.heads["side"][0]
    node = BY_NAME["node"].classes.index
    square, small = (chances.heads["node"][0, node(name)] for name in ("SQUARE", "SMALL"))
    walled = sides > LIKELY
    for cell in chances.cells():
        row, column = cell.row, cell.column
        alone = square[row, column] > LIKELY > small[row, column] and sides[:, row, column].min() > OPEN
        if alone and not _goes_on(walled, row, column):
            found[0, :, row, column] *= SELDOM
        elif square[row, column] > SURE:
            found[0, :, row, column] *= np.where(sides[:, row, column] < DOUBTFUL, SELDOM, 1.0)
    return found


def _goes_on(walled: Probabilities, row: int, column: int) -> bool:
    """Whether a neighbour has walls, and none towards this cell. `walled` says of each side (4, rows + 2, columns + 2)
    whether it has one."""
    beside = ((walled[:, row + down, column + right], facing) for (down, right), facing in FACING)
    return any(bool(walls.any() and not walls[facing]) for walls, facing in beside)
