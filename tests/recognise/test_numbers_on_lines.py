"""Small numbers printed on lines that run through the corners of cells."""

from __future__ import annotations

import cv2
import pytest

from recognise.evidence import Glyph, Guess
from recognise.glyphs import GlyphReader
from recognise.marks.on_lines import read_on_lines
from recognise.marks.text_places import SMALL_TALLEST, Place
from tests.recognise.evidence_maker import trace
from tests.recognise.test_characters import RASTER
from tests.recognise.test_characters_of_marks import print_of
from tests.recognise.test_pixels import Drawing

CORNER = Place((1.0, 1.0, 1.92, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True, perhaps=True)
WRONG = Glyph((1.05, 1.05, 1.28, 1.25), (Guess("38", 0.6),), 0.2, (0, 0, 0), "ocr")


@pytest.mark.parametrize(
    ("sure", "cells", "read"),
    [
        (0.6, "r1c1 r2c2", ["33"]),
        (0.99, "r1c1 r2c2", ["38"]),  # read as surely as any other
        (0.6, "r3c2 r3c3", ["38"]),  # no line runs there
    ],
)
def test_a_number_on_a_line_is_read_as_if_the_line_were_paper(sure: float, cells: str, read: list[str]) -> None:
    flat = Drawing().flat()
    ends = [tuple(round(RASTER.at(v)) for v in (at, at)) for at in (0.5, 1.5)]
    cv2.line(flat.image, ends[0], ends[1], (150, 150, 150), round(0.16 * RASTER.cell), cv2.LINE_AA)
    at = round(RASTER.at(1.03)), round(RASTER.at(1.25))
    cv2.putText(flat.image, "33", at, cv2.FONT_HERSHEY_SIMPLEX, 0.42, (30, 30, 30), 1, cv2.LINE_AA)
    before = Glyph(WRONG.box, (Guess("38", sure),), WRONG.size, (0, 0, 0), "ocr")
    line = trace(cells, colour=(150, 150, 150), width=0.16)
    found = read_on_lines([CORNER], [before], [line], print_of(flat), GlyphReader())
    assert [glyph.text for glyph in found] == read
