"""Doubtful marks held against the sure ones of their page: circles, dots and the like are drawn alike on one page.

How much a mark looks like one of the same page is other evidence than what the network makes of its shape: blur, light
and the press did to both what they did (as `recognise.pixels.same_fount` does for characters). What is no such mark, a
stain, a digit or a rest of a line, is no copy of one."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np

from ingest.page import Point
from recognise.marks.looking import Looking
from recognise.pixels.frame import Grey

SURE = 0.98
"""From here on a mark is a pattern for others."""
DOUBTFUL = 0.999
"""Up to here it is held against them."""
ENOUGH = 2
"""Patterns: one alone may be wrong, and what is wrong with it be so with its likes."""
SHIFT = 0.06
"""In cells: how far off its place a mark may stand."""
ALIKE, POWER = 0.6, 2.0
"""Correlation from which on it tells, and how much: the doubt falls with this power of what a correlation leaves
unexplained."""
MOST = 0.98
"""Correlations that are as good as the very same."""


def in_the_same_look(places: Sequence[Point], told: Sequence[float], half: float, looking: Looking) -> list[float]:
    """The chance of each mark of one class, of which `told` is what is said so far: the doubtful ones as far as they
    look like the sure ones. `half` is half the side, in cells, of the window that holds a mark."""
    sure = [place for place, chance in zip(places, told, strict=True) if chance >= SURE]
    if len(sure) < ENOUGH or min(told) >= DOUBTFUL:
        return list(told)
    grey = np.asarray(looking.relative.mean(axis=-1), np.float32)
    patterns = {place: _window(grey, place, half, looking) for place in sure}
    found = []
    for place, chance in zip(places, told, strict=True):
        others = [pattern for other, pattern in patterns.items() if other != place]
        if chance < DOUBTFUL and len(others) >= ENOUGH:
            found.append(1 - (1 - chance) * _left(place, others, half, grey, looking))
        else:
            found.append(chance)
    return found


def _left(place: Point, patterns: Sequence[Grey], half: float, grey: Grey, looking: Looking) -> float:
    """The part of a mark's doubt that its likeness leaves. Of the patterns the second best tells: that one of many
    fits may be chance."""
    around = _window(grey, place, half + SHIFT, looking)
    fits = sorted(
        _fit(around, pattern)
        for pattern in patterns
        if pattern.shape[0] <= around.shape[0] and pattern.shape[1] <= around.shape[1] and pattern.std() > looking.floor
    )
    fit = fits[-ENOUGH] if len(fits) >= ENOUGH else 0.0
    return float(((1 - min(max(fit, ALIKE), MOST)) / (1 - ALIKE)) ** POWER)


def _window(grey: Grey, place: Point, half: float, looking: Looking) -> Grey:
    x, y = place
    return np.ascontiguousarray(grey[looking.raster.slices((x - half, y - half, x + half, y + half))])


def _fit(around: Grey, pattern: Grey) -> float:
    """The largest correlation of a pattern with what is around a place."""
    fit = cv2.matchTemplate(around, pattern, cv2.TM_CCOEFF_NORMED, mask=np.ones_like(pattern))
    return float(np.nan_to_num(fit, posinf=0.0, neginf=0.0).max())
