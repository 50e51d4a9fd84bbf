"""Thick lattice lines with a line of paper along their middle: they show as two thin lines each, and are one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from recognise.vectors.inks import Ink

ON_LINE = 0.03
"""In cells: how far from a lattice line such a line lies at most."""
STEP = 0.25
"""In cells: it is looked so often along a line of paper whether a wider one lies under it."""


@dataclass(frozen=True, slots=True)
class _Way:
    """A straight stroke along a lattice line: from where to where, in cells, and how wide."""

    upright: bool
    line: int
    start: float
    end: float
    width: float


def without_cores(inks: Sequence[Ink], is_light: Callable[[Ink], bool]) -> list[Ink]:
    """The inks, in paint order, without strokes as light as paper along the middle of wider lattice lines."""
    under: dict[tuple[bool, int], list[_Way]] = {}
    left = []
    for ink in inks:
        ways = list(_ways(ink))
        if not ways:
            left.append(ink)
        elif not is_light(ink):
            left.append(ink)
            for way in ways:
                under.setdefault((way.upright, way.line), []).append(way)
        elif not all(_lies_upon(way, under.get((way.upright, way.line), [])) for way in ways):
            left.append(ink)
    return left


def _ways(ink: Ink) -> Iterator[_Way]:
    """The stroke as a way along a lattice line; nothing for any other ink."""
    if ink.role != "stroke" or ink.curved or ink.dash or len(ink.outlines) != 1 or len(ink.outlines[0]) != 2:
        return
    points = ink.outlines[0]
    for axis in (0, 1):
        line = round(float(points[0, axis]))
        if np.abs(points[:, axis] - line).max() <= ON_LINE:
            start, end = sorted(map(float, points[:, 1 - axis]))
            yield _Way(axis == 0, line, start, end, ink.width)


def _lies_upon(core: _Way, wider: Sequence[_Way]) -> bool:
    """Whether wider strokes lie under a core all along."""
    places = np.arange(core.start + STEP / 2, core.end, STEP)
    return len(places) > 0 and all(
        any(way.width > core.width and way.start <= at <= way.end for way in wider) for at in places
    )
