"""Numbers in paper's colour on dark plates in the corners of cells."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Glyph
from recognise.glyphs import GlyphReader
from recognise.marks.dark_plates import plate_at
from recognise.marks.text_places import SMALL_TALLEST, Place
from recognise.marks.texts import read_texts
from recognise.pixels.glyphs import DIGITS, OPERATIONS
from tests.recognise.test_characters import RASTER
from tests.recognise.test_characters_of_marks import print_of
from tests.recognise.test_pixels import CELL, MARGIN, Drawing

BROWN, PAPER = (140, 95, 55), (250, 250, 250)
PLACE = Place((1.0, 1.0, 1.92, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True)


def _page(number: str, ground: tuple[int, int, int] = BROWN, figures: tuple[int, int, int] = PAPER) -> Drawing:
    """A plate that reaches over the corner of r2c2, with a number on it."""
    drawing = Drawing()
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    cv2.rectangle(drawing.image, (x - 3, y - 3), (x + 30, y + 18), ground, -1)
    cv2.putText(drawing.image, number, (x + 3, y + 14), cv2.FONT_HERSHEY_SIMPLEX, 0.5, figures, 1, cv2.LINE_AA)
    return drawing


def _read(drawing: Drawing) -> list[Glyph]:
    return read_texts([PLACE], print_of(drawing.flat()), GlyphReader())[0]


@pytest.mark.parametrize("number", ["12", "39"])
def test_a_number_on_a_dark_plate_is_read_and_takes_its_plate(number: str) -> None:
    (glyph,) = _read(_page(number))
    assert glyph.text == number
    assert glyph.box == pytest.approx((0.95, 0.95, 1.48, 1.3), abs=0.06)


@pytest.mark.parametrize("number", ["7+", "6x"])
def test_a_number_with_a_sign_on_a_dark_plate_is_read(number: str) -> None:
    place = replace(PLACE, allowed=DIGITS + OPERATIONS)
    (glyph,) = read_texts([place], print_of(_page(number).flat()), GlyphReader())[0]
    assert glyph.text == number.replace("x", "×")


def test_a_plate_is_told_from_a_broad_paler_line_that_it_touches() -> None:
    drawing = _page("12")
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    line = np.full_like(drawing.image, 250)
    cv2.line(line, (x - CELL // 2, y + CELL // 2), (x + CELL // 2, y - CELL // 2), (190, 160, 120), CELL // 5)
    drawing.image[:] = np.minimum(drawing.image, line)
    drawing.image[y - 3 : y + 19, x - 3 : x + 31] = _page("12").image[y - 3 : y + 19, x - 3 : x + 31]
    assert plate_at(PLACE.box, print_of(drawing.flat()).whole, RASTER) == pytest.approx(
        (0.95, 0.95, 1.48, 1.3), abs=0.06
    )


def test_a_plate_without_a_number_is_none() -> None:
    seen = print_of(_page("").flat())
    assert plate_at(PLACE.box, seen.whole, RASTER) is None


def test_bold_figures_that_touch_thick_lines_stand_on_no_plate() -> None:
    drawing = _page("", PAPER)
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    for end in ((x, y + CELL), (x + CELL, y)):
        cv2.line(drawing.image, (x, y), end, (0, 0, 0), 5)
    cv2.putText(drawing.image, "38", (x + 3, y + 12), cv2.FONT_HERSHEY_SIMPLEX, 0.6, (0, 0, 0), 2, cv2.LINE_AA)
    assert plate_at(PLACE.box, print_of(drawing.flat()).whole, RASTER) is not None
    assert [glyph.text for glyph in _read(drawing)] == ["38"]


def test_dark_figures_on_paper_stand_on_no_plate() -> None:
    seen = print_of(_page("12", PAPER, (0, 0, 0)).flat())
    assert plate_at(PLACE.box, seen.whole, RASTER) is None


def test_bold_figures_close_to_each_other_are_no_plate() -> None:
    drawing = Drawing()
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    cv2.putText(drawing.image, "28", (x + 12, y + 22), cv2.FONT_HERSHEY_SIMPLEX, 0.5, (0, 0, 0), 2, cv2.LINE_AA)
    assert plate_at(PLACE.box, print_of(drawing.flat()).whole, RASTER) is None


def test_a_bold_number_that_touches_thick_lattice_lines_stands_on_no_plate() -> None:
    drawing = Drawing()
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    cv2.line(drawing.image, (x, y - CELL), (x, y + CELL), (0, 0, 0), 9)
    cv2.line(drawing.image, (x - CELL, y), (x + CELL, y), (0, 0, 0), 9)
    cv2.putText(drawing.image, "86", (x + 4, y + 15), cv2.FONT_HERSHEY_SIMPLEX, 0.42, (0, 0, 0), 3, cv2.LINE_AA)
    assert plate_at(PLACE.box, print_of(drawing.flat()).whole, RASTER) is None


def _beside_lines(thick: int) -> Drawing:
    """A plate a little within r2c2, beside lattice lines that are so thick above and to the left."""
    drawing = Drawing()
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    for end in ((x, y + CELL), (x + CELL, y)):
        cv2.line(drawing.image, (x, y), end, (0, 0, 0), thick)
    cv2.rectangle(drawing.image, (x + 5, y + 5), (x + 34, y + 23), BROWN, -1)
    cv2.putText(drawing.image, "12", (x + 9, y + 19), cv2.FONT_HERSHEY_SIMPLEX, 0.5, PAPER, 1, cv2.LINE_AA)
    return drawing


@pytest.mark.parametrize("thick", [3, 5])
def test_a_plate_close_to_thick_lines_is_one_of_its_own(thick: int) -> None:
    plate = plate_at(PLACE.box, print_of(_beside_lines(thick).flat()).whole, RASTER)
    assert plate == pytest.approx((1.06, 1.06, 1.54, 1.37), abs=0.08)


def test_a_plate_that_runs_into_a_lattice_line_begins_in_its_cell() -> None:
    x0, y0, *_ = plate_at(PLACE.box, print_of(_page("12").flat()).whole, RASTER) or (0.0, 0.0)
    assert (x0, y0) == (1.0, 1.0)


@pytest.mark.parametrize("sign", ["-", "÷"])
def test_a_sign_of_several_pieces_on_a_plate_is_read(sign: str) -> None:
    drawing = _page("6")
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    cv2.line(drawing.image, (x + 16, y + 9), (x + 22, y + 9), PAPER, 1)
    for dot in (y + 5, y + 12) if sign == "÷" else ():
        cv2.rectangle(drawing.image, (x + 18, dot), (x + 19, dot + 1), PAPER, -1)
    place = replace(PLACE, allowed=DIGITS + OPERATIONS)
    (glyph,) = read_texts([place], print_of(drawing.flat()), GlyphReader())[0]
    assert glyph.text == f"6{sign}"
