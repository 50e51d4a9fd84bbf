"""Crests of a profile: which of its highest places stand out from what lies between them.

The same as `scipy.signal.find_peaks` of a height, a distance and a prominence, for one caller with short profiles:
loading that module takes longer than the network of lines does for a page."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

Profile = npt.NDArray[np.float64]
Places = npt.NDArray[np.intp]


def crests(profile: npt.NDArray[np.floating], height: float, distance: float, prominence: float) -> Places:
    """Places of a profile that are higher than both sides (of level ones the middle), at least so high, so far from
    each higher one, and so much over the lower of the lowest places between them and what is higher on either side."""
    values = np.asarray(profile, np.float64)
    found = _level_tops(values)
    found = found[values[found] >= height]
    found = found[_apart(found, values[found], math.ceil(distance))]
    return found[[_stands_out(values, at) >= prominence for at in found.tolist()]]


def _level_tops(values: Profile) -> Places:
    """The middle of each stretch of equal values with lower ones on both sides."""
    starts = np.flatnonzero(np.diff(values, prepend=np.nan) != 0)
    ends = np.append(starts[1:], len(values)) - 1
    levels = values[starts]
    inner = slice(1, -1)
    top = (levels[inner] > levels[:-2]) & (levels[inner] > levels[2:])
    return np.asarray((starts[inner] + ends[inner])[top] // 2, np.intp)


def _apart(found: Places, heights: Profile, distance: int) -> npt.NDArray[np.bool_]:
    """Which are kept when from the highest down each removes those nearer than `distance`."""
    kept = np.ones(len(found), np.bool_)
    for which in np.argsort(heights)[::-1].tolist():
        if kept[which]:
            near = np.abs(found - found[which]) < distance
            near[which] = False
            kept[near] = False
    return kept


def _stands_out(values: Profile, at: int) -> float:
    """How far one goes down from a place, on the side where that is less, before it goes up higher."""
    top = values[at]
    sides = (values[at::-1], values[at:])
    lowest = []
    for side in sides:
        higher = np.flatnonzero(side > top)
        lowest.append(float(side[: higher[0] if higher.size else len(side)].min()))
    return float(top - max(lowest))
