"""The square window around a character that the network was trained on, and its normal form."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.glyphs.classes import FAINT, FILL, SIDE

Grey = npt.NDArray[np.uint8]


def window(image: Grey, box: Box) -> Grey:
    """The square cut-out around `box` (x0, y0, x1, y1 in pixels, ends exclusive) that `GlyphReader.read` wants.

    `image` is grey, height x width. The box's longer side fills FILL of the window, its aspect is kept, and paper
    beyond the image repeats the image's border. Returns SIDE x SIDE grey. Raises ValueError for an empty box."""
    x0, y0, x1, y1 = box
    longer = max(x1 - x0, y1 - y0)
    if longer <= 0 or image.size == 0:
        raise ValueError(f"no window around the empty box {box}")
    half = longer / FILL / 2
    centre_x, centre_y = (x0 + x1) / 2, (y0 + y1) / 2
    scale = SIDE / (2 * half)
    if scale < 1:
        return _reduced(image, centre_x - half, centre_y - half, 2 * half)
    shift = np.array(
        [[1 / scale, 0, centre_x - half + 0.5 / scale - 0.5], [0, 1 / scale, centre_y - half + 0.5 / scale - 0.5]]
    )
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    return np.asarray(
        cv2.warpAffine(image, shift, (SIDE, SIDE), flags=flags, borderMode=cv2.BORDER_REPLICATE), np.uint8
    )


def _reduced(image: Grey, left: float, top: float, side: float) -> Grey:
    """A square of the image averaged down to SIDE pixels."""
    size = max(SIDE, round(side))
    x, y = round(left), round(top)
    height, width = image.shape
    columns = slice(min(max(x, 0), width - 1), min(max(x + size, 1), width))
    rows = slice(min(max(y, 0), height - 1), min(max(y + size, 1), height))
    inner = image[rows, columns]
    padding = (rows.start - y, y + size - rows.stop, columns.start - x, x + size - columns.stop)
    if any(padding):
        before_y, after_y, before_x, after_x = (max(0, amount) for amount in padding)
        inner = cv2.copyMakeBorder(inner, before_y, after_y, before_x, after_x, cv2.BORDER_REPLICATE)
    return np.asarray(cv2.resize(inner, (SIDE, SIDE), interpolation=cv2.INTER_AREA), np.uint8)


def normalised(crops: Sequence[Grey]) -> npt.NDArray[np.float32]:
    """The network's input (n, 1, SIDE, SIDE): the ground (median) is 0, the ink 1, whichever of them is darker.

    The ink's level is the 2nd or 98th percentile, whichever is further from the ground. Crops of another size are
    brought to SIDE first."""
    stack = np.empty((len(crops), SIDE * SIDE), np.float32)
    for row, crop in zip(stack, crops, strict=True):
        fitting = crop.shape == (SIDE, SIDE)
        row[:] = (crop if fitting else cv2.resize(crop, (SIDE, SIDE), interpolation=cv2.INTER_AREA)).ravel()
    stack /= 255
    low, ground, high = np.quantile(stack, (0.02, 0.5, 0.98), axis=1, keepdims=True, method="nearest")
    darker = ground - low >= high - ground
    span = np.maximum(np.where(darker, ground - low, high - ground), FAINT)
    signed = np.where(darker, ground - stack, stack - ground) / span
    return np.asarray(np.clip(signed, -1, 1.5), np.float32).reshape(-1, 1, SIDE, SIDE)
