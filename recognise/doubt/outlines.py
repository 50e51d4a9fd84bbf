"""Outlines of marks: ink that runs all round a mark at one depth is its own, and nothing that stands on it.

What a mark claims has room for the blur of its outer edge, so a thick outline, or that of a mark measured a little
wide, lies well inside of it. There a guard that looks for ink on marks would find the outline itself. It is told by
this: all round the mark it is as dark, as deep; a character is in few places."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import cv2
import numpy as np
import numpy.typing as npt

from recognise.draft import Polygon
from recognise.evidence import Flat
from recognise.geometry import disc_polygon, filled, window_of
from recognise.pixels.frame import Grey

Mask = npt.NDArray[np.uint8]

DEEPEST = 0.2
"""In cells: how far inside of its claim the outline of a mark reaches at most, thick and measured wide."""
DARKER = 0.08
"""Ink (0 to 1) by which an outline is darker than the mark within it."""
ALL_ROUND, REACHED = (40, 60), 75
"""Percentiles of the ink at one depth: the first that an outline darkens, what the ground within has, and what the
outline reaches."""
UNEVEN = 2
"""Pixels by which an outline may lie deeper here than there."""
DARK = 0.6
"""Ink from which on a mark is so dark that what is set on it is white."""
ANYWHERE = np.True_
ALIKE = 0.15
"""The part by which circles of one size differ."""
SHARP, NOTCH, NOTCHED = 0.2, 0.2, 4.0
"""Cosine of the angle from which on a bend is sharp; how far around its inner corner nothing is looked at, in cells;
and how many pixels outside of the corner must be free."""
SQUARE, ACROSS_CORNER = -0.35, 1.6
"""The same for a bend that is about square, and how many times as far as the rim reaches nothing is looked at around
its inner corner: there two walls lie across."""


def without_outlines(
    ink: Grey, flat: Flat, marks: Iterable[Sequence[Polygon]], free: npt.NDArray[np.bool_] | np.bool_ = ANYWHERE
) -> Grey:
    """The ink (0 to 1) without that of the outlines of marks, of each of which all polygons are given; `free` is what
    nothing else claims."""
    left, anywhere = ink.copy(), np.broadcast_to(free, ink.shape)
    for polygons in marks:
        window = window_of(flat, polygons)
        mask, own, lightened = filled(flat, polygons)[window], ink[window], left[window]
        depth = np.asarray(cv2.distanceTransform(np.ascontiguousarray(mask), cv2.DIST_L2, 5), np.float32)
        # A ring in which a line ends has an outline of its own.
        in_ring = filled(flat, [disc_polygon((x, y), radius) for x, y, radius in ends(polygons)])[window] > 0
        for part in (depth * in_ring, depth * ~in_ring):
            tone, excess = _outline(own, part * anywhere[window], DEEPEST * flat.cell)
            for at in np.flatnonzero(excess):
                there = (part > at - 0.5) & (part <= at + 0.5) & (lightened > tone)
                lightened[there] = np.maximum(lightened[there] - excess[at], tone)
    return left


def _outline(ink: Grey, depth: Grey, deepest: float) -> tuple[float, npt.NDArray[np.float64]]:
    """The tone of a mark within its outline, and by how much that is darker at each whole `depth` in pixels, down to
    the `deepest`; 0 everywhere for a mark without one, or so dark that nothing on it is darker."""
    within_mark = depth > 0
    own, deep = ink[within_mark], depth[within_mark]
    rings = [own[(deep > at - 0.5) & (deep <= at + 0.5)] for at in range(1, int(deep.max(initial=0)) + 1)]
    some = [ring for ring in rings if ring.size]
    excess = np.zeros(len(some) + 1)
    if not some:
        return 0.0, excess
    all_round, ground, most = np.array([np.percentile(ring, (*ALL_ROUND, REACHED)) for ring in some]).T
    within = np.minimum.accumulate(ground[::-1])[::-1]
    shown = np.flatnonzero(all_round > within + DARKER) + 1
    shown = shown[shown <= deepest]
    if not len(shown):
        return 0.0, excess
    tone = float(within[shown[-1] - 1])
    if tone > DARK:
        return 0.0, excess
    for at in range(max(1, shown[0] - UNEVEN), min(len(some), shown[-1] + UNEVEN) + 1):
        near = most[max(0, at - 1 - UNEVEN) : at + UNEVEN]
        excess[at] = max(0.0, float(near.max()) - tone)
    return tone, excess


def inner_corners(mask: Mask, rim: float, cell: int) -> npt.NDArray[np.bool_]:
    """What lies around the inner corners of the bends of a mark, in which its outline runs deep inside; `rim` is how
    far that reaches elsewhere, in pixels."""
    there = np.zeros(mask.shape, np.uint8)
    for (x, y), is_sharp in _notches(mask):
        cv2.circle(there, (x, y), round(NOTCH * cell if is_sharp else ACROSS_CORNER * rim), 1, -1)
    return there > 0


def _notches(mask: Mask) -> Iterator[tuple[tuple[int, int], bool]]:
    """The pixels at which the outline of a mark turns inwards, and whether sharply: there the two walls of a bend meet,
    deep inside of what the mark claims."""
    contours, _ = cv2.findContours(mask, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    for contour in contours:
        points = cv2.approxPolyDP(contour, 2.0, closed=True)[:, 0].astype(float)
        before, after = np.roll(points, 1, axis=0) - points, np.roll(points, -1, axis=0) - points
        for point, one, other in zip(points, before, after, strict=True):
            wedge = np.dot(one, other) / max(1e-9, float(np.hypot(*one) * np.hypot(*other)))
            middle = point + NOTCHED * (one / max(1e-9, np.hypot(*one)) + other / max(1e-9, np.hypot(*other)))
            x, y = np.clip(np.rint(middle).astype(int), 0, np.array(mask.shape[::-1]) - 1)
            if wedge > SQUARE and not mask[y, x]:
                yield (round(point[0]), round(point[1])), bool(wedge > SHARP)


def ends(polygons: Sequence[Polygon]) -> Iterator[tuple[float, float, float]]:
    """The circles (x, y, radius) of one mark in which a line ends or that stand alone, and not the joints of a tube,
    which are as wide as it."""
    bands = [min(cv2.minAreaRect(np.asarray(p, np.float32))[1]) / 2 for p in polygons if len(p) == 4]
    for polygon in polygons:
        points = np.asarray(polygon, np.float32)
        (x, y), radius = cv2.minEnclosingCircle(points)
        whole = len(polygon) > 8 and cv2.contourArea(points) >= 0.9 * np.pi * radius**2
        if whole and not any(radius <= (1 + ALIKE) * half for half in bands):
            yield x, y, radius
