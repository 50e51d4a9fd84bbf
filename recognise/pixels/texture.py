"""Ink told from what paper shows by itself: shadows, folds, grain, show-through.

Shade changes slowly: what an opening with a disc larger than any mark leaves is no mark (the white top-hat of
J. Serra, Image Analysis and Mathematical Morphology, 1982). Texture is measured cell by cell on the paler half of the
paper, and ink counts where it rises well above it or goes on from there (hysteresis, J. Canny, IEEE PAMI 8, 1986).
"""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

from recognise.pixels.frame import Grey, Mask, Raster

WIDEST_MARK = 1.0
"""In cells: the disc of the opening; bulbs reach 0.94, and wider areas are tints, which end on lattice lines."""
REDUCED = 4
"""Shade is measured at a quarter of the size: it has no detail, and noise averages out."""
SHADE_BLUR = 0.25
"""In cells: shade is smoothed by this, so that an area with a sharp border leaves its border behind."""
SOFT = 0.03
"""Smoothing in cells before texture is measured and ink is told from it: grain fades, the thinnest stroke does not."""
INNER = 0.14
"""In cells: texture is measured this far from lattice lines."""
WEAK, STRONG = 3.5, 7.0
"""In typical deviations of the texture: where ink may go on, and where it must begin."""
MOST_TEXTURE = 0.25
"""Ink (0 to 1) that is never taken for texture: print is darker on any paper."""
QUIET = 25
"""Percentile of cells by their texture at which paper surely shows: marks fill no more than three cells in four."""
UNEVEN = 3.0
"""The texture of one paper differs from place to place by no more than this factor, light and shadow included."""
LEAST = 0.004
"""Texture (ink 0 to 1) that any paper may have: one level of 256."""
TAIL = 1.2816
"""Standard deviations from the median of a normal distribution to its 10th percentile."""


def without_shade(ink: Grey, raster: Raster) -> Grey:
    """The ink less what changes more slowly than any mark."""
    height, width = ink.shape
    small = cv2.resize(ink, (width // REDUCED, height // REDUCED), interpolation=cv2.INTER_AREA)
    size = max(3, round(WIDEST_MARK * raster.cell / REDUCED)) | 1
    disc = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (size, size))
    shade = cv2.morphologyEx(small, cv2.MORPH_OPEN, disc, borderType=cv2.BORDER_REPLICATE)
    shade = cv2.GaussianBlur(shade, (0, 0), SHADE_BLUR * raster.cell / REDUCED)
    whole = cv2.resize(shade, (width, height), interpolation=cv2.INTER_LINEAR)
    return np.asarray(np.maximum(ink - whole, 0), np.float32)


def print_mask(ink: Grey, raster: Raster, floor: float) -> Mask:
    """Where there is ink that rises above the paper's texture, with a little around it for antialiasing."""
    soft = np.asarray(cv2.GaussianBlur(ink, (0, 0), SOFT * raster.cell), np.float32)
    usual, deviation = texture(soft, raster)
    weak = soft > np.clip(usual + WEAK * deviation, floor, MOST_TEXTURE)
    strong = soft > np.clip(usual + STRONG * deviation, floor, MOST_TEXTURE)
    count, labels = cv2.connectedComponents(weak.astype(np.uint8), connectivity=8)
    kept = np.zeros(count, dtype=np.uint8)
    kept[labels[strong]] = 1
    kept[0] = 0
    reach = 2 * raster.px(SOFT) + 1
    return np.asarray(cv2.dilate(kept[labels], np.ones((reach, reach), np.uint8)), np.bool_)


def texture(soft: Grey, raster: Raster) -> tuple[Grey, Grey]:
    """Median and typical deviation of the paper at each pixel, from the paler half of each cell; cells that are full of
    ink take those of their palest neighbour, and no cell has far more than the quiet ones."""
    near = raster.px(INNER)
    blocks = soft[raster.grid_slices()].reshape(raster.rows, raster.cell, raster.columns, raster.cell)
    inside = blocks[:, near:-near:2, :, near:-near:2].swapaxes(1, 2)
    low, middle = np.percentile(inside, (10, 50), axis=(2, 3)).astype(np.float32)
    return _spread(middle, soft.shape, raster), _spread((middle - low) / TAIL, soft.shape, raster)


def _spread(values: npt.NDArray[np.float32], shape: tuple[int, ...], raster: Raster) -> Grey:
    """Values of cells, evened out among neighbours, at each pixel; the margin goes on from the outermost cells."""
    quiet = max(float(np.percentile(values, QUIET)), LEAST)
    even = np.minimum(cv2.erode(values, np.ones((3, 3), np.uint8), borderType=cv2.BORDER_REPLICATE), UNEVEN * quiet)
    whole = cv2.resize(even, (raster.columns * raster.cell, raster.rows * raster.cell), interpolation=cv2.INTER_LINEAR)
    top = left = raster.origin
    bottom, right = shape[0] - top - whole.shape[0], shape[1] - left - whole.shape[1]
    return np.asarray(cv2.copyMakeBorder(whole, top, bottom, left, right, cv2.BORDER_REPLICATE), np.float32)
