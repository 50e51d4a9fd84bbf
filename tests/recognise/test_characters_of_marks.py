"""Numbers and letters on marks of scans and photos: totals, dots, rings."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import cv2
import numpy as np
import pytest

from recognise.evidence import Flat, Glyph, Guess
from recognise.glyphs import GlyphReader
from recognise.marks import texts
from recognise.marks.discs import measure_round
from recognise.marks.read import _is_plainly_text
from recognise.marks.spoken import Spoken
from recognise.marks.text_ink import Print
from recognise.marks.text_places import SMALL_TALLEST, Place, in_circle, on_edge
from recognise.marks.text_readings import Reading, _is_bit_of_line, fullest, in_part
from recognise.marks.texts import _contested, _in_figures, _more_beside, read_texts
from recognise.marks.totals import is_flush
from recognise.pixels.blobs import Blob, Pieces, Tones, find_pieces, measure_tones
from recognise.pixels.glyphs import Character
from recognise.pixels.ground import measure_ground
from recognise.pixels.ink import measure_ink
from tests.recognise.test_characters import RASTER
from tests.recognise.test_pixels import CELL, MARGIN, Drawing


@pytest.mark.parametrize("number", ["14", "27", "9"])
def test_a_total_above_the_dashes_of_its_cage_keeps_its_digits(number: str) -> None:
    drawing = Drawing()
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    for at in range(19, 60, 9):
        cv2.line(drawing.image, (x + 7, y + at), (x + 7, y + at + 5), (0, 0, 0), 2)
        cv2.line(drawing.image, (x + at + 16, y + 7), (x + at + 21, y + 7), (0, 0, 0), 2)
    cv2.putText(drawing.image, number, (x + 5, y + 17), cv2.FONT_HERSHEY_SIMPLEX, 0.42, (0, 0, 0), 1, cv2.LINE_AA)
    place = Place((1.0, 1.0, 1.62, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False)
    assert texts_at(place, drawing.flat()) == [number]


def texts_at(place: Place, flat: Flat) -> list[str]:
    ink = measure_ink(flat, measure_ground(flat))
    pieces = find_pieces(ink.drawn, RASTER, measure_tones(ink, RASTER))
    seen = Print(ink.all, ink.drawn, ink.relative, pieces, RASTER, ink.floor)
    return [glyph.text for glyph in read_texts([place], seen, GlyphReader())[0]]


@pytest.mark.parametrize(("fill", "text"), [(0, 255), (60, 255), (255, 0)])
def test_a_number_on_a_dot_is_read_whatever_the_dot_s_colour(fill: int, text: int) -> None:
    flat = Drawing().flat()  # with its lattice, which the dot covers
    middle = ((MARGIN + 2) * CELL, MARGIN * CELL + CELL * 3 // 2)
    cv2.circle(flat.image, middle, CELL // 4, (fill,) * 3, -1, cv2.LINE_AA)
    cv2.circle(flat.image, middle, CELL // 4, (0, 0, 0), 1, cv2.LINE_AA)
    corner = middle[0] - 5, middle[1] + 7
    cv2.putText(flat.image, "3", corner, cv2.FONT_HERSHEY_SIMPLEX, 0.6, (text,) * 3, 2, cv2.LINE_AA)
    assert texts_at(on_edge((2.0, 1.5), 0.25, dark=fill < 128), flat) == ["3"]


def test_a_number_of_which_a_digit_touches_its_ring_is_read_whole() -> None:
    flat = Drawing().flat()
    x, y = (MARGIN + 2) * CELL, MARGIN * CELL + CELL * 3 // 2
    cv2.circle(flat.image, (x, y), 12, (255, 255, 255), -1)
    cv2.circle(flat.image, (x, y), 12, (40, 40, 40), 1, cv2.LINE_AA)
    (width, height), _ = cv2.getTextSize("10", cv2.FONT_HERSHEY_COMPLEX, 0.5, 2)
    corner = x - width // 2, y + height // 2
    cv2.putText(flat.image, "10", corner, cv2.FONT_HERSHEY_COMPLEX, 0.5, (0, 0, 0), 2, cv2.LINE_AA)
    assert texts_at(on_edge((2.0, 1.5)), flat) == ["10"]


def test_letters_among_figures_are_figures() -> None:
    old_style = Glyph((0, 0, 1, 1), (Guess("I3", 0.6), Guess("13", 0.38), Guess("T3", 0.02)), 0.2, (0, 0, 0), "ocr")
    assert [(g.text, round(g.probability, 2)) for g in _in_figures(old_style).guesses] == [("13", 0.98), ("T3", 0.02)]
    for text in ("XI", "11I"):
        other = Glyph((0, 0, 1, 1), (Guess(text, 0.9),), 0.2, (0, 0, 0), "ocr")
        assert _in_figures(other) == other


def test_a_bit_of_a_lattice_line_beside_a_ring_is_no_character() -> None:
    place = on_edge((2.0, 1.5), 0.15)
    assert _is_bit_of_line((1.98, 1.66, 2.02, 1.77), place)
    assert not _is_bit_of_line((1.98, 1.42, 2.02, 1.58), place)  # a 1
    assert not _is_bit_of_line((2.08, 1.66, 2.12, 1.77), place)


@pytest.mark.parametrize("number", ["16", "18"])
def test_a_total_that_touches_the_wall_of_its_cage_is_read(number: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Character by character; as a whole it is read in either place."""
    monkeypatch.setattr(texts, "weighed", lambda glyphs, owners, hard, *_: (glyphs, [*hard.values()]))
    drawing = Drawing()
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    cv2.line(drawing.image, (x + 6, y + 6), (x + CELL, y + 6), (90, 90, 90), 2)
    cv2.putText(drawing.image, number, (x + 12, y + 15), cv2.FONT_HERSHEY_SIMPLEX, 0.42, (0, 0, 0), 1, cv2.LINE_AA)
    place = Place((1.0, 1.0, 1.92, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True)
    glyphs, _ = read_texts([place], print_of(drawing.flat()), GlyphReader())
    assert [glyph.text for glyph in glyphs] == [number]
    assert glyphs[0].confidence > 0.9
    glyphs, _ = read_texts([replace(place, in_corner=False)], print_of(drawing.flat()), GlyphReader())
    assert [glyph.text for glyph in glyphs] != [number]


@pytest.mark.parametrize(("perhaps", "asked"), [(False, True), (True, False)])
def test_a_number_that_was_not_expected_has_lost_no_figure(perhaps: bool, asked: bool) -> None:
    """It begins a figure farther in than the others: beside a thick frame print has less room."""
    drawing = Drawing()
    places = []
    for row, (number, off) in enumerate([("28", 5), ("23", 5), ("26", 5), ("7", 10)]):
        x, y = (MARGIN + 1) * CELL, (MARGIN + row) * CELL
        cv2.putText(drawing.image, number, (x + off, y + 18), cv2.FONT_HERSHEY_SIMPLEX, 0.42, (0, 0, 0), 1, cv2.LINE_AA)
        box = (1.0, float(row), 1.92, row + 0.42)
        places.append(Place(box, "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True))
    places[3] = replace(places[3], perhaps=perhaps)
    glyphs, _ = read_texts(places, print_of(drawing.flat()), GlyphReader())
    assert [glyph.text for glyph in glyphs] == ["28", "23", "26", "7"]
    assert any(guess.text == "17" for guess in glyphs[3].guesses) == asked


@pytest.mark.parametrize("number", ["17", "28"])
def test_a_total_of_which_a_stroke_went_with_the_lattice_is_read_from_the_ink_with_it(number: str) -> None:
    drawing = Drawing()
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    cv2.putText(drawing.image, number, (x + 12, y + 22), cv2.FONT_HERSHEY_SIMPLEX, 0.5, (0, 0, 0), 2, cv2.LINE_AA)
    whole = print_of(drawing.flat())
    drawn = whole.drawn.copy()
    drawn[y : y + 15] = 0
    seen = replace(whole, drawn=drawn, pieces=find_pieces(drawn, RASTER, whole.pieces.tones))
    place = Place((1.0, 1.0, 1.92, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True)
    (glyph,) = read_texts([place], seen, GlyphReader())[0]
    assert glyph.text == number
    assert glyph.confidence > 0.9


@pytest.mark.parametrize(("apart", "sure"), [(16, True), (3, False)])
def test_a_total_with_a_given_over_its_end_is_in_doubt(apart: int, sure: bool) -> None:
    drawing = Drawing()
    x, y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
    cv2.putText(drawing.image, "3", (x + 5, y + 18), cv2.FONT_HERSHEY_SIMPLEX, 0.42, (0, 0, 0), 1, cv2.LINE_AA)
    cv2.rectangle(drawing.image, (x + 14 + apart, y + 8), (x + 34 + apart, y + 40), (0, 0, 0), 3)
    place = Place((1.0, 1.0, 1.92, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True)
    total = next(
        glyph for glyph in read_texts([place], print_of(drawing.flat()), GlyphReader())[0] if glyph.text == "3"
    )
    assert (total.confidence > 0.9) is sure


def test_what_stands_before_a_total_that_begins_where_all_do_is_no_figure_of_it() -> None:
    place = Place((1.0, 1.0, 1.92, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True)
    box = (1.08, 1.1, 1.2, 1.26)
    assert is_flush(box, place, 0.07)
    assert not is_flush(box, place, 0.14)  # a figure farther in than the others
    assert not is_flush(box, place, None)
    number = [SimpleNamespace(box=box)]
    before, behind = (
        SimpleNamespace(box=lambda raster, b=b: b) for b in ((1.01, 1.1, 1.04, 1.26), (1.22, 1.1, 1.3, 1.26))
    )
    for piece, flush, more in ((before, False, True), (before, True, False), (behind, True, True)):
        assert _more_beside(number, [piece], RASTER, flush) is more  # type: ignore[arg-type,list-item]


def test_a_total_that_other_looks_are_sure_is_another_names_it() -> None:
    told = Guess("13", 0.96), Guess("18", 0.02)
    glyph = Glyph((1.0, 1.0, 1.2, 1.2), told, 0.2, (0, 0, 0), "ocr")
    guesses = {guess.text: guess.probability for guess in _contested(glyph, ["15", "15", "18"]).guesses}
    assert list(guesses) == ["13", "15", "18"]
    assert guesses["13"] == pytest.approx(0.48)
    assert guesses["15"] == pytest.approx(2 * guesses["18"])
    assert 0.95 < sum(guesses.values()) < 1


def print_of(flat: Flat) -> Print:
    ink = measure_ink(flat, measure_ground(flat))
    pieces = find_pieces(ink.drawn, RASTER, measure_tones(ink, RASTER))
    return Print(ink.all, ink.drawn, ink.relative, pieces, RASTER, ink.floor)


@pytest.mark.parametrize("off", [0.0, 0.035])
def test_a_thin_circle_beside_its_corner_is_measured_around_its_digits(off: float) -> None:
    flat = Drawing().flat()
    centre = (round(RASTER.at(2 + off)), round(RASTER.at(2)))
    cv2.circle(flat.image, centre, 16, (255, 255, 255), -1)
    cv2.circle(flat.image, centre, 16, (0, 0, 0), 1, cv2.LINE_AA)
    for text, dx, dy in (("2", -8, -2), ("3", 2, -2), ("6", -8, 9), ("7", 2, 9)):
        place = (centre[0] + dx, centre[1] + dy)
        cv2.putText(flat.image, text, place, cv2.FONT_HERSHEY_SIMPLEX, 0.3, (0, 0, 0), 1, cv2.LINE_AA)
    ink = measure_ink(flat, measure_ground(flat))
    found = measure_round((2.0, 2.0), ink.all, ink.relative, RASTER, ink.floor, 0.1, 0.4)
    assert found is not None
    assert found.radius == pytest.approx(16.5 / CELL, abs=0.04)


def test_of_two_readings_of_a_number_on_the_lattice_the_one_with_more_sure_figures_is_taken() -> None:
    """One has lost a figure with the line that it touches, and knows of no ink that it did not read."""
    short, whole = reading_of("1", 0.99, 0.0), reading_of("12", 0.99, 0.1)
    assert short.score > whole.score
    assert fullest([short, whole]) is whole
    assert fullest([short, reading_of("12", 0.6, 0.0)]) is short  # not sure enough
    assert fullest([short, reading_of("72", 0.99, 0.1)]) is short  # another number


def test_half_a_character_left_in_a_circle_says_that_one_is_not_read() -> None:
    def is_part_left(*left: tuple[float, float, float, float]) -> bool:
        near = [
            Blob(round(RASTER.at(x0)), round(RASTER.at(y0)), round(CELL * (x1 - x0)), round(CELL * (y1 - y0)), 1, (n,))
            for n, (x0, y0, x1, y1) in enumerate(left, 2)
        ]
        reading = replace(reading_of("1", 0.99, 0.0), near=tuple(near))
        return in_part(reading, in_circle((0.1, 0.1), 0.4), RASTER)

    assert not is_part_left()
    assert is_part_left((0.2, 0.1, 0.26, 0.22))
    assert not is_part_left((0.2, 0.1, 0.24, 0.14))  # a speck
    assert not is_part_left((0.2, 0.1, 0.6, 0.5))  # the circle


def reading_of(text: str, sure: float, left: float) -> Reading:
    blob = Blob(0, 0, 9, 9, 40, (1,))
    boxes = [(0.2 * n, 0.0, 0.2 * n + 0.2, 0.2) for n in range(len(text))]
    characters = tuple(
        Character(blob, box, (Guess(c, sure),), (Guess(c, sure),)) for c, box in zip(text, boxes, strict=True)
    )
    return Reading(characters, Pieces(np.zeros((9, 9), np.int32), (), Tones(1.0, 0.0)), (), left)


@pytest.mark.parametrize(
    ("text", "edges", "plain"),
    [
        ("X", {"text", "sign"}, True),
        ("V", {"text", "white dot"}, True),
        ("V", {"text", "sign"}, False),
        ("X", {"white dot"}, False),
        ("1", {"text"}, False),
        ("7", {"text"}, True),
        ("7", {"text", "sign"}, False),
        ("7", {"white dot"}, False),
    ],
)
def test_letters_and_sevens_between_cells_are_plain_where_the_rules_speak_of_them_and_of_nothing_like_them(
    text: str, edges: set[str], plain: bool
) -> None:
    glyph = Glyph((0.9, 0.4, 1.1, 0.6), (Guess(text, 0.999),), 0.2, (0, 0, 0), "ocr")
    assert _is_plainly_text(glyph, (), Spoken(edges=frozenset(edges))) == plain


def test_a_digit_that_ends_where_the_line_of_its_circle_is_cut_off_is_read_whole(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Digit by digit: a 7 without the end of its bar looks like a 1."""
    monkeypatch.setattr(texts, "weighed", lambda glyphs, owners, hard, *_: (glyphs, [*hard.values()]))
    flat = Drawing().flat()
    x = y = (MARGIN + 2) * CELL
    cv2.circle(flat.image, (x, y), 22, (255, 255, 255), -1)
    cv2.circle(flat.image, (x, y), 22, (0, 0, 0), 1, cv2.LINE_AA)
    for digit, left in (("7", x - 17), ("8", x + 3)):
        cv2.putText(flat.image, digit, (left, y - 1), cv2.FONT_HERSHEY_SIMPLEX, 0.5, (0, 0, 0), 1, cv2.LINE_AA)
    assert texts_at(in_circle((2.0, 2.0), 22 / CELL), flat) == ["7", "8"]
