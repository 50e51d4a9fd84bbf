"""Characters that stand on lines of another colour are read in the darkest ink."""

from __future__ import annotations

import cv2
import pytest

from tests.recognise.test_pixels import CELL, Drawing


@pytest.mark.parametrize("colour", [(80, 190, 170), (235, 200, 90), (165, 165, 165)])
def test_a_figure_on_a_thin_line_of_another_colour_or_tone_is_read(colour: tuple[int, int, int]) -> None:
    drawing = Drawing()
    cv2.line(drawing.image, drawing.at((2, 2)), drawing.at((2, 5)), colour, round(0.1 * CELL), cv2.LINE_AA)
    cv2.line(drawing.image, drawing.at((4, 2)), drawing.at((6, 4)), colour, round(0.1 * CELL), cv2.LINE_AA)
    for cell, text in (((1, 1), "3"), ((1, 4), "7"), ((3, 6), "5"), ((6, 6), "4"), ((2, 3), "8"), ((5, 3), "2")):
        drawing.text(cell, text)
    assert sorted(glyph.text for glyph in drawing.read().glyphs) == ["2", "3", "4", "5", "7", "8"]
