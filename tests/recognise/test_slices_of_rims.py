"""Slices of a circle's own line beside the digits in it."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.glyphs import GlyphReader
from recognise.marks.text_ink import cut_out
from recognise.marks.text_looks import MOST_LEFT, at_shares, read_all
from recognise.marks.text_readings import Reading, in_part
from tests.recognise.test_past_walls import CELL, PLACE, RASTER, print_of_picture


def _picture(aside: int, stroke: tuple[int, int] | None = None) -> np.ndarray:
    """A 7 and an 8 in a circle that is drawn so far beside the middle of its place; a `stroke` beside them, from the
    middle of the place, of 18 pixels."""
    picture = np.full((4 * CELL, 4 * CELL), 255, np.uint8)
    x, y = 2 * CELL, 2 * CELL
    cv2.circle(picture, (x + aside, y), 35, 0, 2, cv2.LINE_AA)
    for digit, off in (("7", -14), ("8", 2)):
        cv2.putText(picture, digit, (x + off, y + 8), cv2.FONT_HERSHEY_SIMPLEX, 0.7, 0, 2, cv2.LINE_AA)
    if stroke:
        left, top = x + stroke[0], y + stroke[1]
        cv2.rectangle(picture, (left, top), (left + 7, top + 8), 0, -1)
    return picture


def _readings(picture: np.ndarray) -> list[Reading]:
    seen = print_of_picture(picture)
    return read_all(PLACE, at_shares([PLACE], cut_out([PLACE], seen), seen), seen, GlyphReader())


@pytest.mark.parametrize("aside", [0, 5])
def test_a_slice_of_the_circle_is_not_left_over(aside: int) -> None:
    for reading in _readings(_picture(aside)):
        assert reading.text == "78" and reading.left <= MOST_LEFT
        assert not in_part(reading, PLACE, RASTER)


def test_what_stands_within_a_circle_is_left_over() -> None:
    assert all(reading.left > MOST_LEFT for reading in _readings(_picture(0, (-4, -24))))
