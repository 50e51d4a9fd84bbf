"""Light evened out: how much darker than the paper around it each pixel is."""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Image

Grey = npt.NDArray[np.uint8]
Mask = npt.NDArray[np.uint8]
"""1 where something is, 0 elsewhere."""
Contrast = npt.NDArray[np.float32]


def luminance(image: Image) -> Grey:
    """The brightness of an RGB image, height x width, 0 (black) to 255."""
    if image.ndim == 2:
        return image
    return np.asarray(cv2.cvtColor(image, cv2.COLOR_RGB2GRAY), np.uint8)


def odd(length: float, least: int = 3) -> int:
    """The odd whole number nearest below `length`, at least `least`: kernels have a centre."""
    return max(least, int(length) // 2 * 2 + 1)


def ink(grey: Grey, reach: int) -> Contrast:
    """Ink thinner than `reach` pixels in some direction: 0 for paper, 1 for black on white.

    A black-hat divided by the closed image, so that shadow and coloured light drop out."""
    return _relative(grey, np.ones((reach, reach), np.uint8))


def across_rows(grey: Grey, reach: int) -> Contrast:
    """Ink of lines that run along the rows (horizontal lines), at most `reach` pixels thick."""
    return _relative(grey, np.ones((reach, 1), np.uint8))


def across_columns(grey: Grey, reach: int) -> Contrast:
    """Ink of lines that run along the columns (vertical lines), at most `reach` pixels thick."""
    return _relative(grey, np.ones((1, reach), np.uint8))


def _relative(grey: Grey, kernel: npt.NDArray[np.uint8]) -> Contrast:
    paper = cv2.morphologyEx(grey, cv2.MORPH_CLOSE, kernel).astype(np.float32)
    return np.asarray((paper - grey) / np.maximum(paper, DARKEST_PAPER), np.float32)


DARKEST_PAPER = 24.0
"""Paper darker than this is not lit: its contrast is noise."""
