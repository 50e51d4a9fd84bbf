"""From cells of a grid to points of the page as displayed."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from ingest.page import Page, Point
from recognise.evidence import Flat, Lattice


def to_page(page: Page, flat: Flat, points: Sequence[Point]) -> list[Point]:
    """Points in cells to points of `page.frame`. Points beyond the flattened margin come to lie at its border."""
    places = (np.asarray(points, dtype=np.float64).reshape(-1, 2) + flat.margin) * flat.cell - 0.5
    found = np.stack([_sampled(flat.map_x, places), _sampled(flat.map_y, places)], axis=-1)
    # The maps name pixel centres; the frame counts from the outer corner of the first pixel.
    return [(float(x), float(y)) for x, y in page.to_frame(found + 0.5)]


def _sampled(values: npt.NDArray[np.float32], places: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Bilinear samples of an array at (x, y) places."""
    height, width = values.shape
    x = np.clip(places[:, 0], 0, width - 1)
    y = np.clip(places[:, 1], 0, height - 1)
    x0 = np.minimum(x.astype(int), max(width - 2, 0))
    y0 = np.minimum(y.astype(int), max(height - 2, 0))
    fx, fy = x - x0, y - y0
    upper = values[y0, x0] * (1 - fx) + values[y0, x0 + 1] * fx
    lower = values[y0 + 1, x0] * (1 - fx) + values[y0 + 1, x0 + 1] * fx
    return np.asarray(upper * (1 - fy) + lower * fy, dtype=np.float64)


def corners(page: Page, lattice: Lattice) -> list[Point]:
    """The four corners of a grid on the page, clockwise from the grid's own top left."""
    points = lattice.points
    four = [points[0, 0], points[0, -1], points[-1, -1], points[-1, 0]]
    return [(float(x), float(y)) for x, y in page.to_frame(four)]
