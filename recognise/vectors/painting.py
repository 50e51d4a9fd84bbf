"""Fills and strokes drawn as exact masks: areas by either winding rule, strokes with their joins and ends."""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

from recognise.pixels.frame import Raster
from recognise.vectors.patches import CELL, Patch
from recognise.vectors.place import Floats

_SHIFT = 6
"""Binary places of the sub-pixel coordinates that OpenCV draws with."""
THINNEST = 0.045
"""In cells: a thinner stroke is drawn so wide in its mask, three pixels, to leave no holes."""
LINE = 0.45
"""In cells: a filled path that is a line from cell to cell, or between the circles there, is no shorter."""
SAME = 1e-3
"""In cells: points no farther apart are one."""


def filled(outlines: tuple[Floats, ...], even_odd: bool, raster: Raster, shape: tuple[int, int]) -> Patch:
    """The inside of outlines, by the even-odd or the nonzero winding number rule."""
    left, top, width, height = _window(outlines, 0.0, raster, shape)
    polygons = [_fixed(points, raster, left, top) for points in outlines if len(points) > 2]
    mask = np.zeros((height, width), dtype=np.uint8)
    if even_odd or len(polygons) == 1:
        if polygons:
            cv2.fillPoly(mask, polygons, 1, shift=_SHIFT)
        return Patch(left, top, mask.view(np.bool_))
    winding = np.zeros((height, width), dtype=np.int16)
    for points in polygons:
        mask[:] = 0
        cv2.fillPoly(mask, [points], 1, shift=_SHIFT)
        winding += np.int16(1 if cv2.contourArea(points, oriented=True) > 0 else -1) * mask
    return Patch(left, top, winding != 0)


def with_hairlines(area: Patch, outlines: tuple[Floats, ...], raster: Raster, shape: tuple[int, int]) -> Patch:
    """A filled area; where it is a bent or slanting line thinner than THINNEST, as wide as a stroke would be drawn."""
    points = np.concatenate(outlines)
    steps = np.concatenate([np.roll(each, -1, axis=0) - each for each in outlines])
    around = float(np.hypot(steps[:, 0], steps[:, 1]).sum())
    # A strip's area is its width by half of its outline.
    width = 2 * abs(sum(map(polygon_area, outlines))) / max(around, 1e-6)
    upright = bool((np.abs(steps).min(axis=1) < SAME).all()) and len(outlines) == 1 and len(points) <= 5
    if upright or width >= THINNEST or np.ptp(points, axis=0).max() < LINE:
        return area
    return stroked(outlines, (True,) * len(outlines), THINNEST - width, "butt", raster, shape, area)


def stroked(
    outlines: tuple[Floats, ...],
    closed: tuple[bool, ...],
    width: float,
    cap: str,
    raster: Raster,
    shape: tuple[int, int],
    within: Patch | None = None,
) -> Patch:
    """The area of a stroke: a bar for each piece, round joins, and the ends as `cap` says; with what is `within`."""
    width = width if within else max(width, THINNEST)
    left, top, across, down = _window(outlines, width * 0.71, raster, shape)
    mask = np.zeros((down, across), dtype=np.uint8)
    if within is not None:
        y, x = within.top - top, within.left - left
        mask[y : y + within.mask.shape[0], x : x + within.mask.shape[1]] |= within.mask
    for points, is_closed in zip(outlines, closed, strict=True):
        ring = np.concatenate([points, points[:1]]) if is_closed else points
        joints = ring if is_closed or cap == "round" else ring[1:-1]
        for joint in _fixed(joints, raster, left, top):
            cv2.circle(mask, tuple(map(int, joint)), round(width / 2 * CELL * 2**_SHIFT), 1, -1, shift=_SHIFT)
        bars = _bars(ring, width, width / 2 if cap == "square" and not is_closed else 0.0)
        for bar in _fixed(bars, raster, left, top):
            cv2.fillConvexPoly(mask, bar, 1, shift=_SHIFT)
    return Patch(left, top, mask.view(np.bool_))


def _bars(ring: Floats, width: float, extra: float) -> Floats:
    """Each piece of a polyline as a rectangle, n x 4 x 2; the first and the last go on by `extra` beyond its ends."""
    steps = np.diff(ring, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    pieces = np.flatnonzero(lengths > 0)
    along = steps[pieces] / lengths[pieces, None]
    aside = np.stack([-along[:, 1], along[:, 0]], axis=1) * width / 2
    first, last = ring[pieces].copy(), ring[pieces + 1].copy()
    first[:1] -= along[:1] * extra
    last[-1:] += along[-1:] * extra
    return np.stack([first + aside, last + aside, last - aside, first - aside], axis=1)


def _window(
    outlines: tuple[Floats, ...], reach: float, raster: Raster, shape: tuple[int, int]
) -> tuple[int, int, int, int]:
    """Left, top, width and height, in canvas pixels, around outlines grown by `reach` cells."""
    joined = np.concatenate(outlines)
    low = np.floor((joined.min(axis=0) - reach) * CELL + raster.origin).astype(int) - 1
    high = np.ceil((joined.max(axis=0) + reach) * CELL + raster.origin).astype(int) + 2
    left, top = np.clip(low, 0, (shape[1] - 1, shape[0] - 1))
    right, bottom = np.clip(high, (left + 1, top + 1), (shape[1], shape[0]))
    return int(left), int(top), int(right - left), int(bottom - top)


def _fixed(points: Floats, raster: Raster, left: int, top: int) -> npt.NDArray[np.int32]:
    """Points (..., 2) in cells as OpenCV's fixed-point pixels of a window; a pixel's middle has whole coordinates."""
    pixels = points * CELL + raster.origin - (left + 0.5, top + 0.5)
    limit = 2.0**15
    fixed: npt.NDArray[np.int32] = np.round(np.clip(pixels, -limit, limit) * 2**_SHIFT).astype(np.int32)
    return fixed


def polygon_area(points: Floats) -> float:
    """What a polygon encloses, by the shoelace formula; its sign is that of its turning."""
    (x, y), (next_x, next_y) = points.T, np.roll(points, -1, axis=0).T
    return float((x * next_y - next_x * y).sum()) / 2


def areas_meet(one: Floats, other: Floats) -> bool:
    """Whether what two outlines enclose overlaps, or touches: a corner of one lies in the other, or they cross."""
    boxes = [(points.min(axis=0), points.max(axis=0)) for points in (one, other)]
    if (boxes[0][0] > boxes[1][1] + SAME).any() or (boxes[1][0] > boxes[0][1] + SAME).any():
        return False
    both = one.astype(np.float32), other.astype(np.float32)
    if any(
        cv2.pointPolygonTest(around, (float(x), float(y)), True) >= -SAME
        for points, around in (both, both[::-1])
        for x, y in points
    ):
        return True
    return bool(cv2.intersectConvexConvex(*map(cv2.convexHull, both))[0] > 0) and all(map(cv2.isContourConvex, both))
