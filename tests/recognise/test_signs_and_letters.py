"""A letter that looks like a sign, and a sign that looks like a figure."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.evidence import Glyph, Guess, Shape
from recognise.glyphs import GlyphReader
from recognise.marks.characters import Characters
from recognise.pixels.blobs import Blob, Pieces, Tones
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import DIGITS, LETTERS, OPERATIONS, read_characters

BLACK = (0, 0, 0)


@pytest.mark.parametrize(("allowed", "text"), [(DIGITS + LETTERS, "X"), (DIGITS + OPERATIONS, "×")])
def test_a_cross_is_what_may_stand_in_its_place(allowed: str, text: str) -> None:
    drawn = np.zeros((100, 100), np.float32)
    for ends in (((30, 32), (62, 64)), ((62, 32), (30, 64))):
        cv2.line(drawn, *ends, (1.0,), 5, cv2.LINE_AA)
    blob = Blob(27, 29, 39, 39, int((drawn > 0.5).sum()), (1,))
    pieces = Pieces((drawn > 0.3).astype(np.int32), (blob,), Tones(1.0, 0.0))
    (read,) = read_characters([blob], pieces, drawn, Raster(1, 1, 100, 0), GlyphReader(), allowed)
    assert (read.guesses[0].text, read.is_character) == (text, True)


@pytest.mark.parametrize(
    ("box", "confidence", "gone"),
    [
        ((5.86, 4.44, 5.92, 4.56), 0.54, True),
        ((5.86, 4.44, 5.92, 4.56), 0.99, False),
        ((6.39, 4.34, 6.59, 4.66), 0.54, False),
    ],
    ids=["hard to read", "read", "beside it"],
)
def test_a_part_of_a_sign_is_no_figure(box: tuple[float, float, float, float], confidence: float, gone: bool) -> None:
    figure = Glyph(box, (Guess("4", confidence),), box[3] - box[1], BLACK, "ocr")
    sign = Shape("sign", (5.79, 4.29, 6.21, 4.71), BLACK, "shape", 1.0, direction="left")
    characters = Characters((), (), (), (figure,), (), ())
    assert characters.replaced([sign]) == ((figure,) if gone else ())


@pytest.mark.parametrize(
    ("wide", "confidence", "square", "gone"),
    [(0.6, 0.82, 1.0, True), (0.4, 0.82, 1.0, False), (0.6, 0.99, 1.0, False), (0.6, 0.82, 0.6, False)],
    ids=["as wide as high", "a digit in it", "read", "hardly a square"],
)
def test_the_outline_of_a_rounded_square_is_no_zero(wide: float, confidence: float, square: float, gone: bool) -> None:
    figure = Glyph((4.5 - wide / 2, 0.2, 4.5 + wide / 2, 0.8), (Guess("0", confidence),), 0.6, BLACK, "ocr")
    shape = Shape("square", (4.14, 0.14, 4.86, 0.86), BLACK, "shape", square)
    characters = Characters((), (), (), (figure,), (), ())
    assert characters.replaced([shape]) == ((figure,) if gone else ())
