"""Characters that are hard to part from what stands beside them, or paler or more blurred than others."""

from __future__ import annotations

import itertools
from dataclasses import replace
from types import SimpleNamespace

import cv2
import numpy as np
import pytest

from recognise.evidence import Flat, Glyph, Guess, Lattice
from recognise.glyphs import GlyphReader
from recognise.grids import closer, flatten
from recognise.marks.characters import is_worse
from recognise.marks.discs import measure_round
from recognise.marks.text_ink import Print
from recognise.marks.text_places import SMALL_TALLEST, Place, in_circle, on_edge
from recognise.marks.text_readings import Reading, _is_bit_of_line, fullest, in_part
from recognise.marks.texts import _contested, _in_figures, _more_beside, read_texts
from recognise.marks.totals import is_flush
from recognise.pixels import read_pixels
from recognise.pixels.blobs import Blob, Pieces, Tones, find_pieces, measure_tones
from recognise.pixels.closer import look_closer
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import Character, read_characters
from recognise.pixels.ground import measure_ground
from recognise.pixels.in_place import without_nought
from recognise.pixels.ink import measure_ink
from recognise.pixels.outside import Ring
from recognise.pixels.read import _doubted, _Numbers, _readable, read_stages, without_written
from recognise.pixels.same_fount import in_the_same_fount, weighed_by
from schema.cells import Cell
from tests.recognise.test_pixels import CELL, MARGIN, Drawing

RASTER = Raster(6, 6, CELL, MARGIN * CELL)


def ring(numbers: list[str], colour: int = 0, apart: int = 0) -> Flat:
    """A grid with a few givens and a row of numbers below; digits of one number stand `apart` pixels more than set."""
    drawing = Drawing()
    for cell in ((1, 1), (2, 4), (3, 3), (5, 6), (6, 2)):
        drawing.text(cell, "5")
    for column, number in enumerate(numbers, start=1):
        x, y = drawing.at((7, column))
        x -= 10 * len(number)
        for digit in number:
            (width, _), _ = cv2.getTextSize(digit, cv2.FONT_HERSHEY_SIMPLEX, 0.8, 3)
            cv2.putText(drawing.image, digit, (x, y + 8), cv2.FONT_HERSHEY_SIMPLEX, 0.8, (colour,) * 3, 3, cv2.LINE_AA)
            x += width + apart
    return drawing.flat()


def clues(flat: Flat) -> list[str]:
    found = [glyph for glyph in read_pixels(flat).glyphs if glyph.centre[1] > flat.rows]
    return [glyph.text for glyph in sorted(found, key=lambda glyph: glyph.centre[0])]


def test_clues_paler_than_givens_are_read() -> None:
    assert clues(ring(["7", "14", "22", "9", "35", "4"], colour=170)) == ["7", "14", "22", "9", "35", "4"]


def test_digits_of_a_clue_that_touch_are_parted() -> None:
    numbers = ["24", "7", "35", "22", "9", "43"]
    flat = ring(numbers, apart=-4)
    raster = Raster.of(flat)
    ink = measure_ink(flat, measure_ground(flat))
    pieces = find_pieces(ink.drawn, raster, measure_tones(ink, raster))
    assert sum(blob.y > raster.at(6) for blob in pieces.blobs) == len(numbers)  # each number is one piece
    assert clues(flat) == numbers


def test_givens_out_of_focus_are_read() -> None:
    drawing = Drawing()
    cells = [(1, 1), (2, 4), (3, 3), (5, 6), (6, 2)]
    for cell, digit in zip(cells, "56792", strict=True):
        drawing.text(cell, digit)
    flat = drawing.flat()
    pale = 255 - (255 - flat.image.astype(np.float32)) * 0.5
    blurred = replace(flat, image=np.asarray(cv2.GaussianBlur(pale, (0, 0), 4.0), np.uint8))
    glyphs = [glyph for glyph in read_pixels(blurred).glyphs if glyph.text]
    assert {glyph.text for glyph in glyphs} == set("56792")


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
def test_a_total_that_touches_the_wall_of_its_cage_is_read(number: str) -> None:
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


