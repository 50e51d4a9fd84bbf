"""Signs behind the totals of cages: a bar is a minus, a bar between two dots is a division."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from ingest.page import Box
from recognise.evidence import Glyph, Guess
from recognise.glyphs import GlyphReader
from recognise.marks.operations import agreed_sign, always_divided, sign_behind, with_sign
from recognise.marks.text_places import SMALL_TALLEST, Place
from recognise.marks.text_readings import read_at
from recognise.marks.texts import read_texts
from recognise.pixels.blobs import Blob, Tones, find_pieces
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import DIGITS, OPERATIONS, Character, low_in_the_middle, side_by_side
from tests.recognise.test_characters_of_marks import print_of
from tests.recognise.test_pixels import CELL, MARGIN, Drawing

RASTER = Raster(9, 9, 100, 0)
BAR, ABOVE, BELOW = (0.27, 0.16, 0.36, 0.18), (0.305, 0.11, 0.325, 0.13), (0.305, 0.21, 0.325, 0.23)


def blob(box: Box, label: int) -> Blob:
    x0, y0, x1, y1 = (round(100 * at) for at in box)
    return Blob(x0, y0, x1 - x0, y1 - y0, (x1 - x0) * (y1 - y0), (label,))


def character(text: str, box: Box, label: int) -> Character:
    guesses = (Guess(text, 0.999),)
    return Character(blob(box, label), box, guesses, guesses)


NUMBER = [character("1", (0.07, 0.07, 0.13, 0.25), 1), character("2", (0.14, 0.07, 0.24, 0.25), 2)]


def sign(*boxes: Box) -> str:
    near = [each.blob for each in NUMBER] + [blob(box, label) for label, box in enumerate(boxes, 3)]
    return sign_behind(NUMBER, near, RASTER)[0]


@pytest.mark.parametrize(
    ("pieces", "expected"),
    [
        ((BAR,), "-"),
        ((BAR, ABOVE, BELOW), "÷"),
        ((), ""),
        ((BAR, ABOVE), ""),
        ((BAR, ABOVE, (0.305, 0.05, 0.325, 0.07)), ""),
        ((ABOVE, (0.27, 0.155, 0.36, 0.23)), "÷"),
        ((BELOW, (0.27, 0.155, 0.36, 0.23)), ""),
        (((0.27, 0.05, 0.36, 0.07),), ""),
        (((0.27, 0.16, 0.80, 0.18),), ""),
        (((0.50, 0.16, 0.59, 0.18),), ""),
        (((0.27, 0.08, 0.34, 0.24),), ""),
    ],
    ids=[
        "minus",
        "division",
        "nothing",
        "one dot",
        "both dots above",
        "a dot in the bar",
        "a dot on it",
        "too high",
        "a line",
        "far off",
        "a figure",
    ],
)
def test_what_stands_behind_a_number(pieces: tuple[Box, ...], expected: str) -> None:
    assert sign(*pieces) == expected


def test_every_look_must_show_a_division_before_it_is_no_figure() -> None:
    division, bar = (
        [blob(box, label) for label, box in enumerate(boxes, 3)] for boxes in ((BAR, ABOVE, BELOW), (BAR,))
    )
    assert always_divided(NUMBER, [division, division], RASTER)
    assert not always_divided(NUMBER, [division, bar], RASTER)
    assert not always_divided(NUMBER, [bar, bar], RASTER)
    assert not always_divided(NUMBER, [division, []], RASTER)


@pytest.mark.parametrize(
    ("told", "sign"),
    [("÷÷-", "÷"), ("÷-", "÷"), ("÷--", "÷"), ("--", "-"), ("-", ""), ("", "")],
)
def test_a_look_that_loses_the_dots_of_a_division_shows_a_bar(told: str, sign: str) -> None:
    assert agreed_sign([*told, ""], 2) == sign


def test_a_sign_is_part_of_its_number() -> None:
    number = Glyph((0.07, 0.07, 0.24, 0.25), (Guess("12", 0.99), Guess("17", 0.01)), 0.18, (0, 0, 0), "ocr")
    signed = with_sign(number, "÷", BAR)
    assert [guess.text for guess in signed.guesses] == ["12÷", "17÷"]
    assert signed.box == (0.07, 0.07, 0.36, 0.25)


@pytest.mark.parametrize(("text", "groups"), [("×", 1), ("5", 2)])
def test_signs_may_be_lower_than_the_figures_before_them(text: str, groups: int) -> None:
    low = character(text, (0.26, 0.12, 0.35, 0.22), 3)
    assert len(side_by_side([*NUMBER, low])) == groups


@pytest.mark.parametrize(("low", "groups"), [("2", 1), ("7", 2)])
def test_old_style_figures_without_strokes_above_or_below_are_low(low: str, groups: int) -> None:
    figures = [character(low, (0.29, 0.44, 0.44, 0.59), 1), character("5", (0.45, 0.43, 0.6, 0.69), 2)]
    assert len(side_by_side(figures)) == groups


@pytest.mark.parametrize(
    ("texts", "shift", "groups"), [("11", 0.0, 1), ("17", 0.0, 2), ("11", 0.2, 2)], ids=["low", "not low", "aside"]
)
def test_low_figures_stand_as_far_apart_as_tall_ones_of_their_fount(texts: str, shift: float, groups: int) -> None:
    left = character(texts[0], (0.36 + shift, 0.39, 0.42 + shift, 0.59), 1)
    right = character(texts[1], (0.525 + shift, 0.39, 0.62 + shift, 0.59), 2)
    assert len(low_in_the_middle(side_by_side([left, right]))) == groups


@pytest.mark.parametrize(
    ("number", "arm", "at", "text"),
    [
        (1.8, 8, (108, 52), "25×"),
        (1.8, 2, (108, 52), "25"),
        (0.9, 3, (67, 55), "25×"),
        (0.9, 3, (67, 68), "25"),
        (0.9, 3, (95, 55), "25"),
    ],
    ids=["a sign", "a speck", "a low sign", "dirt below", "dirt farther on"],
)
def test_a_sign_may_be_lower_than_any_figure(number: float, arm: int, at: tuple[int, int], text: str) -> None:
    """Two fifths of its number, which is a fifth or a tenth of the cell."""
    raster = Raster(2, 2, 200, 0)
    ink = np.zeros((400, 400), np.uint8)
    cv2.putText(ink, "25", (24, 66), cv2.FONT_HERSHEY_SIMPLEX, number, (255,), round(2.2 * number), cv2.LINE_AA)
    x, y = at
    for down in (-arm, arm):
        cv2.line(ink, (x - arm, y - down), (x + arm, y + down), (255,), 3 if arm > 3 else 2, cv2.LINE_AA)
    drawn = np.asarray(ink, np.float32) / np.float32(255)
    place = Place((0.0, 0.0, 0.92, 0.42), DIGITS + OPERATIONS, SMALL_TALLEST, on_lattice=False, in_corner=True)
    reading = read_at(place, drawn, find_pieces(drawn, raster, Tones(1.0, 0.0)), raster, GlyphReader())
    assert reading.text == text
    assert [len(group) for group in side_by_side(reading.characters)] == [len(text)]


@pytest.mark.parametrize(("allowed", "read"), [(DIGITS, "14"), (DIGITS + OPERATIONS, "14-")])
def test_a_stroke_behind_a_number_is_no_sign_where_none_can_stand(allowed: str, read: str) -> None:
    drawing = Drawing()
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    cv2.putText(drawing.image, "14", (x + 5, y + 17), cv2.FONT_HERSHEY_SIMPLEX, 0.42, (0, 0, 0), 1, cv2.LINE_AA)
    cv2.line(drawing.image, (x + 24, y + 12), (x + 29, y + 12), (0, 0, 0), 1)
    place = Place((1.0, 1.0, 1.92, 1.42), allowed, SMALL_TALLEST, on_lattice=False, in_corner=True)
    assert [glyph.text for glyph in read_texts([place], print_of(drawing.flat()), GlyphReader())[0]] == [read]
