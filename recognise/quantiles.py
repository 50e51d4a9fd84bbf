"""Percentiles and medians of a few hundred values, thousands of times a page: the very figures that numpy gives, in a
tenth of the time, since nothing is asked but one figure of all values."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt


def percentile(values: npt.NDArray[Any], percent: float) -> np.floating[Any]:
    """What `np.percentile(values, percent)` gives, linear between two values; there is one value at least, and none is
    nan."""
    place = (values.size - 1) * (percent / 100)
    low = int(place)
    high = min(low + 1, values.size - 1)
    ordered = np.partition(values, (low, high), axis=None)
    below, above, part = ordered[low], ordered[high], place - low
    between: np.floating[Any] = above - (above - below) * (1 - part) if part >= 0.5 else below + (above - below) * part
    return between


def median(values: npt.NDArray[Any]) -> float:
    """What `np.median(values)` gives, under the same conditions."""
    middle = values.size // 2
    if values.size % 2:
        return float(np.partition(values, middle, axis=None)[middle])
    ordered = np.partition(values, (middle - 1, middle), axis=None)
    return float(ordered[middle - 1 : middle + 1].mean())
