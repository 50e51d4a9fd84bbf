"""Boxes and outlines in the frame of a page."""

from __future__ import annotations

import numpy as np

from ingest.page import Box, Point
from ingest.pdf_frame import Points


def points_of(points: Points) -> tuple[Point, ...]:
    """Points of an array as pairs."""
    return tuple(map(tuple, points.tolist()))


def box_of(points: Points) -> Box:
    """The upright box around points."""
    (left, top), (right, bottom) = points.min(axis=0), points.max(axis=0)
    return float(left), float(top), float(right), float(bottom)


def is_upright(points: Points) -> bool:
    """Whether a polygon is a rectangle with upright sides."""
    if not 4 <= len(points) <= 5:
        return False
    left, top, right, bottom = box_of(points)
    slack = 0.01 * max(right - left, bottom - top, 0.1)
    at_side = (np.abs(points[:, 0, None] - (left, right)).min(axis=1) <= slack) & (
        np.abs(points[:, 1, None] - (top, bottom)).min(axis=1) <= slack
    )
    steps = np.abs(np.diff(np.concatenate([points[:4], points[:1]]), axis=0)) > slack
    return bool(at_side.all() and (steps.sum(axis=1) <= 1).all())


def meets(box: Box, other: Box) -> bool:
    """Whether two boxes have more than a side in common."""
    return box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3]


def within(box: Box, outer: Box) -> bool:
    """Whether a box lies in another."""
    return outer[0] <= box[0] and outer[1] <= box[1] and box[2] <= outer[2] and box[3] <= outer[3]


def grown(box: Box, by: float) -> Box:
    """A box grown on all sides."""
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by
