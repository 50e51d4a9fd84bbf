"""The ink in each cell, one thing a cell, with what print keeps the same from cell to cell and a hand does not."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.ink import Ink
from recognise.quantiles import percentile
from schema.cells import Cell

Floats = npt.NDArray[np.float64]

RIM = 0.05
"""In cells: what is nearer to the cell's border may be a rest of a line."""
PEAK = 98.0
"""Percentile of a cell's ink that counts as its darkest: a character covers more than the rest."""
PALEST = 0.15
"""A cell with less ink at its darkest holds no character."""
CUT = 0.45
"""Part of the darkest ink from which on ink belongs to the strokes."""
CORE = 0.7
"""Part of the darkest ink from which on the colour of the ink shows."""
SMALLEST = 0.01
"""In square cells: what covers less is a speck or a dot, and no character."""
NEAR = 0.08
"""In cells: pieces nearer to the largest one belong to the same character."""
PICTURE = (20, 28)
"""Width and height of the picture by which shapes are compared."""


@dataclass(frozen=True, slots=True)
class Thing:
    """The ink that stands in one cell. `features` are those of FEATURES, in cells or as shares; `picture` is its shape
    at one size, zero in the mean and one in length; `crop` is grey with a rim, for reading, `inner` the ink's box in it
    in pixels."""

    cell: Cell
    box: Box
    features: Floats
    picture: Floats
    crop: npt.NDArray[np.uint8]
    inner: tuple[int, int, int, int]


FEATURES = ("top", "bottom", "middle", "height", "stroke", "dark", "red", "blue", "sharp")
"""Where it stands in its cell and how high it is; width of its strokes; how dark, which colour (red and blue less
green), how steep the sides of its strokes are."""
PLACE, HEIGHT = slice(0, 4), 3
INK = slice(4, 9)


def things(ink: Ink, raster: Raster) -> list[Thing]:
    """What stands in each cell, cell by cell."""
    cells = (Cell(row, column) for row in range(1, raster.rows + 1) for column in range(1, raster.columns + 1))
    return [thing for cell in cells if (thing := _thing(ink, raster, cell)) is not None]


def _thing(ink: Ink, raster: Raster, cell: Cell) -> Thing | None:
    rim = raster.px(RIM)
    x, y = ((n - 1) * raster.cell + raster.origin + rim for n in (cell.column, cell.row))
    inside = slice(y, y + raster.cell - 2 * rim), slice(x, x + raster.cell - 2 * rim)
    part = ink.drawn[inside]
    peak = float(percentile(part, PEAK))
    if peak < PALEST:
        return None
    own = _largest(part > CUT * peak, raster)
    if own is None:
        return None
    ys, xs = np.nonzero(own)
    left, top, right, bottom = int(xs.min()), int(ys.min()), int(xs.max()) + 1, int(ys.max()) + 1
    box = raster.box(x + left, y + top, right - left, bottom - top)
    features = _features(box, cell, own, part, ink.relative[inside], raster, peak)
    shown = np.where(cv2.dilate(own.astype(np.uint8), np.ones((5, 5), np.uint8)) > 0, np.clip(part / peak, 0, 1), 0)
    crop = np.rint(255 * (1 - shown)).astype(np.uint8)
    picture = _picture(part[top:bottom, left:right])
    return Thing(cell, box, features, picture, crop, (left, top, right, bottom))


def _largest(mask: Mask, raster: Raster) -> Mask | None:
    """The largest piece with those next to it; None where all are specks."""
    count, labels, stats, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8), connectivity=8)
    if count < 2:
        return None
    largest = 1 + int(stats[1:, cv2.CC_STAT_AREA].argmax())
    if stats[largest, cv2.CC_STAT_AREA] < SMALLEST * raster.cell**2:
        return None
    reach = 2 * raster.px(NEAR) + 1
    near = cv2.dilate((labels == largest).astype(np.uint8), np.ones((reach, reach), np.uint8)) > 0
    own = np.zeros(count, np.bool_)
    own[labels[near]] = True
    own[0] = False
    return np.asarray(own[labels], np.bool_)


def _features(
    box: Box, cell: Cell, own: Mask, part: Grey, relative: npt.NDArray[np.float32], raster: Raster, peak: float
) -> Floats:
    x, y = cell.column - 1, cell.row - 1
    core = own & (part > CORE * peak)
    # Something darker may stand in the same cell: then this thing has no pixel so dark.
    red, green, blue = relative[core if core.any() else own].mean(axis=0)
    inside = cv2.distanceTransform(np.pad(own.astype(np.uint8), 1), cv2.DIST_L2, 3)[1:-1, 1:-1]
    steep = np.hypot(cv2.Sobel(part, cv2.CV_32F, 1, 0), cv2.Sobel(part, cv2.CV_32F, 0, 1)) / 8
    dark = float(percentile(part[own], 80))
    # The mean distance to the border is a quarter of the width of a stroke.
    stroke = 4 * float(inside[own].mean()) / raster.cell
    sharp = float(percentile(steep[own], 90)) / dark * raster.cell
    middle = (box[0] + box[2]) / 2 - x
    return np.array([box[1] - y, box[3] - y, middle, box[3] - box[1], stroke, dark, red - green, blue - green, sharp])


def _picture(part: Grey) -> Floats:
    small = cv2.GaussianBlur(cv2.resize(part, PICTURE, interpolation=cv2.INTER_AREA), (0, 0), 1.0).ravel()
    centred = small.astype(np.float64) - small.mean()
    return np.asarray(centred / max(float(np.linalg.norm(centred)), 1e-9), np.float64)
