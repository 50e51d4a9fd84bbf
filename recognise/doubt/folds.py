"""Folds of the paper: lines of ink that run across the whole grid and on beside it, as no mark of a puzzle does."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.evidence import Flat
from recognise.pixels.frame import Grey

THIN, LONG = 0.36, 2.0
"""In cells: how wide a fold that leans is at most; and how many times as long as wide a piece of it is at least."""
OFF = 0.25
"""In cells: how far off the middle of a piece the fold may lie elsewhere: paper does not fold quite along a line of the
grid."""
STRAIGHT = 0.06
"""In cells: how far off a straight line a fold runs in the middle."""
SIDE = 0.2
"""In cells, from the middle of a fold: where the paper on both its sides is looked at."""
AWAY, FAR = 0.2, 1.2
"""In cells: how far beside the grid the fold is looked for: not in the frame, and no farther than it must go."""
MOST = 0.75
"""Part of the way there on which the paper is darker than on both its sides: letters leave gaps."""
DARKER = 2.0
"""Grey levels by which it is."""
LEAST = 8
"""Places along a fold that tell how it leans."""
ACROSS = 0.5
"""Part of the way across the grid on which it is; there marks and digits hide it."""


def without_folds(boxes: Sequence[Box], flat: Flat) -> tuple[Box, ...]:
    """Boxes of ink, in cells, without those that are a piece of a fold."""
    if not any(_is_piece(box, axis) for box in boxes for axis in (0, 1)):
        return tuple(boxes)
    grey = flat.image.mean(axis=-1).astype(np.float32)
    views = grey, np.ascontiguousarray(grey.T)
    return tuple(
        box
        for box in boxes
        if not any(_is_piece(box, axis) and _goes_on(box, axis, views[axis], flat) for axis in (0, 1))
    )


def _is_piece(box: Box, axis: int) -> bool:
    """Whether a box is long and thin, along the rows (axis 0) or the columns (1)."""
    long, thin = box[axis + 2] - box[axis], box[3 - axis] - box[1 - axis]
    return thin <= THIN and long >= LONG * thin


def _goes_on(box: Box, axis: int, grey: Grey, flat: Flat) -> bool:
    """Whether the paper is darker along the line of a piece nearly all over the grid, and beside it on both sides.
    `grey` is the picture with that line across it."""
    cell, margin = flat.cell, flat.margin
    at = (box[1 - axis] + box[3 - axis]) / 2
    cells = flat.columns if axis == 0 else flat.rows
    far = min(FAR, margin)
    spans = ((-far, -AWAY), (0.0, float(cells)), (cells + AWAY, cells + far))
    reach = round(OFF * cell)
    darker = _darker(grey, round((at + margin) * cell), reach, round(SIDE * cell))
    for (start, end), least in zip(spans, (MOST, ACROSS, MOST), strict=True):
        part = darker[:, round((start + margin) * cell) : round((end + margin) * cell)]
        if not part.size or float(part.any(axis=0).mean()) < least or not _is_straight(part, STRAIGHT * cell):
            return False
    return True


def _is_straight(part: npt.NDArray[np.bool_], most: float) -> bool:
    """Whether what is darker lies along one straight line, which may lean."""
    columns = np.flatnonzero(part.any(axis=0))
    if len(columns) < LEAST:
        return False
    rows = np.array([np.flatnonzero(part[:, column]).mean() for column in columns])
    lean = float(np.median(np.diff(rows[:: len(columns) // LEAST]) / np.diff(columns[:: len(columns) // LEAST])))
    off = rows - lean * columns
    return float(np.median(np.abs(off - np.median(off)))) <= most


def _darker(grey: Grey, row: int, reach: int, side: int) -> npt.NDArray[np.bool_]:
    """Where near a row, (2 * reach + 1, width), the picture is darker than above and below."""
    soft = np.asarray(cv2.GaussianBlur(grey, (0, 0), max(1.0, side / 8)), np.float32)
    rows = np.clip(np.arange(row - reach, row + reach + 1), side, grey.shape[0] - side - 1)
    return np.asarray(np.minimum(soft[rows - side], soft[rows + side]) - soft[rows] > DARKER)
