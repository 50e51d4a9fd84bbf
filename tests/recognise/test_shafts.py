"""Little arrows beside the grid that touch their numbers are taken out of the ink from which these are read."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.marks.shafts import without_shafts
from recognise.marks.text_ink import Print
from recognise.marks.text_places import beside
from recognise.pixels.blobs import Pieces, Tones
from recognise.pixels.frame import Grey, Raster

CELL = 64
RASTER = Raster(2, 2, CELL, CELL)
PLACE = beside((0.5, -0.5), ((1, 1),))
CORNER = CELL * 2 - 1, CELL - 1
"""Where the arrow of that place points to."""


def _arrow(picture: np.ndarray, tail: int) -> None:
    """An arrow with a head, its tail so many pixels up and to the left of the corner it points to."""
    x, y = CORNER[0] - 4, CORNER[1] - 4
    cv2.line(picture, (CORNER[0] - tail, CORNER[1] - tail), (x, y), 255, 2, cv2.LINE_AA)
    for way in ((-8, -2), (-2, -8)):
        cv2.line(picture, (x + way[0], y + way[1]), (x, y), 255, 2, cv2.LINE_AA)


def _figure(picture: np.ndarray) -> None:
    """A nought whose lower right side the arrow touches."""
    cv2.ellipse(picture, (CELL + 27, 25), (6, 10), 0, 0, 360, 255, 2, cv2.LINE_AA)


def _seen(picture: np.ndarray) -> Print:
    ink: Grey = picture.astype(np.float32) / np.float32(255)
    pieces = Pieces(np.zeros(picture.shape, np.int32), (), Tones(1.0, 0.0))
    return Print(ink, ink, np.repeat(1 - ink[..., None], 3, axis=2), pieces, RASTER, 0.05)


@pytest.fixture
def paper() -> np.ndarray:
    return np.zeros((4 * CELL, 4 * CELL), np.uint8)


def test_an_arrow_is_taken_out_up_to_the_figure_that_it_touches(paper: np.ndarray) -> None:
    _figure(paper)
    alone = paper.copy()
    _arrow(paper, 33)
    count, _ = cv2.connectedComponents((paper > 100).view(np.uint8))
    assert count == 2, "one piece, and the paper"
    freed = without_shafts([PLACE], _seen(paper)) * 255
    figure = np.s_[12:37, CELL + 18 : CELL + 36]
    assert freed[figure].sum() == pytest.approx(float(alone[figure].sum()), rel=0.08)
    assert (freed > 100).sum() <= 1.1 * (alone > 100).sum(), "next to nothing of the arrow is left"


def test_where_no_even_stroke_leads_to_the_corner_nothing_is_taken_out(paper: np.ndarray) -> None:
    _figure(paper)
    assert np.array_equal(without_shafts([PLACE], _seen(paper)), _seen(paper).drawn)
