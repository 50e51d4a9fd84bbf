"""Doubtful marks held against the sure ones of their page: circles, dots and the like are drawn alike on one page.

How much a mark looks like one of the same page is other evidence than what the network makes of its shape: blur, light
and the press did to both what they did (as `recognise.pixels.same_fount` does for characters). What is no such mark, a
stain, a digit or a rest of a line, is no copy of one. Lattice lines are of several widths: marks on them are compared
without what the wider of two covers as well."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from ingest.page import Point
from recognise.geometry import box_at
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
BESIDE_LINE = 0.8
"""Correlation from which on it tells without the lattice line: on two scanned pages marks of one look reach 0.82 and
more there, 0.95 and more mostly, bare lines 0.62 at most."""
ENDS, ACROSS, RUNS = (0.32, 0.45), 0.2, 0.3
"""In cells: from the middle of an edge along it, where its line shows alone, and so far to both sides; the part of its
darkest ink that a line has at least."""
LEFT = 0.4
"""Part of a window that must be left to compare."""


@dataclass(frozen=True, slots=True)
class _Pattern:
    """A sure mark: the grey of its window, and how far the line under it reaches to both sides, in pixels."""

    ink: Grey
    line: float


def in_the_same_look(places: Sequence[Point], told: Sequence[float], half: float, looking: Looking) -> list[float]:
    """The chance of each mark of one class, of which `told` is what is said so far: the doubtful ones as far as they
    look like the sure ones. `half` is half the side, in cells, of the window that holds a mark."""
    sure = [place for place, chance in zip(places, told, strict=True) if chance >= SURE]
    if len(sure) < ENOUGH or min(told) >= DOUBTFUL:
        return list(told)
    grey = looking.grey
    patterns = {
        place: _Pattern(_window(grey, place, half, looking), line_under(place, grey, looking)) for place in sure
    }
    found = []
    for place, chance in zip(places, told, strict=True):
        others = [pattern for other, pattern in patterns.items() if other != place]
        if chance < DOUBTFUL and len(others) >= ENOUGH:
            found.append(1 - (1 - chance) * _left(place, others, half, grey, looking))
        else:
            found.append(chance)
    return found


def _left(place: Point, patterns: Sequence[_Pattern], half: float, grey: Grey, looking: Looking) -> float:
    """The part of a mark's doubt that its likeness leaves, with the line under it or without."""
    around = _window(grey, place, half + SHIFT, looking)
    line = line_under(place, grey, looking)
    fitting = [
        pattern
        for pattern in patterns
        if all(own <= room for own, room in zip(pattern.ink.shape, around.shape, strict=True))
        and pattern.ink.std() > looking.floor
    ]
    left = _unlike([_fit(around, pattern.ink) for pattern in fitting], ALIKE)
    if not line:
        return left
    upright = _is_upright(place)
    masks = [_beside(pattern.ink, max(line, pattern.line), upright) for pattern in fitting]
    pairs = [pair for pair in zip(fitting, masks, strict=True) if pair[1].mean() >= LEFT]
    return min(left, _unlike([_fit(around, pattern.ink, mask) for pattern, mask in pairs], BESIDE_LINE))


def _unlike(fits: Sequence[float], alike: float) -> float:
    """What correlations leave of a doubt, that tell from `alike` on. Of the patterns the second best tells: that one of
    many fits may be chance."""
    fit = sorted(fits)[-ENOUGH] if len(fits) >= ENOUGH else 0.0
    return float(((1 - min(max(fit, alike), MOST)) / (1 - alike)) ** POWER)


def _window(grey: Grey, place: Point, half: float, looking: Looking) -> Grey:
    return np.ascontiguousarray(grey[looking.raster.slices(box_at(place, half))])


def _fit(around: Grey, pattern: Grey, mask: Grey | None = None) -> float:
    """The largest correlation of a pattern, or of what a mask leaves of it, with what is around a place."""
    fit = cv2.matchTemplate(around, pattern, cv2.TM_CCOEFF_NORMED, mask=np.ones_like(pattern) if mask is None else mask)
    return float(np.nan_to_num(fit, posinf=0.0, neginf=0.0).max())


def _beside(pattern: Grey, line: float, upright: bool) -> Grey:
    """The mask of a pattern, 0 or 1, without so many pixels to both sides of its middle line."""
    size = pattern.shape[1 if upright else 0]
    free = (np.abs(np.arange(size) - (size - 1) / 2) > line).astype(np.float32)
    return np.ascontiguousarray(np.broadcast_to(free if upright else free[:, None], pattern.shape))


def _is_upright(place: Point) -> bool:
    """Whether the lattice line under the middle of an edge runs up and down."""
    return place[0].is_integer()


def line_under(place: Point, grey: Grey, looking: Looking) -> float:
    """How far the lattice line under a mark reaches to both sides of it, in pixels with its blur; 0 where there is
    none."""
    if sum(float(at).is_integer() for at in place) != 1:
        return 0.0
    x, y = place
    profiles = []
    for side in (-1, 1):
        near, far = sorted(side * end for end in ENDS)
        box = (
            (x - ACROSS, y + near, x + ACROSS, y + far)
            if _is_upright(place)
            else (x + near, y - ACROSS, x + far, y + ACROSS)
        )
        profiles.append(1 - grey[looking.raster.slices(box)].mean(axis=0 if _is_upright(place) else 1))
    profile = np.minimum(*profiles) if len(profiles[0]) == len(profiles[1]) else profiles[0]
    profile = profile - np.median(profile)
    dark = np.flatnonzero(profile > max(RUNS * float(profile.max(initial=0.0)), looking.floor))
    middle = (len(profile) - 1) / 2
    return float(np.abs(dark - middle).max()) + 1 if dark.size else 0.0
