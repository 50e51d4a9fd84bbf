"""Cells that go on beside a grid, in pictures."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.evidence import Flat
from recognise.grids.clue_cells import without_clue_cells

CELL, MARGIN, SIDE, PAPER = 40, 3, 4, 240


def _flat(*boxes: tuple[float, float, float, float]) -> Flat:
    """A flattened grid with boxes beside it, in cells."""
    image = np.full(((SIDE + 2 * MARGIN) * CELL,) * 2 + (3,), PAPER, np.uint8)
    grid = [(0, k, SIDE, k) for k in range(SIDE + 1)] + [(k, 0, k, SIDE) for k in range(SIDE + 1)]
    for x0, y0, x1, y1 in (*grid, *boxes):
        ends = (round((v + MARGIN) * CELL) for v in (x0, y0, x1, y1))
        left, top, right, bottom = ends
        cv2.rectangle(image, (left, top), (right, bottom), (60, 60, 60), 1)
    where = np.zeros(image.shape[:2], np.float32)
    return Flat(image, SIDE, SIDE, CELL, MARGIN, where, where)


def _beside(flat: Flat) -> np.ndarray:
    """The picture around the grid, as dark as it is."""
    dark = PAPER - flat.image[..., 0].astype(int)
    low, high = round((MARGIN - 0.15) * CELL), round((MARGIN + SIDE + 0.15) * CELL)
    dark[low:high, low:high] = 0
    return dark


@pytest.mark.parametrize("side", ["left", "top", "right", "bottom"])
def test_their_lines_are_painted_over(side: str) -> None:
    at = -1 if side in ("left", "top") else SIDE
    boxes = [(at, k, at + 1, k + 1) if side in ("left", "right") else (k, at, k + 1, at + 1) for k in range(SIDE)]
    flat = without_clue_cells(_flat(*boxes))
    assert (_beside(flat) > 40).mean() < 0.001


@pytest.mark.parametrize(
    "boxes",
    [
        [(-1, 1, 0, 2)],
        [(-0.9, k + 0.2, -0.3, k + 0.8) for k in range(SIDE)],
        [(-1.5, k, 0, k + 1) for k in range(SIDE)],
    ],
    ids=["one frame", "boxes of their own", "longer lines"],
)
def test_other_frames_stay(boxes: list[tuple[float, float, float, float]]) -> None:
    flat = _flat(*boxes)
    assert without_clue_cells(flat) is flat
