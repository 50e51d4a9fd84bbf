"""Pieces of ink that lie along a diagonal, as little arrows beside the grid do and no character does."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from recognise.pixels.blobs import Blob, Pieces, mask_of
from recognise.pixels.frame import Mask

ASKEW = math.radians(14)
"""So far from a diagonal a piece may lie; the strokes of characters are upright, level, or round."""
SLIM = 2.5
"""So many times as long as it is wide, by the spread of its ink, it is at least: its head is wider than its shaft."""


def lean(blob: Blob, pieces: Pieces) -> int:
    """1 for a piece that falls to the right along a diagonal, -1 for one that rises, 0 for any other."""
    return lean_of(mask_of(blob, pieces))


def lean_of(ink: Mask, slim: float = SLIM) -> int:
    """The same of some ink, that is `slim` times as long as wide at least."""
    ys, xs = np.nonzero(ink)
    if len(xs) < 4:
        return 0
    spread = _spread(xs, ys)
    least, most = np.linalg.eigvalsh(spread)
    if most < slim**2 * max(float(least), 1e-6):
        return 0
    turn = math.atan2(2 * spread[0, 1], spread[0, 0] - spread[1, 1]) / 2
    return 0 if abs(abs(turn) - math.pi / 4) > ASKEW else 1 if turn > 0 else -1


def _spread(*places: npt.NDArray[np.int64]) -> npt.NDArray[np.float64]:
    """What `np.cov` gives, without all else that it can be asked: all that is printed beside a grid is looked at."""
    off = np.array(places, np.float64)
    off -= off.mean(axis=1)[:, None]
    return np.asarray(np.dot(off, off.T) * (1 / (off.shape[1] - 1)), np.float64)
