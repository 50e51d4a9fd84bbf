"""Whether what a PDF draws shows in the picture where it says it stands: a path may be hidden, cut away or white."""

from __future__ import annotations

import math
from collections.abc import Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Colour, Point
from recognise.draft import Polygon, box_polygon
from recognise.evidence import Disc, Fence, Flat, Shape, Tint
from schema.kinds._outline import inset_outline

Floats = npt.NDArray[np.float64]

CORNERS = 4
"""Of the band that a line is."""
STEP = 0.02
"""In cells: how far apart the places on a line are at which ink is looked for."""
NEAR = 1
"""Pixels beside a place in which its ink may lie: rounding and antialiasing."""
LIKE = 0.62
"""A pixel shows a colour when it is nearer to it than this part of what parts it from paper: a thin line is blurred."""
LIKE_DOTS = 0.8
"""The same for the dots and dashes of a line: those of a fine one are smaller than a pixel both ways."""
FAINT = 16.0
"""Distance in RGB from paper below which nothing can be told: white on white."""
WINDOW = 0.3
"""In cells: along a dashed line there is ink in every stretch of this length."""
OUTLINE = 0.6
"""Part of a ring's outline at which its colour shows at least: other marks and lattice lines may lie on it."""
GROUND = 0.3
"""Part of a filled mark that shows its colour at least: a digit stands on it."""
UNDER = 0.08
"""Part of a tinted cell that shows its colour at least: tubes and circles leave little of it free."""
THIN = 0.02
"""The same for a mark of thin strokes, as a part of its box."""


class Looker:
    """Looks for colours in the picture of a flattened grid."""

    def __init__(self, flat: Flat) -> None:
        self._flat = flat
        inner = flat.image.reshape(-1, 3)
        self._paper = np.percentile(inner[:: max(1, len(inner) // 4000)], 90, axis=0).astype(np.float64)

    def shows(
        self, points: Sequence[Point] | Floats, colour: Colour, reach: int = NEAR, like: float = LIKE
    ) -> npt.NDArray[np.bool_]:
        """For each point in cells whether the colour shows there; all True for a colour that is paper's own."""
        wanted = np.asarray(colour, np.float64)
        apart = float(np.linalg.norm(wanted - self._paper))
        places = np.rint((np.asarray(points, np.float64).reshape(-1, 2) + self._flat.margin) * self._flat.cell - 0.5)
        if apart < FAINT:
            return np.ones(len(places), bool)
        height, width = self._flat.image.shape[:2]
        found = np.zeros(len(places), bool)
        for dy in range(-reach, reach + 1):
            for dx in range(-reach, reach + 1):
                rows = np.clip(places[:, 1] + dy, 0, height - 1).astype(int)
                columns = np.clip(places[:, 0] + dx, 0, width - 1).astype(int)
                off = np.linalg.norm(self._flat.image[rows, columns].astype(np.float64) - wanted, axis=1)
                found |= off < like * apart
        return found

    def fence(self, fence: Fence) -> bool:
        """Whether a fence shows all along its outline."""
        loops = [fence.where] if len(fence.where) > 2 else [tuple(loop) for loop in inset_outline(fence.cells, 0.09)]
        like = LIKE_DOTS if fence.style in ("dotted", "dashed") else LIKE
        return all(self._unbroken(_along(loop), fence.colour, like) for loop in loops)

    def _unbroken(self, points: Floats, colour: Colour, like: float) -> bool:
        shown = self.shows(points, colour, reach=2, like=like)
        count = max(1, round(WINDOW / STEP))
        windows = np.lib.stride_tricks.sliding_window_view(np.append(shown, shown[:count]), min(count, len(shown)))
        return bool(windows.any(axis=1).mean() >= 1 - WINDOW / 2)

    def disc(self, disc: Disc) -> bool:
        """Whether a circle shows its outline, or its ground where it has no outline."""
        if disc.outline is not None:
            return bool(self.shows(_ring(disc.centre, disc.radius), disc.outline, reach=2).mean() >= OUTLINE)
        if disc.fill is None:
            return False
        spots = np.concatenate([_ring(disc.centre, part * disc.radius) for part in (0.25, 0.5, 0.75)])
        return bool(self.shows(spots, disc.fill).mean() >= GROUND)

    def tint(self, tint: Tint) -> bool:
        """Whether the ground of a cell has the colour."""
        steps = np.linspace(0.1, 0.9, 9)
        x, y = tint.cell.column - 1, tint.cell.row - 1
        spots = np.array([(x + dx, y + dy) for dx in steps for dy in steps])
        if tint.share < UNDER and tint.strokes:
            # Dots that take up so little are missed between such places, and looked for one by one.
            spots = np.array([np.mean(stroke, axis=0) for stroke in tint.strokes])
            return bool(self.shows(spots, tint.colour).mean() >= GROUND)
        return bool(self.shows(spots, tint.colour, reach=0).mean() >= UNDER * tint.share)

    def shape(self, shape: Shape) -> bool:
        """Whether a shape's colour shows within its outline; that of a line from corner to corner, all along it."""
        if shape.name == "diagonal" and len(shape.where) == CORNERS:
            start, end = (np.mean([shape.where[one], shape.where[other]], axis=0) for one, other in ((0, 3), (1, 2)))
            count = math.ceil(float(np.hypot(*(end - start))) / STEP)
            return self._unbroken(np.linspace(start, end, count), shape.colour, LIKE_DOTS)
        outline = shape.where if len(shape.where) > 2 and shape.filled else box_polygon(shape.box)
        spots = _inside(outline)
        least = GROUND if shape.filled and len(shape.where) > 2 else THIN
        return bool(self.shows(spots, shape.colour, reach=0 if shape.filled else NEAR).mean() >= least)


def _along(loop: Sequence[Point]) -> Floats:
    parts = []
    for (x0, y0), (x1, y1) in zip(loop, (*loop[1:], loop[0]), strict=True):
        count = max(2, math.ceil(math.hypot(x1 - x0, y1 - y0) / STEP))
        parts.append(np.linspace((x0, y0), (x1, y1), count, endpoint=False))
    return np.concatenate(parts)


def _ring(centre: Point, radius: float) -> Floats:
    turns = np.linspace(0, 2 * np.pi, 48, endpoint=False)
    return np.stack([centre[0] + radius * np.cos(turns), centre[1] + radius * np.sin(turns)], axis=1)


def _inside(outline: Polygon) -> Floats:
    """Places inside a polygon, on a fine raster."""
    points = np.asarray(outline, np.float64)
    low, high = points.min(axis=0), points.max(axis=0)
    size = np.maximum(np.ceil((high - low) / STEP).astype(int), 1)
    mask = np.zeros((size[1] + 1, size[0] + 1), np.uint8)
    cv2.fillPoly(mask, [np.rint((points - low) / STEP).astype(np.int32)], 1)
    rows, columns = np.nonzero(mask)
    return np.stack([columns * STEP + low[0], rows * STEP + low[1]], axis=1)
