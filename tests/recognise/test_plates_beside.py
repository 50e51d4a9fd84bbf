"""Dark plates beside the grid: their light figures are read as dark ones are, and bold letters are none."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.evidence import Shape
from recognise.pixels.frame import Raster
from recognise.pixels.ground import measure_ground
from recognise.pixels.ink import measure_ink
from recognise.pixels.plates_beside import turned_plates
from tests.recognise.test_pixels import CELL, Drawing

GREY = (68, 68, 68)


def _tag(drawing: Drawing, cell: tuple[float, float], text: str) -> None:
    """A shield that points down, with a light number on it."""
    x, y = drawing.at(cell)
    half = round(0.3 * CELL)
    corners = [(x - half, y - half), (x + half, y - half), (x + half, y + half // 2), (x, y + half + half // 2)]
    cv2.fillPoly(drawing.image, [np.array([*corners, (x - half, y + half // 2)])], GREY, cv2.LINE_AA)
    (width, height), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_DUPLEX, 0.7, 2)
    at = (x - width // 2, y + height // 2)
    cv2.putText(drawing.image, text, at, cv2.FONT_HERSHEY_DUPLEX, 0.7, (255, 255, 255), 2, cv2.LINE_AA)


def _plates(drawing: Drawing) -> tuple[Shape, ...]:
    flat = drawing.flat()
    return turned_plates(measure_ink(flat, measure_ground(flat)), Raster.of(flat))[1]


def test_light_figures_on_dark_plates_are_read() -> None:
    drawing = Drawing()
    for column, text in ((2, "2"), (4, "4"), (5, "3")):
        _tag(drawing, (-0.1, column), text)
    evidence = drawing.read()
    assert [glyph.text for glyph in sorted(evidence.glyphs, key=lambda g: g.box[0])] == ["2", "4", "3"]
    assert len(_plates(drawing)) == 3


@pytest.mark.parametrize("hole", [0.12, 0.0], ids=["a letter", "a blot"])
def test_a_bold_round_letter_is_no_plate(hole: float) -> None:
    drawing = Drawing()
    for column in (2, 4):
        place = drawing.at((-0.05, column))
        cv2.circle(drawing.image, place, round(0.3 * CELL), (0, 0, 0), -1, cv2.LINE_AA)
        cv2.circle(drawing.image, place, round(hole * CELL), (255, 255, 255), -1 if hole else 1, cv2.LINE_AA)
    assert _plates(drawing) == ()
