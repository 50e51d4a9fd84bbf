"""Small numbers on coloured lines: in most channels they are one piece with these."""

from __future__ import annotations

import cv2
import pytest

from recognise.marks.text_places import SMALL_TALLEST, Place
from tests.recognise.test_characters_of_marks import texts_at
from tests.recognise.test_pixels import CELL, MARGIN, Drawing

BLUE, GREEN, PAPER = (74, 120, 175), (80, 165, 105), (255, 255, 255)
PLACE = Place((1.0, 1.0, 1.92, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True)


@pytest.mark.parametrize("colour", [BLUE, GREEN, PAPER], ids=["blue", "green", "none"])
def test_a_number_over_the_end_of_a_coloured_line_is_read(colour: tuple[int, int, int]) -> None:
    drawing = Drawing()
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    cv2.line(drawing.image, (x - 2, y - 2), (x + CELL // 2, y + CELL // 2), colour, CELL // 5, cv2.LINE_AA)
    cv2.putText(drawing.image, "29", (x + 6, y + 18), cv2.FONT_HERSHEY_SIMPLEX, 0.45, (25, 25, 25), 1, cv2.LINE_AA)
    assert texts_at(PLACE, drawing.flat()) == ["29"]
