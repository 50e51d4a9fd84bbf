"""Boxes, bands and circles: small plane geometry that several steps share."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Point
from recognise.draft import Polygon
from recognise.evidence import Flat
from schema.grid import Side

SPREAD = 6
"""Rows and columns of points by which the part of a box in a circle is measured."""
SIDES = 24
"""Corners of the polygon that stands for a circle."""
AROUND = 8
"""Pixels of bare ground around a mark that is looked at by itself: paths along which its depth is measured never leave
them, nor does what is looked at beside its corners."""

Window = tuple[slice, slice]
"""Rows and columns of a picture."""


def middle(box: Box) -> Point:
    """The middle of a box."""
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


def bounds(points: npt.ArrayLike) -> Box:
    """The box of points, given as an array whose last axis is x, y."""
    places = np.asarray(points, np.float64).reshape(-1, 2)
    (left, top), (right, bottom) = places.min(axis=0), places.max(axis=0)
    return float(left), float(top), float(right), float(bottom)


def box_of_all(boxes: Iterable[Box]) -> Box:
    """The smallest box that holds all of one or more boxes."""
    left, top, right, bottom = zip(*boxes, strict=True)
    return float(min(left)), float(min(top)), float(max(right)), float(max(bottom))


def extent(box: Box) -> float:
    """The longer side of a box."""
    return max(box[2] - box[0], box[3] - box[1])


def holds(box: Box, point: Point) -> bool:
    """Whether a point lies in a box."""
    return box[0] <= point[0] <= box[2] and box[1] <= point[1] <= box[3]


def within(box: Box, outer: Box) -> bool:
    """Whether a box lies wholly in another."""
    return outer[0] <= box[0] and outer[1] <= box[1] and box[2] <= outer[2] and box[3] <= outer[3]


def overlap(one: Box, other: Box) -> bool:
    """Whether two boxes share some area."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def shared(one: Box, other: Box) -> float:
    """The area that two boxes have in common."""
    wide = min(one[2], other[2]) - max(one[0], other[0])
    high = min(one[3], other[3]) - max(one[1], other[1])
    return max(wide, 0.0) * max(high, 0.0)


def side_of(point: Point, rows: int, columns: int) -> Side | None:
    """The side of a grid beside which a point lies; None on the grid and off its corners."""
    x, y = point
    across, down = 0 <= x <= columns, 0 <= y <= rows
    if across == down:
        return None
    if across:
        return "top" if y < 0 else "bottom"
    return "left" if x < 0 else "right"


def seen_from(side: Side, box: Box, rows: int, columns: int) -> tuple[tuple[float, float], tuple[float, float]]:
    """From where to where a box reaches along a side of a grid, and how far away from that, outwards, it begins and
    ends, in cells; below 0 on the grid."""
    x0, y0, x1, y1 = box
    along = (x0, x1) if side in ("top", "bottom") else (y0, y1)
    away = {
        "top": (-y1, -y0),
        "bottom": (y0 - rows, y1 - rows),
        "left": (-x1, -x0),
        "right": (x0 - columns, x1 - columns),
    }
    return along, away[side]


@dataclass(frozen=True, slots=True)
class Beside:
    """Where a point lies beside a grid: at which side, how far from it, and how far along it, in cells."""

    side: Side
    away: float
    along: float

    @property
    def off(self) -> float:
        """How far it lies off the middle of its row or column, in cells; below 0 before it."""
        return self.along % 1 - 0.5


def beside(point: Point, rows: int, columns: int) -> Beside | None:
    """Where a point lies beside a grid; None on the grid and off its corners."""
    side = side_of(point, rows, columns)
    if side is None:
        return None
    (along, _), (away, _) = seen_from(side, (*point, *point), rows, columns)
    return Beside(side, away, along)


def in_circle(box: Box, centre: Point, radius: float) -> bool:
    """Whether a box lies wholly in a circle."""
    return all(math.dist((x, y), centre) <= radius for x in box[::2] for y in box[1::2])


def share_in_circle(box: Box, centre: Point, radius: float) -> float:
    """The part of a box, by points evenly spread over it, that lies in a circle."""
    shares = (np.arange(SPREAD) + 0.5) / SPREAD
    across = box[0] + (box[2] - box[0]) * shares - centre[0]
    down = box[1] + (box[3] - box[1]) * shares - centre[1]
    return float((np.hypot(across[None, :], down[:, None]) <= radius).mean())


def disc_polygon(centre: Point, radius: float, sides: int = SIDES) -> Polygon:
    """A circle as a polygon."""
    turns = (2 * math.pi * n / sides for n in range(sides))
    return tuple((centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in turns)


def filled(flat: Flat, polygons: Iterable[Polygon]) -> npt.NDArray[np.uint8]:
    """The inside of polygons (in cells) as 1, in the pixels of a flattened grid."""
    mask = np.zeros(flat.image.shape[:2], np.uint8)
    for polygon in polygons:
        points = (np.asarray(polygon, np.float64) + flat.margin) * flat.cell
        cv2.fillPoly(mask, [np.rint(points).astype(np.int32)], 1)
    return mask


def window_of(flat: Flat, polygons: Sequence[Polygon]) -> Window:
    """The rows and columns of a flattened grid in which polygons (in cells) lie, one at least, with AROUND pixels
    more."""
    left, top, right, bottom = (
        round((value + flat.margin) * flat.cell)
        for value in bounds([place for polygon in polygons for place in polygon])
    )
    height, width = flat.image.shape[:2]
    return _reach(top, bottom, height), _reach(left, right, width)


def _reach(first: int, last: int, size: int) -> slice:
    """The places from the first to the last of them with AROUND more, of `size` places: one at least."""
    start = min(max(0, first - AROUND), size - 1)
    return slice(start, min(max(start, last + AROUND), size - 1) + 1)


def band(start: Point, end: Point, half: float) -> Polygon:
    """The band that reaches `half` to both sides of a straight line."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = math.hypot(dx, dy) or 1.0
    nx, ny = -dy / length * half, dx / length * half
    return (
        (start[0] + nx, start[1] + ny),
        (end[0] + nx, end[1] + ny),
        (end[0] - nx, end[1] - ny),
        (start[0] - nx, start[1] - ny),
    )


def box_at(place: Point, half: float, tall: float | None = None) -> Box:
    """The box around a place, in cells, half its width and half its height given; a square without `tall`."""
    high = half if tall is None else tall
    return place[0] - half, place[1] - high, place[0] + half, place[1] + high
