"""Where boxes with rounded corners meet: four of them leave a small star of paper on the corner of four cells, which is
no mark."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

import numpy as np

from recognise.marks.lines import DRAWN
from recognise.marks.looking import Looking
from recognise.marks.network import Chances
from schema.cells import Cell

LEAST = 2
"""So many stars at least tell that they are the page's way to draw boxes: one alone may be a mark."""
AROUND, BESIDE = (0.15, 0.25), 0.08
"""In cells: how far from the corner a mark still has ink and the roundings of boxes have none; the lattice lines take
up so much to both sides."""
BARE = 0.2
"""Ink (0 to 1) below which a part of that ring is paper: it has 0.13 at most beside stars, 0.6 and more in circles."""


def meetings(chances: Chances, looking: Looking) -> frozenset[Cell]:
    """The corners on which only boxes meet, each by the cell to its upper left: something of no kind stands on all
    corners of regular boxes that no circle hides, on no other corner, and reaches no farther than roundings do."""
    strange = {cell for cell in chances.corners() if chances.at("corner", cell.row, cell.column)["OTHER"] > DRAWN}
    circled = {cell for cell in chances.corners() if chances.at("corner", cell.row, cell.column)["CIRCLE"] > DRAWN}
    for own in _of_boxes(chances.rows, chances.columns):
        if len(strange) >= LEAST and strange <= own <= strange | circled:
            return frozenset(strange) if all(_is_small(cell, looking) for cell in strange) else frozenset()
    return frozenset()


def _of_boxes(rows: int, columns: int) -> Iterator[set[Cell]]:
    """The corners at which four boxes meet, for each size of regular boxes that hold as many cells as a row does."""
    for high in range(2, columns):
        wide, rest = divmod(columns, high)
        if rest == 0 and rows == columns:
            yield {Cell(r, c) for r, c in product(range(high, rows, high), range(wide, columns, wide))}


def _is_small(corner: Cell, looking: Looking) -> bool:
    """Whether one of the four quarters around a corner is bare outside of its roundings; others may hold walls or lines
    that run by."""
    raster = looking.raster
    reach = np.arange(-AROUND[1], AROUND[1], 1 / raster.cell)
    across, down = np.meshgrid(reach, reach)
    off = np.hypot(across, down)
    ring = (off >= AROUND[0]) & (off <= AROUND[1]) & (np.minimum(np.abs(across), np.abs(down)) >= BESIDE)
    x, y = (np.rint(raster.at(at) + reach * raster.cell).astype(int) for at in (corner.column, corner.row))
    ink = looking.whole[np.ix_(y, x)]
    return any(
        float(ink[ring & (np.sign(across) == one) & (np.sign(down) == other)].max()) < BARE
        for one, other in product((-1, 1), repeat=2)
    )