@pytest.mark.parametrize(("perhaps", "text"), [(False, "17"), (True, "7")])
def test_a_number_that_was_not_expected_has_lost_no_figure(perhaps: bool, text: str) -> None:
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
    assert [glyph.text for glyph in glyphs] == ["28", "23", "26", text]


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


def test_small_characters_are_taken_from_the_page_at_a_larger_scale() -> None:
    """A page of 192 pixels a cell, with a number that is 7 pixels high in the flat picture."""
    page = np.full((8 * 192, 8 * 192, 3), 255, np.uint8)
    for line in range(7):
        cv2.line(page, (192, (1 + line) * 192), (7 * 192, (1 + line) * 192), (0, 0, 0), 3)
        cv2.line(page, ((1 + line) * 192, 192), ((1 + line) * 192, 7 * 192), (0, 0, 0), 3)
    cv2.putText(page, "28", (2 * 192 + 24, 2 * 192 + 50), cv2.FONT_HERSHEY_SIMPLEX, 0.98, (0, 0, 0), 2, cv2.LINE_AA)
    ticks = 192.0 * np.arange(1, 8) - 0.5
    flat = flatten(page, Lattice(np.stack(np.meshgrid(ticks, ticks), axis=-1)))
    ink = measure_ink(flat, measure_ground(flat))
    close = look_closer(flat, ink)
    assert close is not None
    assert close.raster == Raster(6, 6, 128, 128)
    box = close.raster.slices((1.05, 1.05, 1.6, 1.4))
    assert np.count_nonzero(close.drawn[box] > 0.9) > 3 * np.count_nonzero(ink.drawn[box_of(flat)] > 0.9)
    assert close.drawn[close.raster.slices((2.9, 2.2, 3.1, 2.8))].max() < 0.3  # lattice lines stay out
    assert look_closer(replace(flat, page=None), ink) is None


def box_of(flat: Flat) -> tuple[slice, slice]:
    return Raster.of(flat).slices((1.05, 1.05, 1.6, 1.4))


def test_a_page_of_few_pixels_has_no_more_to_show() -> None:
    page = np.full((8 * 40, 8 * 40, 3), 255, np.uint8)
    ticks = 40.0 * np.arange(1, 8)
    assert closer(flatten(page, Lattice(np.stack(np.meshgrid(ticks, ticks), axis=-1))), 1) is None


def test_the_look_that_shows_more_figures_of_a_clue_is_taken_and_another_number_is_a_doubt() -> None:
    short, whole, other = (Glyph((0, 0, 1, 1), (Guess(t, 0.99),), 0.3, (0, 0, 0), "ocr") for t in ("3", "32", "37"))
    ring = Ring("left", (), ())
    assert _readable([_Numbers(ring, (whole,), 1, False)]) > _readable([_Numbers(ring, (short,), 1, False)])
    assert _doubted(whole, [short]) == whole
    assert _doubted(whole, [other]).confidence < 0.6


