"""A rough name for a piece of ink that is no character and no line, by its outline alone."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from recognise.pixels.frame import Mask

SQUARE = 1.25
"""Sides that differ by less than this ratio are alike."""
LONG = 2.2
"""A bar is this many times as long as wide at least."""
FULL = 0.85
"""A square, and a bar that lies level, fill this part of their rectangle at least; a disc pi / 4, a diamond half."""
PIECES = 4
"""From so many pieces in a group on they are dashes."""
THIN = 0.3
"""A piece that fills less than this part of its rectangle is a line bent or slanted."""


@dataclass(frozen=True, slots=True)
class Outline:
    """Measures of a piece: filled share of its rectangle, the same with its holes filled, number of pieces."""

    width: int
    height: int
    filled: float
    closed: float
    pieces: int

    @property
    def even(self) -> bool:
        """Whether its sides are alike."""
        return max(self.width, self.height) <= SQUARE * min(self.width, self.height)


def measure(mask: Mask) -> Outline:
    """The measures of the ink in a mask that holds nothing else."""
    height, width = mask.shape
    contours, _ = cv2.findContours(mask.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    closed = np.zeros((height, width), np.uint8)
    cv2.drawContours(closed, contours, -1, 1, -1)
    return Outline(width, height, float(mask.mean()), float(closed.mean()), len(contours))


def name_of(mask: Mask) -> str:
    """`dashes`, `dot`, `ring`, `square`, `frame`, `diamond`, `bar`, `line`, or `mark` when nothing fits."""
    outline = measure(mask)
    if outline.pieces >= PIECES:
        return "dashes"
    if outline.even and outline.pieces == 1:
        return _compact(outline, mask)
    long = max(outline.width, outline.height) >= LONG * min(outline.width, outline.height)
    if long and outline.filled >= FULL - 0.1:
        return "bar"
    return "line" if outline.filled < THIN and outline.closed < 2 * THIN else "mark"


def _compact(outline: Outline, mask: Mask) -> str:
    hollow = outline.filled < 0.7 * outline.closed
    if outline.closed >= 0.93:
        return "frame" if hollow else "square"
    if outline.closed >= 0.7 and _corners_empty(mask):
        return "ring" if hollow else "dot"
    if 0.4 <= outline.closed <= 0.62 and _corners_empty(mask):
        return "diamond"
    return "mark"


def _corners_empty(mask: npt.NDArray[np.bool_]) -> bool:
    """Whether the four corners of the rectangle, a tenth of its sides each, hold no ink."""
    rows, columns = (max(1, round(0.1 * side)) for side in mask.shape)
    corners = (mask[:rows, :columns], mask[:rows, -columns:], mask[-rows:, :columns], mask[-rows:, -columns:])
    return not any(corner.any() for corner in corners)
