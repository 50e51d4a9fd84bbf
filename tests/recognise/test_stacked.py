"""Digits in circles on corners: rows that touch are parted, and those on dark discs may be tall."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.glyphs import GlyphReader
from recognise.marks.text_ink import INSIDE, Print
from recognise.marks.text_places import Place, in_circle, on_edge
from recognise.marks.texts import read_texts
from recognise.pixels.blobs import Pieces, Tones
from recognise.pixels.frame import Raster

CELL = 128
RASTER = Raster(2, 2, CELL, CELL)
TONES = Tones(1.0, 0.0)


def _print(picture: np.ndarray) -> Print:
    relative = np.repeat(picture[..., None], 3, axis=2).astype(np.float32) / np.float32(255)
    ink = 1 - relative.min(axis=-1)
    nothing = Pieces(np.zeros(ink.shape, np.int32), (), TONES)
    return Print(ink, np.zeros_like(ink), relative, nothing, RASTER, 0.05)


def _read(place: Place, picture: np.ndarray) -> list[str]:
    glyphs, _ = read_texts([place], _print(picture), GlyphReader())
    return sorted(digit for glyph in glyphs for digit in glyph.text)


@pytest.mark.parametrize("apart", [2, -4], ids=["apart", "touching"])
@pytest.mark.parametrize("digits", ["2389", "2457", "4937"])
def test_rows_of_digits_in_a_circle(digits: str, apart: int) -> None:
    picture = np.full((4 * CELL, 4 * CELL), 255, np.uint8)
    x, y = 2 * CELL, 2 * CELL
    cv2.circle(picture, (x, y), 40, 0, 2, cv2.LINE_AA)
    for n, digit in enumerate(digits):
        at = x + (-20, 4)[n % 2], y + (-2, 20 + apart)[n // 2] - apart // 2
        cv2.putText(picture, digit, at, cv2.FONT_HERSHEY_SIMPLEX, 0.9, 0, 2, cv2.LINE_AA)
    pieces, _ = cv2.connectedComponents((picture < 128).view(np.uint8))
    assert pieces == (6 if apart > 0 else 4), "paper, circle, and the digits, those of one column together"
    assert _read(in_circle((1.0, 1.0), 40 / CELL), picture) == sorted(digits)


def test_on_a_dark_disc_a_digit_may_fill_all_that_is_looked_at() -> None:
    dark, light = (on_edge((1.0, 0.5), 0.15, dark=dark) for dark in (True, False))
    assert dark.tallest >= 2 * INSIDE * 0.15 > light.tallest
    assert in_circle((1.0, 1.0), 0.15, dark=True).tallest == dark.tallest
