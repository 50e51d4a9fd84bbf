"""Maps between the page and a grid laid flat: through lattice points, by smooth interpolation."""

from __future__ import annotations

from functools import cached_property

import cv2
import numpy as np
import numpy.typing as npt

from recognise.grids.ink import Grey

Points = npt.NDArray[np.float64]
Map = npt.NDArray[np.float32]


class Pyramid:
    """A grey image and its halvings, so that shrinking a grid does not alias."""

    def __init__(self, grey: Grey) -> None:
        self.grey = grey

    @cached_property
    def levels(self) -> tuple[Grey, ...]:
        """The image at scale 1, 1/2, 1/4 ... down to about 64 pixels."""
        levels = [self.grey]
        while min(levels[-1].shape) >= 128 and len(levels) < 6:
            height, width = levels[-1].shape
            levels.append(
                np.asarray(cv2.resize(levels[-1], (width // 2, height // 2), interpolation=cv2.INTER_AREA), np.uint8)
            )
        return tuple(levels)

    def sample(self, x: Map, y: Map, step: float) -> Grey:
        """The image at the points (x, y) of level 0; `step` is the distance between neighbouring points, which picks
        the level. Outside the image it is white."""
        level = int(np.clip(np.floor(np.log2(max(step, 1.0)) + 0.25), 0, len(self.levels) - 1))
        source = self.levels[level]
        x_scale, y_scale = source.shape[1] / self.grey.shape[1], source.shape[0] / self.grey.shape[0]
        return np.asarray(
            cv2.remap(
                source,
                (x + 0.5) * np.float32(x_scale) - np.float32(0.5),
                (y + 0.5) * np.float32(y_scale) - np.float32(0.5),
                cv2.INTER_LINEAR,
                borderMode=cv2.BORDER_CONSTANT,
                borderValue=255,
            ),
            np.uint8,
        )


def homography(points: Points) -> Points:
    """The homography (3 x 3) that best takes lattice coordinates (column, row) to `points` of shape
    (rows + 1, columns + 1, 2)."""
    rows, columns = points.shape[:2]
    flat = np.stack(np.meshgrid(np.arange(columns), np.arange(rows)), -1).reshape(-1, 2).astype(np.float64)
    found, _ = cv2.findHomography(flat, points.reshape(-1, 2), 0)
    return np.asarray(found, np.float64)


def project(matrix: Points, xy: npt.NDArray[np.floating]) -> Points:
    """Points (..., 2) through a homography."""
    flat = np.asarray(xy, np.float64).reshape(-1, 1, 2)
    return np.asarray(cv2.perspectiveTransform(flat, matrix), np.float64).reshape(np.shape(xy))


def extended(points: Points, ring: int) -> Points:
    """The lattice with `ring` more lines on every side: the overall homography plus how far the nearest lattice point
    strays from it, so that a curled page goes on smoothly."""
    rows, columns = points.shape[:2]
    matrix = homography(points)
    column, row = np.meshgrid(np.arange(-ring, columns + ring), np.arange(-ring, rows + ring))
    stray = points - project(matrix, np.stack(np.meshgrid(np.arange(columns), np.arange(rows)), -1))
    nearest = stray[np.clip(row, 0, rows - 1), np.clip(column, 0, columns - 1)]
    return np.asarray(project(matrix, np.stack([column, row], -1)) + nearest, np.float64)


def mesh_maps(points: Points, cell: int, margin: float) -> tuple[Map, Map]:
    """For each pixel of the flattened grid (`cell` pixels a cell, `margin` cells around) its place on the page.

    Catmull-Rom interpolation through the lattice points: it passes through each of them and has no creases."""
    rows, columns = points.shape[0] - 1, points.shape[1] - 1
    ring = int(np.ceil(margin)) + 1
    net = extended(points, ring)
    down = _weights(rows, ring, cell, margin)
    along = _weights(columns, ring, cell, margin)
    # Places on the page as numbers of 24 bits: less than a thousandth of a pixel off, as long as the middle of the
    # lattice is taken away first.
    middle = net.mean(axis=(0, 1))
    single = np.ascontiguousarray(along.T, np.float32)
    x, y = ((down @ (net[..., axis] - middle[axis])).astype(np.float32) @ single for axis in (0, 1))
    return x + np.float32(middle[0]), y + np.float32(middle[1])


def _weights(count: int, ring: int, cell: int, margin: float) -> Points:
    """Catmull-Rom weights (pixels x lattice lines) along one axis."""
    size = round((count + 2 * margin) * cell)
    place = (np.arange(size) + 0.5) / cell - margin + ring
    knots = count + 1 + 2 * ring
    base = np.clip(np.floor(place).astype(int), 1, knots - 3)
    t = place - base
    cubic = np.stack(
        [
            -0.5 * t + t**2 - 0.5 * t**3,
            1 - 2.5 * t**2 + 1.5 * t**3,
            0.5 * t + 2 * t**2 - 1.5 * t**3,
            -0.5 * t**2 + 0.5 * t**3,
        ],
        -1,
    )
    weights = np.zeros((size, knots))
    for offset in range(4):
        weights[np.arange(size), base - 1 + offset] = cubic[:, offset]
    return weights
