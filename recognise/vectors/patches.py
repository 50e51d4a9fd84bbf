"""Masks on parts of the canvas on which a grid is drawn anew, put together and compared."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from recognise.pixels.frame import Mask

CELL = 64
"""Pixels a cell of the masks."""
TOUCH = 3
"""Pixels by which inks of one mark may stand apart."""


@dataclass(frozen=True, slots=True)
class Patch:
    """A mask on a part of the canvas; `left`, `top` in canvas pixels."""

    left: int
    top: int
    mask: Mask

    @property
    def window(self) -> tuple[slice, slice]:
        """The part of the canvas."""
        rows, columns = self.mask.shape
        return slice(self.top, self.top + rows), slice(self.left, self.left + columns)


def canvas_mask(patch: Patch, shape: tuple[int, int]) -> Mask:
    """A patch on an otherwise empty canvas."""
    mask = np.zeros(shape, dtype=np.bool_)
    mask[patch.window] = patch.mask
    return mask


def canvas_size(patch: Patch) -> int:
    """Pixels of a patch that are set."""
    return int(np.count_nonzero(patch.mask))


def canvas_part(patch: Patch, without: Patch) -> Mask:
    """The mask of a patch without what another covers."""
    mask = patch.mask.copy()
    y, x = without.top - patch.top, without.left - patch.left
    rows, columns = without.mask.shape
    inner = mask[max(0, y) : max(0, y + rows), max(0, x) : max(0, x + columns)]
    inner &= ~without.mask[max(0, -y) : max(0, -y) + inner.shape[0], max(0, -x) : max(0, -x) + inner.shape[1]]
    return mask


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
