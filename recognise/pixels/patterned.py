"""Cells whose ground is printed as a pattern, of dots or strokes, instead of a flat tint.

A mark, a character or a line leaves parts of its cell bare; a pattern fills all of it. Whether one stands in a cell is
asked only where the rules speak of tinted cells and nobody has seen any: noise and print of the other side fill cells
too.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from recognise.pixels.frame import Grey, Raster
from schema.cells import Cell

PARTS = 3
"""A cell is looked at in so many parts each way: the widest patterns have so many dots or strokes across a cell."""
INSIDE = 0.1
"""In cells: what stands nearer to a lattice line may be a mark on that."""
CLEAR, LEAST = 1.5, 0.1
"""Ink of so many times what noise reaches, and no less than that, is a pattern's."""
SHARE = 0.01
"""Part of the area that has ink where a small dot stands in it."""
FEWEST = 2
"""So many cells have a pattern, where any has: a smudge may fill one."""


def patterned(level: Grey, floor: float, raster: Raster) -> frozenset[Cell]:
    """The cells of which every part has ink; none where they are too few. `level` is ink without lattice lines."""
    inked = level[raster.grid_slices()] > max(CLEAR * floor, LEAST)
    cells = inked.reshape(raster.rows, raster.cell, raster.columns, raster.cell).swapaxes(1, 2)
    cuts = np.round(np.linspace(INSIDE, 1 - INSIDE, PARTS + 1) * raster.cell).astype(int)
    parts = [
        cells[:, :, top:bottom, left:right].mean(axis=(2, 3)) > SHARE
        for top, bottom in pairwise(cuts)
        for left, right in pairwise(cuts)
    ]
    full = np.logical_and.reduce(parts)
    found = frozenset(Cell(int(row) + 1, int(column) + 1) for row, column in np.argwhere(full))
    return found if len(found) >= FEWEST else frozenset()
