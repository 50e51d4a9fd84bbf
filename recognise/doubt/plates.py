"""Pale plates beside the grid: some print sets each clue on one, also where no clue stands. A plate says nothing, and
is taken out of the ink before that is explained; what stands on it is not."""

from __future__ import annotations

from collections.abc import Iterable

import cv2
import numpy as np

from ingest.page import Box
from recognise.pixels.frame import Grey, Raster

BROAD = 0.25
"""In cells: no stroke of a clue is as broad, and every plate is broader."""
PALE = 0.35
"""Ink (0 to 1) of the darkest plate: black figures are read on it."""
CORNER = 0.06
"""In cells: how far the corners of a plate reach beyond what a disc can fill."""
ROOM = 0.6
"""In cells: how far beyond what clues take up their plates reach."""


def without_plates(level: Grey, rings: Iterable[Box], raster: Raster) -> Grey:
    """The ink (0 to 1, in pixels) without what is both broad and pale in the strips beside the grid in which clues
    stand: a grey-scale opening keeps just that (J. Serra, Image Analysis and Mathematical Morphology, 1982)."""
    left = level.copy()
    size = 2 * (raster.px(BROAD) // 2) + 1
    disc = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (size, size))
    grid = raster.grid_slices()
    for x0, y0, x1, y1 in rings:
        strip = raster.slices((x0 - ROOM, y0 - ROOM, x1 + ROOM, y1 + ROOM))
        broad = cv2.morphologyEx(level[strip], cv2.MORPH_OPEN, disc)
        plate = cv2.dilate(np.where(broad <= PALE, broad, 0), np.ones((2 * raster.px(CORNER) + 1,) * 2, np.uint8))
        left[strip] = np.minimum(left[strip], np.maximum(level[strip] - plate, 0))
    left[grid] = level[grid]
    return left
