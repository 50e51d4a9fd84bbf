"""The picture of a grid that the lattice network sees."""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Image
from recognise.evidence import Flat
from recognise.marks.heads import CELL, MARGIN

SAMPLED = 4
"""Every so many pixels are looked at for the colour of the paper."""
PAPER = 0.85
"""The share of the pixels that are darker than what is taken for paper: grid and marks cover less than half of a
picture, and the brightest pixels are noise."""
DARKEST_PAPER = 0.2
"""Of white: paper is not taken for darker, whatever the light."""


def lattice_picture(flat: Flat) -> Image:
    """A flattened grid at CELL pixels a cell with MARGIN cells of page around it; RGB. Raises ValueError where the flat
    picture shows less of the page."""
    if flat.margin < MARGIN:
        raise ValueError(f"{flat.margin} cells of page around the grid, {MARGIN} are needed")
    start = round((flat.margin - MARGIN) * flat.cell)
    rows, columns = flat.rows + 2 * MARGIN, flat.columns + 2 * MARGIN
    part = flat.image[start : start + rows * flat.cell, start : start + columns * flat.cell]
    size = columns * CELL, rows * CELL
    return np.asarray(cv2.resize(part, size, interpolation=cv2.INTER_AREA), np.uint8)


def normalised(image: Image) -> npt.NDArray[np.float32]:
    """The network's input (1, 3, height, width): each channel against its paper, 0 for paper and -1 for black."""
    scaled = image.astype(np.float32) / 255
    sampled = scaled[::SAMPLED, ::SAMPLED].reshape(-1, 3)
    paper = np.maximum(np.quantile(sampled, PAPER, axis=0), DARKEST_PAPER).astype(np.float32)
    return np.ascontiguousarray((scaled / paper - 1).transpose(2, 0, 1)[None])
