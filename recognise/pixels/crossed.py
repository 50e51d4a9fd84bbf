"""Characters that touch a drawn line (the wall of a tube, a diagonal): the line is taken out, what is left is read."""

from __future__ import annotations

import cv2
import numpy as np

from recognise.pixels.blobs import CORE, CORE_PIXELS, FAINT, LARGEST, Blob, Pieces, whole_pieces
from recognise.pixels.frame import Grey, Mask, Raster

STRAIGHT = 0.62
"""In cells: a straight run of ink at least this long is a line; the stem of the tallest common digit is shorter."""
THIN = 0.09
"""In cells: a line wider than this is no thin line; it is left to the layer of filled lines."""
TALL = 0.2
"""In cells: what is left counts as a character from this height on; less is a rest of line."""
SLIT = 0.05
"""In cells: half the cut that taking out a line leaves in a character."""


def crossed_pieces(drawn: Grey, pieces: Pieces, raster: Raster) -> Pieces:
    """The pieces of character's size among the ink that is too large to be one, once straight thin lines are out."""
    window = raster.grid_slices()
    dark = (drawn[window] > pieces.tones.level(FAINT)) & ~pieces.mask(pieces.blobs)[window]
    lines = _straight_lines(dark, raster)
    rest = dark & ~_grown(lines, 1)
    mended = cv2.morphologyEx(rest.astype(np.uint8), cv2.MORPH_CLOSE, _square(raster.px(SLIT)))
    _, part, stats, _ = cv2.connectedComponentsWithStats(mended, connectivity=8)
    strong = np.bincount(part[drawn[window] > pieces.tones.level(CORE)], minlength=len(stats)) >= CORE_PIXELS
    fits = (stats[:, 3] >= TALL * raster.cell) & (stats[:, 2:4].max(axis=1) <= LARGEST * raster.cell) & strong
    labels = np.zeros(drawn.shape, dtype=np.int32)
    labels[window] = part
    blobs = []
    for index in np.nonzero(fits)[0]:
        x, y, width, height, area = (int(v) for v in stats[index])
        if index and min(x, y) > 0:
            blobs.append(Blob(x + window[1].start, y + window[0].start, width, height, area, (int(index),)))
    return Pieces(labels, tuple(whole_pieces(blobs, raster)), pieces.tones)


def _straight_lines(dark: Mask, raster: Raster) -> Mask:
    """Long straight thin runs of ink, level, upright and along both diagonals."""
    ink = dark.astype(np.uint8)
    length = raster.px(STRAIGHT) | 1
    thick = cv2.morphologyEx(ink, cv2.MORPH_OPEN, _square(raster.px(THIN / 2)))
    slanted = np.eye(round(length / np.sqrt(2)), dtype=np.uint8)
    # A diagonal one pixel wide has gaps for a kernel one pixel wide: it is looked for in slightly grown ink.
    fat = cv2.dilate(ink, np.ones((2, 2), np.uint8))
    found = np.zeros_like(ink)
    for kernel, source in (
        (np.ones((1, length), np.uint8), ink),
        (np.ones((length, 1), np.uint8), ink),
        (slanted, fat),
        (np.ascontiguousarray(slanted[::-1]), fat),
    ):
        found |= cv2.morphologyEx(source, cv2.MORPH_OPEN, kernel)
    return np.asarray((found > 0) & dark & ~(thick > 0), np.bool_)


def _square(half: int) -> cv2.typing.MatLike:
    return np.ones((2 * half + 1, 2 * half + 1), np.uint8)


def _grown(mask: Mask, pixels: int) -> Mask:
    return np.asarray(cv2.dilate(mask.astype(np.uint8), _square(pixels)), np.bool_)
