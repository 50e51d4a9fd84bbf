"""A grid laid flat: afterwards every coordinate is in cells."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np

from ingest.page import Image
from recognise.evidence import Flat, Lattice
from recognise.grids.mesh import step
from recognise.grids.warp import mesh_maps

SLACK = 0.4
"""A page up to so much short of the next whole factor is shrunk by it all the same."""
CLOSER = 2
"""How much larger the scale of a closer look is: totals of cages are a fifth of a cell high, a quarter of a given."""
RICHER = 1.2
"""Page pixels to one of the flat picture, along a line, from which on a closer look shows more."""


def flatten(image: Image, lattice: Lattice, cell: int = 64, margin: float = 3.0) -> Flat:
    """The grid of `lattice` (pixels of `image`, RGB) with `cell` pixels a cell and `margin` cells of page around it.

    Follows the mesh of lattice points, not one homography, so that curled pages come out straight; where the page has
    more pixels than the flat picture, it is shrunk first, so that thin lines do not flicker."""
    map_x, map_y = mesh_maps(lattice.points, cell, margin)
    flat = _sampled(image, map_x, map_y, step(lattice.points) / cell)
    beyond = _beyond(image, map_x, map_y)
    return Flat(flat, lattice.rows, lattice.columns, cell, margin, map_x, map_y, beyond, page=image)


def taken_anew(flat: Flat, map_x: np.ndarray, map_y: np.ndarray) -> Flat:
    """The same grid taken from its page at other places. Raises ValueError where the page is not there any more."""
    if flat.page is None:
        raise ValueError("a flattened grid without its page cannot be taken anew")
    image = _sampled(flat.page, map_x, map_y, _density(map_x, map_y))
    return replace(flat, image=image, map_x=map_x, map_y=map_y, beyond=_beyond(flat.page, map_x, map_y))


def _beyond(image: Image, map_x: np.ndarray, map_y: np.ndarray) -> np.ndarray | None:
    """The pixels that lie beyond the page; None where none do."""
    height, width = image.shape[:2]
    beyond = (map_x < 0) | (map_y < 0) | (map_x > width - 1) | (map_y > height - 1)
    return beyond if beyond.any() else None


def _density(map_x: np.ndarray, map_y: np.ndarray) -> float:
    """Page pixels to one of the flat picture, along its middle."""
    middle = len(map_x) // 2
    return float(np.hypot(np.diff(map_x[middle]), np.diff(map_y[middle])).mean())


def closer(flat: Flat, margin: float) -> Flat | None:
    """The same grid taken from its page at CLOSER times the scale, with less of the page around it; None where the page
    has no more pixels than the flat picture has."""
    if flat.page is None:
        return None
    away = round((flat.margin - margin) * flat.cell)
    height, width = (size - 2 * away for size in flat.map_x.shape)
    maps = [part[away : away + height, away : away + width] for part in (flat.map_x, flat.map_y)]
    density = _density(maps[0], maps[1])
    if density < RICHER:
        return None
    size = CLOSER * width, CLOSER * height
    x, y = (np.asarray(cv2.resize(part, size, interpolation=cv2.INTER_LINEAR), np.float32) for part in maps)
    image = _sampled(flat.page, x, y, density / CLOSER)
    return Flat(image, flat.rows, flat.columns, CLOSER * flat.cell, margin, x, y)


def _sampled(image: Image, map_x: np.ndarray, map_y: np.ndarray, step: float) -> Image:
    """The image at the places of the maps, whose neighbours lie `step` pixels apart."""
    source, x, y = image, map_x, map_y
    shrink = int(step + SLACK)
    if shrink >= 2:
        left, top, right, bottom = _window(map_x, map_y, image)
        source = image[top:bottom, left:right]
        size = max(1, source.shape[1] // shrink), max(1, source.shape[0] // shrink)
        x = (map_x - left + 0.5) * np.float32(size[0] / source.shape[1]) - np.float32(0.5)
        y = (map_y - top + 0.5) * np.float32(size[1] / source.shape[0]) - np.float32(0.5)
        source = np.asarray(cv2.resize(source, size, interpolation=cv2.INTER_AREA), np.uint8)
    white = (255, 255, 255)
    taken = cv2.remap(source, x, y, cv2.INTER_CUBIC, borderMode=cv2.BORDER_CONSTANT, borderValue=white)
    return np.asarray(taken, np.uint8)


def _window(map_x: np.ndarray, map_y: np.ndarray, image: Image) -> tuple[int, int, int, int]:
    """The part of the image that is looked at, with a rim for interpolation; never empty."""
    height, width = image.shape[:2]
    left = int(np.clip(map_x.min() - 8, 0, width - 2))
    top = int(np.clip(map_y.min() - 8, 0, height - 2))
    right = int(np.clip(map_x.max() + 9, left + 2, width))
    bottom = int(np.clip(map_y.max() + 9, top + 2, height))
    return left, top, right, bottom
