"""Small numbers that stand close to thick walls, to numbers on lattice lines, or under circles."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from ingest.page import Box
from recognise.evidence import Fence, Glyph, Guess
from recognise.glyphs import GlyphReader
from recognise.marks import texts, whole_texts
from recognise.marks.characters import is_worse
from recognise.marks.text_ink import Print, Wall
from recognise.marks.text_places import SMALL_TALLEST, Place, in_circle
from recognise.marks.text_readings import Reading, longest
from recognise.marks.texts import read_texts
from recognise.marks.wall_pieces import hangs_on_wall, pieces_of_walls
from recognise.pixels.blobs import Blob, Pieces, Tones, find_pieces
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import DIGITS, OPERATIONS, Character
from schema.cells import Cell

CELL = 128
RASTER = Raster(2, 2, CELL, CELL)
CORNER = Place((1.0, 1.0, 1.92, 1.42), DIGITS + OPERATIONS, SMALL_TALLEST, on_lattice=False, in_corner=True)
WALLS: list[Wall] = [((0.09, 0.09), (0.91, 0.09)), ((0.91, 0.09), (0.91, 0.91)), ((0.91, 0.91), (0.09, 0.91))]

CAGE = Fence((Cell(1, 1),), "dashed", (0, 0, 0), "ocr", where=((0.09, 0.09), (0.91, 0.09), (0.91, 0.91), (0.09, 0.91)))


def page() -> np.ndarray:
    return np.full((4 * CELL, 4 * CELL), 255, np.uint8)


def at(x: float, y: float) -> tuple[int, int]:
    return round(RASTER.at(x)), round(RASTER.at(y))


def write(picture: np.ndarray, text: str, x: float, y: float, scale: float = 0.9, thick: int = 2) -> None:
    cv2.putText(picture, text, at(x, y), cv2.FONT_HERSHEY_SIMPLEX, scale, 0, thick, cv2.LINE_AA)


def print_of(picture: np.ndarray) -> Print:
    relative = np.repeat(picture[..., None], 3, axis=2).astype(np.float32) / np.float32(255)
    ink = 1 - relative.min(axis=-1)
    return Print(ink, ink, relative, find_pieces(ink, RASTER, Tones(1.0, 0.0)), RASTER, 0.05)


def glyph(text: str, box: Box, sure: float) -> Glyph:
    return Glyph(box, (Guess(text, sure),), box[3] - box[1], (0, 0, 0), "ocr")


def look(text: str, sure: float = 0.9) -> Reading:
    """A look at a corner that shows some characters."""
    labels = np.zeros((4 * CELL, 4 * CELL), np.int32)
    shown = []
    for place, one in enumerate(text):
        box = 1.1 + 0.15 * place, 1.1, 1.2 + 0.15 * place, 1.3
        (x0, y0), (x1, y1) = at(box[0], box[1]), at(box[2], box[3])
        blob = Blob(x0, y0, x1 - x0, y1 - y0, 9, (place + 1,))
        labels[y0:y1, x0:x1] = place + 1
        shown.append(Character(blob, box, (Guess(one, sure),), (Guess(one, sure),)))
    return Reading(tuple(shown), Pieces(labels, (), Tones(1.0, 0.0)), (), 0.0)


def texts_in(places: list[Place], picture: np.ndarray) -> list[str]:
    return [read.text for read in read_texts(places, print_of(picture), GlyphReader())[0]]


def test_the_lower_dot_of_a_division_may_stand_below_the_place_of_its_number() -> None:
    picture = page()
    write(picture, "3", 1.16, 1.45)
    x, y = at(1.45, 1.36)
    cv2.line(picture, (x - 11, y), (x + 11, y), 0, 3)
    for off in (-10, 11):
        cv2.circle(picture, (x, y + off), 3, 0, -1, cv2.LINE_AA)
    assert texts_in([CORNER], picture) == ["3÷"]


def test_a_number_on_the_line_over_a_cell_is_no_total_and_no_worse_than_the_total_below_it() -> None:
    picture = page()
    write(picture, "7", 1.4, 1.09)
    assert texts_in([CORNER], picture) == []
    on_line, inside = ((1.4, top, 1.58, top + 0.23) for top in (0.9, 1.13))
    total = glyph("18", (1.12, 1.12, 1.4, 1.33), 1.0)
    assert not is_worse(glyph("7", on_line, 0.99), [total], [CORNER])
    assert is_worse(glyph("7", inside, 0.99), [total], [CORNER])


def test_a_total_is_read_digit_by_digit_beside_a_circle_that_touches_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(whole_texts, "read_whole", lambda places, _: [(Guess("", 0.5),)] * len(places))
    picture = page()
    write(picture, "36", 1.11, 1.32)
    cv2.circle(picture, at(1.0, 1.0), 28, 255, -1)
    cv2.circle(picture, at(1.0, 1.0), 28, 0, 3, cv2.LINE_AA)
    assert "36" not in texts_in([CORNER], picture)
    assert "36" in texts_in([CORNER, in_circle((1.0, 1.0), 28 / CELL)], picture)


def test_a_number_that_one_look_alone_shows_is_none_where_none_was_expected(monkeypatch: pytest.MonkeyPatch) -> None:
    once = [look(""), look(""), look("7"), look("")]
    monkeypatch.setattr(texts, "_looks", lambda places, *_: dict.fromkeys(places, once))
    assert texts_in([CORNER], page()) == ["7"]
    assert texts_in([replace(CORNER, perhaps=True)], page()) == []
    monkeypatch.setattr(texts, "_looks", lambda places, *_: {place: [*once, look("7")] for place in places})
    assert texts_in([replace(CORNER, perhaps=True)], page()) == ["7"]


def test_a_sign_alone_is_no_number_however_sure_it_is() -> None:
    assert longest([look("×", 1.0), look("3×", 0.78)]).text == "3×"
    assert longest([look("×", 1.0)]).text == "×"


def test_what_was_read_of_thick_dashes_is_no_character() -> None:
    picture = page()
    for start in np.arange(0.05, 0.9, 0.16):
        for middle, end in ((start, 0.09), (start, 0.91)):
            cv2.rectangle(picture, at(middle, end - 0.05), at(middle + 0.1, end + 0.05), 0, -1)
        cv2.rectangle(picture, at(0.86, start), at(0.96, start + 0.1), 0, -1)
    write(picture, "4", 0.4, 0.7, 1.6, 4)
    bend, given = glyph("4", (0.68, 0.68, 0.97, 0.97), 0.9), glyph("4", (0.38, 0.38, 0.68, 0.72), 0.9)
    ink = print_of(picture).drawn
    assert pieces_of_walls([bend, given], [CAGE], ink, RASTER) == [bend]


def test_the_corner_of_a_wall_right_of_where_totals_begin_is_no_figure() -> None:
    picture = page()
    for start, end in (((0.6, 0.09), (0.91, 0.09)), ((0.91, 0.09), (0.91, 0.36))):
        cv2.line(picture, at(*start), at(*end), 0, 6)
    bend, total = glyph("7", (0.6, 0.07, 0.93, 0.36), 0.95), glyph("1", (0.1, 0.09, 0.15, 0.3), 0.95)
    cv2.rectangle(picture, at(0.11, 0.1), at(0.14, 0.3), 0, -1)
    assert pieces_of_walls([bend, total], [CAGE], print_of(picture).drawn, RASTER) == [bend]


def test_a_dash_of_a_wall_in_a_corner_is_a_total_only_where_a_cage_begins() -> None:
    outline = ((0.09, 0.09), (1.91, 0.09), (1.91, 0.91), (1.09, 0.91), (1.09, 1.91), (0.09, 1.91))
    cage = replace(CAGE, cells=(Cell(1, 1), Cell(1, 2), Cell(2, 1)), where=outline)
    first, below = (glyph("1", (0.08, row + 0.12, 0.1, row + 0.38), 0.9) for row in (0, 1))
    assert pieces_of_walls([first, below], [cage], np.zeros((4 * CELL, 4 * CELL), np.float32), RASTER) == [below]


def test_a_total_read_with_the_wall_over_it_was_hard_to_read_and_reaches_over_the_wall() -> None:
    box = (0.17, 0.05, 0.36, 0.47)
    assert hangs_on_wall(glyph("9", box, 0.5), WALLS)
    assert not hangs_on_wall(glyph("9", box, 0.99), WALLS)
    assert not hangs_on_wall(glyph("9", (0.17, 0.2, 0.36, 0.47), 0.5), WALLS)


def test_a_total_over_a_circle_is_read_where_it_is_darker_than_that() -> None:
    picture = page()
    x, y = at(1.03, 1.03)
    cv2.circle(picture, (x, y), round(0.2 * CELL), 205, -1, cv2.LINE_AA)
    cv2.circle(picture, (x, y), round(0.2 * CELL), 80, 4, cv2.LINE_AA)
    cv2.putText(picture, "8", at(1.0, 1.2), cv2.FONT_HERSHEY_SIMPLEX, 0.5, 80, 2, cv2.LINE_AA)
    write(picture, "32", 1.06, 1.24)
    circle = in_circle((1.03, 1.03), 0.2)
    assert "32" in texts_in([CORNER, circle], picture)
