"""Long diagonals printed lighter than the tint of their grid: ink is dark, so no other reader sees them."""

from __future__ import annotations

import math
from collections.abc import Iterator

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Flat, Shape
from recognise.grids.ink import luminance
from recognise.pixels.frame import Raster

ACROSS = np.linspace(-0.3, 0.3, 61)
"""In cells: places beside a diagonal that are looked at."""
LINE, BESIDE = 0.06, (0.1, 0.25)
"""In cells: how far from its place the middle of the line lies at most; where the ground beside it is measured."""
STEPS = 40
"""Places along each cell that are looked at."""
CROSSING = 0.12
"""In cells: so near to a lattice point the lattice lines hide the diagonal."""
LIGHTER = 0.04
"""How much lighter than the ground on both sides the line is."""
SHOWS, NOWHERE = 0.7, 0.3
"""Part of the diagonal's length in each of its thirds where it is lighter: of a line, digits stand in its way; and of
the middles between both sides at most, where there is none."""
WHITE = (255, 255, 255)


def light_diagonals(flat: Flat, raster: Raster) -> Iterator[Shape]:
    """The diagonals from corner to corner of a grid that are lighter than their ground."""
    size = raster.rows
    if size != raster.columns:
        return
    grey = cv2.GaussianBlur(luminance(flat.image), (0, 0), max(0.02 * raster.cell, 0.5)).astype(np.float32)
    for direction, up in (("down", False), ("up", True)):
        light = _lighter(grey, raster, up)
        line, off = np.abs(ACROSS) <= LINE, np.abs(ACROSS) >= BESIDE[1]
        thirds = np.array_split(light[:, line].any(axis=1), 3)
        if min(part.mean() for part in thirds) >= SHOWS and light[:, off].mean() <= NOWHERE:
            sure = float(np.mean([part.mean() for part in thirds]))
            yield Shape("diagonal", (0, 0, size, size), WHITE, "shape", sure, direction=direction)


def _lighter(grey: npt.NDArray[np.float32], raster: Raster, up: bool) -> npt.NDArray[np.bool_]:
    """For places along a diagonal (axis 0) and ACROSS it (axis 1) whether it is lighter there than on both sides."""
    along = (np.arange(raster.rows * STEPS) + 0.5) / STEPS
    along = along[np.abs(along - np.round(along)) >= CROSSING]
    half = 1 / math.sqrt(2)
    x = along[:, None] + half * ACROSS
    y = along[:, None] - half * ACROSS
    y = raster.rows - y if up else y
    at = [(raster.origin + place * raster.cell - 0.5).astype(np.float32) for place in (x, y)]
    seen = cv2.remap(grey, at[0], at[1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    low, high = (round(far / (ACROSS[1] - ACROSS[0])) for far in BESIDE)
    middle = (low + high) // 2
    ground = np.pad(cv2.blur(seen, (high - low + 1, 1)), ((0, 0), (middle, middle)), mode="edge")
    sides = np.maximum(ground[:, : -2 * middle], ground[:, 2 * middle :])
    return np.asarray(seen >= (1 + LIGHTER) * sides, np.bool_)
