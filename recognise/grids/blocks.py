"""A grid of which the picture shows its thick lines only: black and white scans and faded print lose hairlines."""

from __future__ import annotations

import cv2
import numpy as np

from recognise.grids.hairlines import shows_hairlines
from recognise.grids.ink import Grey, ink, odd
from recognise.grids.mesh import refine
from recognise.grids.warp import Points, Pyramid, mesh_maps

BLOCKS = 3
"""Blocks along a side, and cells along the side of a block: the one layout that is so common that its cells follow."""
CELL = 24
"""Pixels a cell."""
STROKE = 0.4
"""In cells: no stroke of a digit is thicker."""
INKED = 0.25
"""Contrast of a digit's ink."""
TALL = (0.3, 0.85)
"""In cells: how tall a digit is."""
WIDE = 0.8
CENTRED = 0.2
"""In cells: digits stand this near to the middle of their cell."""
BETWEEN = 0.37
"""In cells from the middle: what is so far off stands on a line: marks between cells, parts of the line."""
THINNEST = 0.1
"""In cells: no digit is so narrow."""
LEAST, LEAST_ALL = 8, 6
"""Digits that tell where the cells are, so many where none of them is off the middle, ..."""
PLACES = 4
"""... standing in so many of the nine places of a block: nine large numbers in nine squares are no such grid."""
MOSTLY = 0.9
"""The share of digits that must be centred: by chance it is that of CENTRED in BETWEEN, squared, 0.3."""


def cells_of_blocks(pyramid: Pyramid, points: Points) -> Points | None:
    """The lattice (10, 10, 2) of the cells in 3 x 3 blocks with lattice `points` (4, 4, 2), in page pixels; None where
    what is printed in them does not stand in the middles of such cells, and no hairlines part these."""
    divided = _divided(points)
    if shows_hairlines(pyramid, divided, BLOCKS):
        return divided  # at single places such lines are not seen, and what is seen near them is another
    fine = refine(pyramid, divided)
    x, y = mesh_maps(fine, CELL, 0)
    step = float(np.linalg.norm(fine[0, -1] - fine[0, 0])) / (fine.shape[1] - 1)
    return fine if _stand_in_cells(pyramid.sample(x, y, step / CELL)) else None


def _divided(points: Points) -> Points:
    """The blocks' lattice with two lines more in each block: cubics through its points, as pages curl."""
    from scipy.interpolate import RectBivariateSpline  # noqa: PLC0415 - few grids need it, and it loads half of SciPy

    coarse, fine = np.arange(BLOCKS + 1), np.linspace(0, BLOCKS, BLOCKS * BLOCKS + 1)
    return np.stack([RectBivariateSpline(coarse, coarse, points[..., axis])(fine, fine) for axis in (0, 1)], axis=-1)


def _stand_in_cells(flat: Grey) -> bool:
    """Whether there are digits in a flattened grid, and they stand in the middles of its cells."""
    mask = (ink(flat, odd(STROKE * CELL)) > INKED).astype(np.uint8)
    _, _, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8)
    boxes = stats[1:, :4] / CELL
    sized = (boxes[:, 3] >= TALL[0]) & (boxes[:, 3] <= TALL[1]) & (boxes[:, 2] <= WIDE)
    sized &= boxes[:, 2] >= THINNEST
    middles = boxes[sized, :2] + boxes[sized, 2:] / 2
    off = np.abs(middles - np.floor(middles) - 0.5).max(axis=1, initial=0)
    middles, off = middles[off < BETWEEN], off[off < BETWEEN]
    centred = off <= CENTRED
    if len(middles) < (LEAST_ALL if centred.all() else LEAST):
        return False
    cells = np.floor(middles)
    places = {(int(column) % BLOCKS, int(row) % BLOCKS) for column, row in cells[centred]}
    return bool(centred.mean() >= MOSTLY and len(places) >= PLACES)
