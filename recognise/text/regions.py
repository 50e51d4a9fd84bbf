"""Where on a page text stands: blocks of it, found by morphology, without reading anything."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Image

Grey = npt.NDArray[np.uint8]
Mask = npt.NDArray[np.uint8]

_WORK_SIDE = 1600
"""Pixels on the long side on which blocks are looked for; letters of 6 pt are then still 5 px high on A4."""
_GROUND = 41
"""Side in work pixels of the window whose brightest part is taken for paper: wider than the boldest stem."""
_INK = 0.82
"""Ink is darker than this part of the paper around it."""
_LETTER = (3, 60)
"""Height in work pixels of what may be a letter."""
_ACROSS, _DOWN = 1.6, 1.1
"""How far letters of one block are apart, in heights of a usual letter: words in a line, and lines."""
_LEAST_LETTERS = 3
"""Components that a block has at least."""


@dataclass(frozen=True, slots=True)
class Region:
    """A block of text: its box in pixels of the page image, the usual height of its letters, and about how many lines
    it has."""

    box: Box
    letter: float
    lines: int


def text_regions(image: Image, grids: Sequence[Box]) -> list[Region]:
    """Blocks of text outside the grids (boxes in image pixels), top to bottom."""
    scale = min(1.0, _WORK_SIDE / max(image.shape[:2]))
    grey = cv2.cvtColor(image, cv2.COLOR_RGB2GRAY)
    small = cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA) if scale < 1 else grey
    ink = _ink(small)
    for left, top, right, bottom in grids:
        ink[_span(top * scale, bottom * scale), _span(left * scale, right * scale)] = 0
    letters, height = _letters(ink)
    if not height:
        return []
    reach = cv2.getStructuringElement(cv2.MORPH_RECT, (_odd(_ACROSS * height), _odd(_DOWN * height)))
    joined = cv2.morphologyEx(letters, cv2.MORPH_CLOSE, reach)
    found = [_region(box, letters, scale) for box in _boxes(joined)]
    return sorted((r for r in found if r is not None), key=lambda r: (r.box[1], r.box[0]))


def _ink(grey: Grey) -> Mask:
    paper = cv2.GaussianBlur(cv2.dilate(grey, np.ones((_GROUND, _GROUND), np.uint8)), (0, 0), _GROUND / 3)
    mask: Mask = ((grey.astype(np.float32) < _INK * paper.astype(np.float32)) * np.uint8(255)).astype(np.uint8)
    return mask


def _letters(ink: Mask) -> tuple[Mask, float]:
    """Ink in pieces of a letter's size, and the usual height of those."""
    count, labels, stats, _ = cv2.connectedComponentsWithStats(ink, connectivity=8)
    heights, widths = stats[:, cv2.CC_STAT_HEIGHT], stats[:, cv2.CC_STAT_WIDTH]
    keep = (heights >= _LETTER[0]) & (heights <= _LETTER[1]) & (widths <= 6 * heights) & (widths <= 4 * _LETTER[1])
    keep[0] = False
    if not keep.any():
        return np.zeros_like(ink), 0.0
    mask: Mask = (keep[labels] * np.uint8(255)).astype(np.uint8)
    return mask, float(np.median(heights[keep]))


def _boxes(mask: Mask) -> list[tuple[int, int, int, int]]:
    _, _, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8)
    return [(int(x), int(y), int(x + w), int(y + h)) for x, y, w, h, _ in stats[1:]]


def _region(box: tuple[int, int, int, int], letters: Mask, scale: float) -> Region | None:
    left, top, right, bottom = box
    part = np.ascontiguousarray(letters[top:bottom, left:right])
    count, _, stats, _ = cv2.connectedComponentsWithStats(part, connectivity=8)
    if count - 1 < _LEAST_LETTERS or right - left < bottom - top and count < 12:
        return None
    height = float(np.percentile(stats[1:, cv2.CC_STAT_HEIGHT], 60))
    rows = part.any(axis=1)
    lines = int(np.count_nonzero(np.diff(np.concatenate(([False], rows)).astype(np.int8)) == 1))
    return Region((left / scale, top / scale, right / scale, bottom / scale), height / scale, max(1, lines))


def _span(low: float, high: float) -> slice:
    return slice(max(0, int(low)), max(0, int(np.ceil(high))))


def _odd(value: float) -> int:
    return max(3, int(value) | 1)
