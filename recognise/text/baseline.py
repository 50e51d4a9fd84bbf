"""The base on which letters stand: how the lines of a block fall and bend, from the feet of their letters."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from recognise.quantiles import median

Numbers = npt.NDArray[np.float64]
Bend = tuple[float, float]
"""(square, straight): a line lies `square * x * x + straight * x` lower at x than at 0, up to a constant of its own."""

_SLOPE_LETTERS, _BEND_LETTERS = 12, 18
"""Letters that tell how lines fall, and how they bend."""
_OFF = 0.2
"""How far from its line's base a letter may stand, in its height, to stand on it; those with a tail stand lower."""
_BETTER = 0.02
"""Part of the letters that a bend has to bring to the base, to be believed."""
_ROUNDS = 3
"""Fits, each without the letters that the one before it left off the base."""


def bend_of(lines: Sequence[Numbers], height: float) -> tuple[Bend, float]:
    """How the lines bend together, and the share of their letters that stand on the base then. A line is an array of
    the feet of its letters (x, y); the simplest bend that does is taken."""
    letters = sum(len(feet) for feet in lines)
    highest = 2 if letters >= _BEND_LETTERS else 1 if letters >= _SLOPE_LETTERS else 0
    tried = [_fitted(lines, height, degree) for degree in range(highest + 1)]
    best = max(level for _, level in tried)
    return next(found for found in tried if found[1] >= best - _BETTER)


def _fitted(lines: Sequence[Numbers], height: float, degree: int) -> tuple[Bend, float]:
    """The bend of one degree for all lines, with a height of its own for each, letters off the base left out."""
    middle = float(np.mean(np.concatenate([feet[:, 0] for feet in lines])))
    powers = [np.stack([(feet[:, 0] - middle) ** 2, feet[:, 0] - middle], axis=1)[:, 2 - degree :] for feet in lines]
    on_base = [np.ones(len(feet), dtype=bool) for feet in lines]
    fall = np.zeros(degree)
    for _ in range(_ROUNDS):
        if degree:
            across = np.concatenate([p[on] - p[on].mean(axis=0) for p, on in zip(powers, on_base, strict=True)])
            down = np.concatenate([f[on, 1] - f[on, 1].mean() for f, on in zip(lines, on_base, strict=True)])
            fall = np.linalg.lstsq(across, down, rcond=None)[0]
        rest = [feet[:, 1] - p @ fall for feet, p in zip(lines, powers, strict=True)]
        on_base = [np.abs(left - median(left[on])) < _OFF * height for left, on in zip(rest, on_base, strict=True)]
        on_base = [on if on.any() else np.ones(len(on), dtype=bool) for on in on_base]
    level = float(np.concatenate(on_base).mean())
    square, straight = (float(value) for value in (*np.zeros(2 - degree), *fall))
    return (square, straight - 2 * square * middle), level
