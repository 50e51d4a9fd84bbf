"""Straight lines of one direction, and how much of their way they cover together."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from recognise.vectors.place import Floats


@dataclass(frozen=True, slots=True)
class Lines:
    """Straight lines of one direction: position across, and from where to where along; n each."""

    at: Floats
    start: Floats
    end: Floats

    @property
    def reach(self) -> tuple[float, float]:
        """From where to where all of them together run."""
        return float(self.start.min()), float(self.end.max())


def union(starts: Floats, ends: Floats) -> float:
    """The length that intervals cover together."""
    total, reach = 0.0, -np.inf
    for index in np.argsort(starts):
        total += max(0.0, ends[index] - max(starts[index], reach))
        reach = max(reach, ends[index])
    return float(total)


def gaps(starts: Floats, ends: Floats, first: float, last: float) -> list[float]:
    """The lengths of the gaps that intervals leave between two places."""
    found, reach = [], first
    for index in np.argsort(starts):
        if starts[index] > reach:
            found.append(float(min(starts[index], last)) - reach)
        reach = max(reach, float(ends[index]))
        if reach >= last:
            return found
    return [*found, last - reach]
