"""A grid laid flat: afterwards every coordinate is in cells."""

from __future__ import annotations

import cv2
import numpy as np

from ingest.page import Image
from recognise.evidence import Flat, Lattice
from recognise.grids.mesh import step
from recognise.grids.warp import mesh_maps


def flatten(image: Image, lattice: Lattice, cell: int = 64, margin: float = 3.0) -> Flat:
    """The grid of `lattice` (pixels of `image`, RGB) with `cell` pixels a cell and `margin` cells of page around it.

    Follows the mesh of lattice points, not one homography, so that curled pages come out straight; where the page has
    more pixels than the flat picture, it is shrunk first, so that thin lines do not flicker."""
    map_x, map_y = mesh_maps(lattice.points, cell, margin)
    source, x, y = image, map_x, map_y
    shrink = int(step(lattice.points) / cell + SLACK)
    if shrink >= 2:
        left, top, right, bottom = _window(map_x, map_y, image)
        source = image[top:bottom, left:right]
        size = max(1, source.shape[1] // shrink), max(1, source.shape[0] // shrink)
        x = (map_x - left + 0.5) * np.float32(size[0] / source.shape[1]) - np.float32(0.5)
        y = (map_y - top + 0.5) * np.float32(size[1] / source.shape[0]) - np.float32(0.5)
        source = np.asarray(cv2.resize(source, size, interpolation=cv2.INTER_AREA), np.uint8)
    white = (255, 255, 255)
    flat = cv2.remap(source, x, y, cv2.INTER_CUBIC, borderMode=cv2.BORDER_CONSTANT, borderValue=white)
    height, width = image.shape[:2]
    beyond = (map_x < 0) | (map_y < 0) | (map_x > width - 1) | (map_y > height - 1)
    rows, columns = lattice.rows, lattice.columns
    return Flat(np.asarray(flat, np.uint8), rows, columns, cell, margin, map_x, map_y, beyond if beyond.any() else None)


SLACK = 0.4
"""A page up to so much short of the next whole factor is shrunk by it all the same."""


def _window(map_x: np.ndarray, map_y: np.ndarray, image: Image) -> tuple[int, int, int, int]:
    """The part of the image that is looked at, with a rim for interpolation; never empty."""
    height, width = image.shape[:2]
    left = int(np.clip(map_x.min() - 8, 0, width - 2))
    top = int(np.clip(map_y.min() - 8, 0, height - 2))
    right = int(np.clip(map_x.max() + 9, left + 2, width))
    bottom = int(np.clip(map_y.max() + 9, top + 2, height))
    return left, top, right, bottom
