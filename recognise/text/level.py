"""The page as it would be seen from straight above: words on a photo are read where its grid is an upright rectangle.

Tesseract reads lines that are level; on a photo they fall differently in every corner of the page. What makes the grid
a rectangle makes the lines around it level too: a homography for paper that lies flat, and for paper that curls how far
each of the grid's own lines strays from it (recognise/text/curl.py).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Frame, Image, Page
from recognise.geometry import bounds
from recognise.text.curl import Curl

Points = npt.NDArray[np.float64]
"""Lattice points of a grid, (rows + 1) x (columns + 1) x 2, in pixels of the page's image."""

_ASKEW, _TURNED = 0.006, 0.4
"""How far a corner of a grid may be from where a rectangle has it, in its sides, and how many degrees a grid may be
turned, for its page to be read as it is: a scan, unless it curls."""
_AROUND = 2.5
"""How far around the grid the page is looked at, in its sides: a block of words that belongs to it ends before."""
_BESIDE = 0.4
"""The same to its left and right at least, in widths of the picture: lines are as long beside a grid that a page prints
small as beside any other, and a line that is cut off at its end is not read."""
_LARGEST = 4000
"""Pixels of a side of the levelled picture, at most."""


def levelled(page: Page, lattices: Sequence[Points]) -> tuple[Page, list[Box]]:
    """The page, with its largest grid an upright rectangle where it is seen from aside, and the boxes of its grids in
    units of that page's frame."""
    whole = replace(page, turned=0, scale=1.0, frame=_pixels(page.image), vectors=None)
    if not lattices:
        return whole, []
    largest = max(lattices, key=lambda points: float(np.prod(_sides(points))))
    matrix = _upright(largest)
    if _deviation(largest) < _ASKEW and _turn(largest) < _TURNED and Curl.of(largest).is_flat:
        return whole, [bounds(points) for points in lattices]
    size, matrix = _cut(page.image, largest, matrix)
    curl = Curl.of(cv2.perspectiveTransform(largest.reshape(1, -1, 2), matrix).reshape(largest.shape))
    if curl.is_flat:
        seen = cv2.warpPerspective(page.image, matrix, size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    else:
        x, y = curl.places(size, np.asarray(np.linalg.inv(matrix), np.float64))
        seen = cv2.remap(page.image, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    image = np.asarray(seen, dtype=np.uint8)
    there = [cv2.perspectiveTransform(points.reshape(1, -1, 2), matrix)[0] for points in lattices]
    boxes = [bounds(points if curl.is_flat else curl.flattened(points)) for points in there]
    return replace(whole, image=image, frame=_pixels(image)), boxes


def way_back(lattices: Sequence[Points], boxes: Sequence[Box]) -> Points:
    """The homography from a levelled picture to the page's own, which brings the box of its largest grid back to that
    grid; 3 x 3. Without a grid nothing was levelled."""
    if not lattices:
        return np.eye(3)
    points, box = max(zip(lattices, boxes, strict=True), key=lambda pair: float(np.prod(_sides(pair[0]))))
    corners = np.stack([points[0, 0], points[0, -1], points[-1, -1], points[-1, 0]]).astype(np.float32)
    x0, y0, x1, y1 = box
    flat = np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]], dtype=np.float32)
    return np.asarray(cv2.getPerspectiveTransform(flat, corners), dtype=np.float64)


def _pixels(image: Image) -> Frame:
    return Frame(float(image.shape[1]), float(image.shape[0]), "px")


def _sides(points: Points) -> tuple[float, float]:
    """Usual width and height of a lattice."""
    across = np.linalg.norm(points[:, -1] - points[:, 0], axis=-1)
    down = np.linalg.norm(points[-1] - points[0], axis=-1)
    return float(across.mean()), float(down.mean())


def _upright(points: Points) -> Points:
    """The homography that brings a lattice to an upright rectangle of its own size at its own place."""
    rows, columns = points.shape[0] - 1, points.shape[1] - 1
    width, height = _sides(points)
    middle = points.reshape(-1, 2).mean(axis=0)
    down, across = np.mgrid[0 : rows + 1, 0 : columns + 1]
    there = np.stack([across / columns * width, down / rows * height], axis=-1) + middle - np.array([width, height]) / 2
    matrix, _ = cv2.findHomography(points.reshape(-1, 2), there.reshape(-1, 2), 0)
    return np.asarray(matrix, dtype=np.float64)


def _deviation(points: Points) -> float:
    """How far the corners of a lattice are from those of a rectangle, turned or not, in its sides."""
    a, b, c, d = points[0, 0], points[0, -1], points[-1, -1], points[-1, 0]
    sides = _sides(points)
    slanted = np.abs(a + c - b - d).max() / 2
    right_angle = abs(float(np.dot(b - a, d - a))) / max(sides)
    return float(max(slanted, right_angle) / max(sides))


def _turn(points: Points) -> float:
    """By how many degrees a lattice is turned."""
    across = points[:, -1] - points[:, 0]
    return abs(float(np.degrees(np.arctan2(across[:, 1], across[:, 0])).mean()))


def _cut(image: Image, points: Points, matrix: Points) -> tuple[tuple[int, int], Points]:
    """The size of the levelled picture and the homography to it: what lies around the grid and on the page."""
    width, height = _sides(points)
    grid = bounds(cv2.perspectiveTransform(points.reshape(1, -1, 2), matrix)[0])
    rows, columns = image.shape[:2]
    beside = max(_AROUND * width, _BESIDE * columns)
    left, top = grid[0] - beside, grid[1] - _AROUND * height
    right, bottom = grid[2] + beside, grid[3] + _AROUND * height
    corners = np.array([[0, 0], [columns, 0], [columns, rows], [0, rows]], dtype=np.float64)
    if (np.c_[corners, np.ones(4)] @ matrix[2] > 0).all():
        page = bounds(cv2.perspectiveTransform(corners.reshape(1, -1, 2), matrix)[0])
        left, top, right, bottom = max(left, page[0]), max(top, page[1]), min(right, page[2]), min(bottom, page[3])
    shift = np.array([[1.0, 0.0, -left], [0.0, 1.0, -top], [0.0, 0.0, 1.0]])
    size = (min(_LARGEST, int(right - left) + 1), min(_LARGEST, int(bottom - top) + 1))
    return size, shift @ matrix
