"""Signs of operations that print sets before the totals of its cages, and of multiples before ratios."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Glyph, Guess
from recognise.glyphs import GlyphReader
from recognise.marks.text_places import SMALL_TALLEST, Place, on_edge
from recognise.marks.texts import read_texts
from recognise.pixels.blobs import Blob
from recognise.pixels.glyphs import DIGITS, OPERATIONS, Character, side_by_side
from tests.recognise.test_characters_of_marks import print_of
from tests.recognise.test_pixels import CELL, MARGIN, Drawing

FIGURES = cv2.FONT_HERSHEY_SIMPLEX


def _sign(image: np.ndarray, sign: str, x: int, y: int, half: int = 4) -> None:
    """Draw a sign about a point, lower than the figures behind it."""
    if sign in "+-÷":
        cv2.line(image, (x - half, y), (x + half, y), (0, 0, 0), 1, cv2.LINE_AA)
    if sign == "+":
        cv2.line(image, (x, y - half), (x, y + half), (0, 0, 0), 1, cv2.LINE_AA)
    if sign == "÷":
        for at in (y - half, y + half):
            cv2.rectangle(image, (x - 1, at - 1), (x, at), (0, 0, 0), -1)
    if sign == "×":
        for way in (-1, 1):
            cv2.line(image, (x - half, y - way * half), (x + half, y + way * half), (0, 0, 0), 1, cv2.LINE_AA)


def _totals(*texts: str) -> list[Glyph]:
    """What is read of totals, one in each row."""
    drawing = Drawing()
    places = []
    for row, text in enumerate(texts):
        x, y = (MARGIN + 1) * CELL, (MARGIN + row) * CELL
        _sign(drawing.image, text[0], x + 9, y + 13)
        cv2.putText(drawing.image, text[1:], (x + 16, y + 18), FIGURES, 0.42, (0, 0, 0), 1, cv2.LINE_AA)
        box = (1.0, float(row), 1.92, row + 0.42)
        places.append(Place(box, DIGITS + OPERATIONS, SMALL_TALLEST, on_lattice=False, in_corner=True))
    return read_texts(places, print_of(drawing.flat()), GlyphReader())[0]


def test_signs_before_totals_are_told_from_figures_and_stand_behind_them_once_read() -> None:
    glyphs = _totals("+16", "×24", "+13", "÷3", "-2")
    assert [glyph.text for glyph in glyphs] == ["16+", "24×", "13+", "3÷", "2-"]
    assert all(glyph.box[0] < 1.2 for glyph in glyphs)


@pytest.mark.parametrize("total", ["416", "113"])
def test_first_figures_are_no_signs_where_a_page_sets_none_there(total: str) -> None:
    glyphs = _totals(" 16", " 24", f" {total}")
    assert [glyph.text for glyph in glyphs] == ["16", "24", total]


@pytest.mark.parametrize(("sign", "text"), [("×", "X3"), (" ", "3")])
def test_the_sign_of_a_multiple_before_a_ratio_is_read_though_it_is_low(sign: str, text: str) -> None:
    drawing = Drawing()
    flat = drawing.flat()
    x, y = (MARGIN + 2) * CELL, MARGIN * CELL + CELL * 3 // 2
    cv2.rectangle(flat.image, (x - 18, y - 11), (x + 18, y + 11), (255, 255, 255), -1)
    cv2.rectangle(flat.image, (x - 18, y - 11), (x + 18, y + 11), (40, 40, 40), 1)
    _sign(flat.image, sign, x - 7, y + 2, 2)
    cv2.putText(flat.image, "3", (x - 1, y + 6), FIGURES, 0.42, (0, 0, 0), 1, cv2.LINE_AA)
    glyphs, notes = read_texts([on_edge((2.0, 1.5))], print_of(flat), GlyphReader())
    assert [glyph.text for glyph in glyphs] == [text]
    assert not notes


def test_a_sign_behind_a_total_takes_no_dash_behind_it_for_a_figure() -> None:
    sign, dash = (
        Character(Blob(0, 0, 1, 1, 1, (label,)), box, guesses, guesses)
        for label, box, guesses in (
            (1, (1.4, 0.12, 1.49, 0.21), (Guess("×", 0.99),)),
            (2, (1.52, 0.08, 1.56, 0.24), (Guess("1", 0.9),)),
        )
    )
    assert side_by_side([sign, dash]) == [[sign], [dash]]
    letter = replace(sign, guesses=(Guess("X", 0.99),))
    assert side_by_side([letter, dash]) == [[letter, dash]]
