"""Which letters stand next to each other in a line, by their boxes."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Numbers = npt.NDArray[np.float64]

REACH = 1.1
"""How far to the right a letter looks for the next, in its own height: over a blank, not over a gutter."""
LEVEL = 0.5
"""Part of the lower piece's height that two pieces of one line have in common, at least."""


def next_to_each_other(letters: Numbers) -> list[npt.NDArray[np.int64]]:
    """Which letters (boxes x, y, width, height; n x 4) make up a line when each goes on with the nearest one within its
    reach to the right that shares `LEVEL` of the lower one's height with it: indices, line by line."""
    left, top, width, height = letters.T
    right, bottom = left + width, top + height
    owner = np.arange(len(letters))
    for at in np.argsort(left):
        shared = np.minimum(bottom, bottom[at]) - np.maximum(top, top[at])
        level = shared > LEVEL * np.minimum(height, height[at])
        within = level & (left > left[at]) & (left < right[at] + REACH * height[at])
        if within.any():
            after = np.flatnonzero(within)[np.argmin(left[within])]
            owner[owner == owner[after]] = owner[at]
    return [np.flatnonzero(owner == one) for one in np.unique(owner)]
