"""Masks on parts of the canvas, put together and compared."""

from __future__ import annotations

import cv2
import numpy as np

from recognise.vectors.inks import Patch

TOUCH = 3
"""Pixels by which inks of one mark may stand apart."""


def joined_patches(one: Patch, other: Patch) -> Patch:
    """Both patches as one."""
    left, top = min(one.left, other.left), min(one.top, other.top)
    right = max(one.left + one.mask.shape[1], other.left + other.mask.shape[1])
    bottom = max(one.top + one.mask.shape[0], other.top + other.mask.shape[0])
    mask = np.zeros((bottom - top, right - left), dtype=np.bool_)
    for patch in (one, other):
        y, x = patch.top - top, patch.left - left
        mask[y : y + patch.mask.shape[0], x : x + patch.mask.shape[1]] |= patch.mask
    return Patch(left, top, mask)


def touch(one: Patch, other: Patch) -> bool:
    """Whether two patches come as near as a head to its line."""
    top, left = max(one.top, other.top - TOUCH), max(one.left, other.left - TOUCH)
    bottom = min(one.top + one.mask.shape[0], other.top + other.mask.shape[0] + TOUCH)
    right = min(one.left + one.mask.shape[1], other.left + other.mask.shape[1] + TOUCH)
    if bottom <= top or right <= left:
        return False
    grown = cv2.dilate(
        np.pad(other.mask, TOUCH).astype(np.uint8), np.ones((2 * TOUCH + 1, 2 * TOUCH + 1), np.uint8)
    ).view(np.bool_)
    y, x = top - other.top + TOUCH, left - other.left + TOUCH
    part = one.mask[top - one.top : bottom - one.top, left - one.left : right - one.left]
    return bool((grown[y : y + bottom - top, x : x + right - left] & part).any())