def test_a_number_that_was_looked_at_in_more_ways_has_the_word_over_one_read_before() -> None:
    place = Place((1.0, 1.0, 1.92, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False)
    before, doubted = (Glyph((1.1, 1.1, 1.3, 1.3), (Guess("2", p),), 0.2, (0, 0, 0), "ocr") for p in (0.999, 0.5))
    assert not is_worse(doubted, [before], [place])
    assert is_worse(doubted, [replace(before, guesses=(Guess("12", 0.999),))], [place])


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


def test_shade_and_the_core_of_one_blurred_figure_are_no_tone() -> None:
    """Characters are what is darker than the tone of tubes: a tone that is none cuts blurred characters to pieces."""
    drawing = np.zeros(((6 + 2 * MARGIN) * CELL,) * 2, np.uint8)
    for row, column in itertools.product((2, 3, 4), (2, 3, 4, 5)):
        at = RASTER.px(MARGIN + column - 0.7), RASTER.px(MARGIN + row - 0.3)
        cv2.putText(drawing, "7", at, cv2.FONT_HERSHEY_SIMPLEX, 1.3, (1,), 6)
    drawn = np.asarray(0.5 * drawing, np.float32)
    drawn[RASTER.slices((0, 0, 6, 0.22))] = 0.08
    drawn[RASTER.slices((1.3, 0.22, 1.72, 0.7))] = 0.3
    ink = SimpleNamespace(drawn=drawn, floor=0.05)
    tone = measure_tones(ink, RASTER).even  # type: ignore[arg-type]
    assert tone < 0.1
    drawn[RASTER.slices((0, 5.3, 5, 5.7))] = 0.3
    assert measure_tones(ink, RASTER).even == pytest.approx(0.3, abs=0.02)  # type: ignore[arg-type]


def grid_with(digits: dict[tuple[int, int], str]) -> Drawing:
    drawing = Drawing()
    for cell, digit in digits.items():
        drawing.text(cell, digit)
    return drawing


def read_at(flat: Flat, cell: tuple[int, int]) -> list[str]:
    row, column = cell
    found = [glyph for glyph in read_pixels(flat).glyphs if glyph.text]
    return [g.text for g in found if (int(g.centre[1]) + 1, int(g.centre[0]) + 1) == (row, column)]


GIVENS = {(1, 1): "5", (2, 4): "3", (3, 3): "8", (5, 6): "6", (6, 2): "2", (4, 1): "4"}


def test_a_given_on_a_dotted_line_that_is_nearly_as_dark_is_read() -> None:
    drawing = grid_with(GIVENS)
    x, y = drawing.at((3, 5))
    for step in range(-9, 10):
        cv2.circle(drawing.image, (x + 11 * step, y), 6, (60, 60, 60), -1, cv2.LINE_AA)
    drawing.text((3, 5), "6")
    assert read_at(drawing.flat(), (3, 5)) == ["6"]


def test_a_given_in_which_black_lines_meet_is_read() -> None:
    flats = []
    for givens in ({**GIVENS, (3, 5): "7"}, GIVENS):
        drawing = grid_with(givens)
        x, y = drawing.at((3, 5))
        cv2.line(drawing.image, (x, y), (x + CELL, y), (0, 0, 0), 4)
        cv2.line(drawing.image, (x, y), (x - 3 * CELL, y + 3 * CELL), (0, 0, 0), 4)
        flats.append(drawing.flat())
    assert [read_at(flat, (3, 5)) for flat in flats] == [["7"], []]


def test_the_place_of_print_is_that_of_the_print_alone_once_it_is_known_what_somebody_wrote() -> None:
    drawing = grid_with({**GIVENS, (3, 5): "7"})
    x, y = drawing.at((3, 5))
    cv2.line(drawing.image, (x, y), (x + CELL, y), (0, 0, 0), 4)
    cv2.line(drawing.image, (x, y), (x - 3 * CELL, y + 3 * CELL), (0, 0, 0), 4)
    written = {(1.2, 3.2): "2", (1.8, 2.85): "5", (6.15, 6): "3", (3.8, 5.2): "8", (5.2, 4.8): "4"}
    for cell, digit in written.items():
        drawing.text(cell, digit)
    flat = drawing.flat()
    evidence, stages = read_stages(flat)
    assert read_at(flat, (3, 5)) == []
    cells = {Cell(round(row), round(column)) for row, column in written}
    kept = tuple(glyph for glyph in evidence.glyphs if RASTER.cell_of(*glyph.centre) not in cells)
    told = without_written(cells, replace(evidence, glyphs=kept), stages, RASTER, GlyphReader())
    assert {RASTER.cell_of(*glyph.centre): glyph.text for glyph in told.glyphs if glyph.text} == {
        Cell(*cell): digit for cell, digit in {**GIVENS, (3, 5): "7"}.items()
    }


def test_what_looks_like_a_nought_is_another_digit_in_a_grid_without_one_unless_it_is_a_ring() -> None:
    blurred = (Guess("8", 0.5), Guess("0", 0.3), Guess("6", 0.1), Guess("", 0.1))
    assert [(g.text, round(g.probability, 3)) for g in without_nought(blurred)] == [
        ("8", 0.714), ("6", 0.143), ("", 0.143)
    ]  # fmt: skip
    ring = (Guess("0", 0.8), Guess("8", 0.2))
    assert without_nought(ring) == ring


def test_a_line_taken_out_of_a_given_leaves_it_in_doubt() -> None:
    drawing = grid_with({**GIVENS, (3, 5): "6"})
    x, y = drawing.at((3, 5))
    cv2.line(drawing.image, (x, y), (x + CELL, y), (0, 0, 0), 4)
    cv2.line(drawing.image, (x, y), (x - 3 * CELL, y + 3 * CELL), (0, 0, 0), 4)
    (given,) = (glyph for glyph in read_pixels(drawing.flat()).glyphs if 4 < glyph.centre[0] < 5 and glyph.text)
    assert given.text == "6" or given.confidence < 0.7


def test_a_bend_in_a_line_is_no_given() -> None:
    drawing = grid_with(GIVENS)
    x, y = drawing.at((3, 5))
    cv2.line(drawing.image, (x - CELL - 20, y), (x, y), (60, 60, 60), 3)
    cv2.line(drawing.image, (x, y), (x - CELL, y + CELL), (60, 60, 60), 3)
    assert read_at(drawing.flat(), (3, 5)) == []


def test_a_doubtful_character_is_weighed_by_its_likeness_to_the_sure_ones_of_its_page() -> None:
    doubtful = Glyph((2.3, 2.2, 2.7, 2.8), (Guess("8", 0.5), Guess("5", 0.4), Guess("0", 0.1)), 0.6, (0, 0, 0), "ocr")
    weighed = weighed_by(doubtful, {"5": 0.97, "8": 0.94, "6": 0.9})
    assert weighed.text == "5"
    assert weighed.confidence == pytest.approx(0.4 / (0.4 + 0.5 * 0.25 + 0.1))  # of 0 the page has no pattern
    assert weighed_by(doubtful, {}) == doubtful


def test_a_character_is_held_against_those_of_its_own_fount() -> None:
    drawing = grid_with({**GIVENS, (2, 2): "5", (5, 3): "5"})
    flat = drawing.flat()
    raster, drawn = Raster.of(flat), measure_ink(flat, measure_ground(flat)).drawn
    sure = [glyph for glyph in read_pixels(flat).glyphs if glyph.text]
    one = next(g for g in sure if g.text == "5")
    doubtful = [replace(g, guesses=(Guess("6", 0.6), Guess("5", 0.4))) if g is one else g for g in sure]
    found = in_the_same_fount(doubtful, drawn, raster)
    assert [g.text for g in found] == [g.text for g in sure]
    assert [g for g in found if g.box != one.box] == [g for g in sure if g is not one]


class _Topless:
    """Takes every piece for a U, and for a 0 where no letter may stand."""

    def read(self, crops, allowed=None):
        return [(Guess("0" if allowed else "U", 0.95), Guess("", 0.05)) for _ in crops]


@pytest.mark.parametrize(("numbers", "text"), [(True, "0"), (False, "U")])
def test_a_nought_that_has_lost_its_top_is_one_where_nothing_but_numbers_stands(numbers: bool, text: str) -> None:
    ink = np.zeros((8 * CELL, 8 * CELL), np.float32)
    ink[100:120, 100:112] = 0.8
    pieces = find_pieces(ink, RASTER, Tones(0.8, 0.05))
    (character,) = read_characters(pieces.blobs, pieces, ink, RASTER, _Topless(), "0123456789", numbers)
    assert character.guesses[0].text == text
