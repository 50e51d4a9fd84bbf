"""Thick lattice lines with a line of paper along their middle: they show as two thin lines each, and are one. Programs
draw both lines of a double frame so, as strokes, or as the areas that a pen covers on its way."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import cv2
import numpy as np

from recognise.geometry import extent
from recognise.vectors.inks import Ink
from recognise.vectors.patches import CELL, Patch, canvas_part
from recognise.vectors.place import Floats

ON_LINE = 0.03
"""In cells: how far from a lattice line such a line lies at most."""
STEP = 0.25
"""In cells: it is looked so often along a line of paper whether a wider one lies under it."""
LONG, THIN = 1.0, 0.2
"""In cells: an area that runs along lattice lines is as long at least, and as thick at most."""
CORNERS = 0.02
"""The part of its area that may stand out all the same: where the way of a pen crosses itself, at corners, its area has
no inside that all programs agree on."""


@dataclass(frozen=True, slots=True)
class _Way:
    """A straight stroke along a lattice line: from where to where, in cells, and how wide."""

    upright: bool
    line: int
    start: float
    end: float
    width: float


def without_cores(inks: Sequence[Ink], is_light: Callable[[Ink], bool]) -> list[Ink]:
    """The inks, in paint order, without what is as light as paper along the middle of wider lattice lines."""
    under: dict[tuple[bool, int], list[_Way]] = {}
    dark: list[Ink] = []
    left = []
    for ink in inks:
        ways = _ways(ink)
        if not is_light(ink):
            left.append(ink)
            if _is_thin_area(ink):
                dark.append(ink)
            for way in ways:
                under.setdefault((way.upright, way.line), []).append(way)
        elif ways:
            if not all(_lies_upon(way, under.get((way.upright, way.line), [])) for way in ways):
                left.append(ink)
        elif not (dark and _is_thin_area(ink) and any(_lies_within(ink, wider) for wider in dark)):
            left.append(ink)
    return left


def _ways(ink: Ink) -> list[_Way]:
    """The straight sides of a stroke, each as a way along a lattice line; none for any other ink."""
    if ink.role != "stroke" or ink.curved or ink.dash or len(ink.outlines) != 1:
        return []
    points = ink.outlines[0]
    corners = [*points, points[0]] if ink.closed[0] else list(points)
    sides = [(one, other) for one, other in pairwise(corners) if np.abs(one - other).max() > ON_LINE]
    ways = [way for one, other in sides if (way := _way(np.stack([one, other]), ink.width)) is not None]
    return ways if len(ways) == len(sides) else []


def _way(points: Floats, width: float) -> _Way | None:
    """A straight side as a way along a lattice line; None where it runs elsewhere."""
    for axis in (0, 1):
        line = round(float(points[0, axis]))
        if np.abs(points[:, axis] - line).max() <= ON_LINE:
            start, end = sorted(map(float, points[:, 1 - axis]))
            return _Way(axis == 0, line, start, end, width)
    return None


def _is_thin_area(ink: Ink) -> bool:
    """Whether an ink is an area that is long, and nowhere thicker than a lattice line."""
    if ink.role != "fill" or not ink.opaque or extent(ink.box) < LONG:
        return False
    thick = round(THIN * CELL) + 1
    return not cv2.erode(ink.whole.mask.view(np.uint8), np.ones((thick, thick), np.uint8), borderValue=0).any()


def _lies_within(core: Ink, wider: Ink) -> bool:
    """Whether one area lies wholly in the middle of another, on both sides of which something of that is left."""
    mask = np.pad(core.whole.mask.view(np.uint8), 1)
    grown = cv2.dilate(mask, np.ones((3, 3), np.uint8)).view(np.bool_)
    around = Patch(core.whole.left - 1, core.whole.top - 1, grown)
    return bool(np.count_nonzero(canvas_part(around, wider.whole)) <= CORNERS * np.count_nonzero(grown))


def _lies_upon(core: _Way, wider: Sequence[_Way]) -> bool:
    """Whether wider strokes lie under a core all along."""
    places = np.arange(core.start + STEP / 2, core.end, STEP)
    return len(places) > 0 and all(
        any(way.width > core.width and way.start <= at <= way.end for way in wider) for at in places
    )
