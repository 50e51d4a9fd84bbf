"""Where a grid may be: connected line ink whose outline is roughly four-sided."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import cv2
import numpy as np
import numpy.typing as npt

from recognise.components import components
from recognise.grids.ink import Grey, ink, odd
from recognise.grids.warp import Points, project

WORK = 1400
"""Long side in pixels at which candidates are looked for: a 25 x 25 grid a fifth as wide still has 11 pixels a cell."""
LEVELS = (0.32, 0.18, 0.10, 0.055)
"""Contrasts at which ink is cut out: black print, grey or blurred print, faint print, print in fog."""
LEAST_SIDE = 0.05
"""A grid's shorter side as a share of the page's long side: smaller ones have cells of too few pixels to read."""
MOST = 14
"""Largest components looked at, per contrast level."""
SAME = 0.03
"""Outlines whose corners differ by less than this share of their side are the same candidate."""


@dataclass(frozen=True, slots=True)
class Outline:
    """A candidate: corners clockwise from top left (4 x 2) and the contour they came from (n x 2), in page pixels."""

    corners: Points
    contour: Points

    @property
    def side(self) -> float:
        """The mean length of the four sides."""
        return float(np.linalg.norm(self.corners - np.roll(self.corners, -1, 0), axis=1).mean())

    def same(self, other: Outline) -> bool:
        """Whether another is the same candidate."""
        return bool(np.abs(self.corners - other.corners).max() < SAME * self.side)


def too_narrow(grey: Grey) -> bool:
    """Whether a picture is a strip that no grid fits into, and that may shrink to nothing when it is made smaller."""
    return bool(min(grey.shape) < LEAST_SIDE * max(grey.shape))


def outlines(grey: Grey) -> list[Outline]:
    """Candidates of all contrast levels, largest first, each once."""
    if too_narrow(grey):
        return []
    scale = min(1.0, WORK / max(grey.shape))
    small = np.asarray(
        cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA) if scale < 1 else grey, np.uint8
    )
    contrast = ink(np.asarray(cv2.GaussianBlur(small, (3, 3), 0), np.uint8), odd(max(small.shape) / 60, 9))
    found: list[Outline] = []
    for level in LEVELS:
        for outline in _of_level(np.asarray(contrast > level, np.uint8), LEAST_SIDE * max(small.shape)):
            if not any(outline.same(other) for other in found):
                found.append(outline)
    page = [Outline((o.corners + 0.5) / scale - 0.5, (o.contour + 0.5) / scale - 0.5) for o in found]
    return sorted(page, key=lambda outline: -outline.side)


def _of_level(mask: npt.NDArray[np.uint8], least: float) -> list[Outline]:
    labels, stats = components(mask)
    sides = stats[1:, [cv2.CC_STAT_WIDTH, cv2.CC_STAT_HEIGHT]].min(axis=1)
    large = 1 + np.flatnonzero(sides >= least)
    large = large[np.argsort(-sides[large - 1])][:MOST]
    found = (_outline(labels, stats[index], int(index)) for index in large)
    return [outline for outline in found if outline is not None]


def _outline(labels: npt.NDArray[np.int32], stat: npt.NDArray[np.int32], index: int) -> Outline | None:
    x, y, width, height = (int(value) for value in stat[:4])
    piece = (labels[y : y + height, x : x + width] == index).astype(np.uint8)
    contours, _ = cv2.findContours(piece, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    contour = max(contours, key=len)[:, 0, :].astype(np.float64) + np.array([x, y])
    corners = _largest_quadrilateral(contour)
    return None if corners is None else Outline(corners, contour)


def _largest_quadrilateral(contour: Points) -> Points | None:
    """The four hull points that span the largest area: bulging sides of a curled page do not move them much."""
    hull = cv2.convexHull(contour.astype(np.float32))
    tolerance = 0.002 * cv2.arcLength(hull, True)
    corners = cv2.approxPolyDP(hull, tolerance, True)
    while len(corners) > 18:
        tolerance *= 1.5
        corners = cv2.approxPolyDP(hull, tolerance, True)
    points = corners[:, 0, :].astype(np.float64)
    if len(points) < 4:
        return None
    picks = np.array(list(combinations(range(len(points)), 4)))
    quads = points[picks]
    across, along = quads[:, 2] - quads[:, 0], quads[:, 3] - quads[:, 1]
    area = np.abs(across[:, 0] * along[:, 1] - across[:, 1] * along[:, 0])
    return clockwise(quads[int(area.argmax())])


def clockwise(quad: Points) -> Points:
    """Corners clockwise as seen, from the one nearest the page's top left."""
    centre = quad.mean(axis=0)
    angle = np.arctan2(quad[:, 1] - centre[1], quad[:, 0] - centre[0])
    ordered = quad[np.argsort(angle)]
    return np.roll(ordered, -int(ordered.sum(axis=1).argmin()), axis=0)


UNIT = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], np.float32)
DEGREE = 3
"""Sides of a curled page are fitted by cubics."""
BINS = 96
"""Parts of a side of which the outermost point counts: four and more to a cell of the largest grids."""


class Frame:
    """Unit coordinates of a candidate: (0, 0) to (1, 1) is its outline, its sides followed by cubics."""

    def __init__(self, outline: Outline) -> None:
        self.matrix = np.asarray(cv2.getPerspectiveTransform(UNIT, outline.corners.astype(np.float32)), np.float64)
        inverse = np.asarray(np.linalg.inv(self.matrix), np.float64)
        unit = project(inverse, outline.contour)
        x, y = unit[:, 0], unit[:, 1]
        self.sides = (_side(x, y, low=True), _side(x, y, low=False), _side(y, x, low=True), _side(y, x, low=False))

    def page(self, u: Points, v: Points) -> Points:
        """Page points (rows, columns, 2) of unit coordinates u (rightwards, 1 x columns), v (downwards, rows x 1)."""
        top, bottom, left, right = self.sides
        inside_u, inside_v = np.clip(u, 0, 1), np.clip(v, 0, 1)
        y = (1 - v) * np.polyval(top, inside_u) + v * np.polyval(bottom, inside_u)
        x = (1 - u) * np.polyval(left, inside_v) + u * np.polyval(right, inside_v)
        return project(self.matrix, np.stack([x, y], -1))


def _side(along: Points, away: Points, low: bool) -> Points:
    """A cubic through the outermost contour points of one side; ink that sticks out is outvoted."""
    sign = 1.0 if low else -1.0
    bins = np.clip((along * BINS).astype(int), -1, BINS)
    inside = (bins >= 0) & (bins < BINS)
    extreme = np.full(BINS, np.inf)
    np.minimum.at(extreme, bins[inside], sign * away[inside])
    at = (np.arange(BINS) + 0.5) / BINS
    straight = 0.0 if low else -1.0
    used = np.isfinite(extreme) & (np.abs(extreme - straight) < 0.15)
    if used.sum() < BINS // 2:
        return np.array([0.0, 0.0, 0.0, sign * straight])
    weight = np.ones(int(used.sum()))
    for _ in range(6):
        fit = np.polyfit(at[used], extreme[used], DEGREE, w=weight)
        weight = 1 / (1 + ((extreme[used] - np.polyval(fit, at[used])) / 0.004) ** 2)
    return np.asarray(sign * fit, np.float64)
