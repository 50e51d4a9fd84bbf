"""Characters that are hard to part from what stands beside them, or paler or more blurred than others."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace
from types import SimpleNamespace

import cv2
import numpy as np
import pytest

from recognise.evidence import Flat, Glyph, Guess, Lattice
from recognise.geometry import box_at
from recognise.glyphs import GlyphReader
from recognise.grids import closer, flatten
from recognise.marks.characters import Characters, is_worse
from recognise.marks.text_places import SMALL_TALLEST, Place
from recognise.pixels import looks as looks_module
from recognise.pixels import read_pixels
from recognise.pixels.blobs import Tones, find_pieces, measure_tones
from recognise.pixels.cells import Look, Usual, look_again, usual_of
from recognise.pixels.closer import look_closer
from recognise.pixels.clues import Numbers, doubted, readable_of
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import read_characters
from recognise.pixels.ground import measure_ground
from recognise.pixels.in_place import look_in_place, without_nought
from recognise.pixels.ink import measure_ink
from recognise.pixels.looks import looked_again
from recognise.pixels.outside import Ring
from recognise.pixels.read import read_stages, without_written
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
    assert close.raster == Raster(6, 6, 128, 160)
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
    assert readable_of([Numbers(ring, (whole,), 1, False)]) > readable_of([Numbers(ring, (short,), 1, False)])
    assert doubted(whole, [short]) == whole
    assert doubted(whole, [other]).confidence < 0.6


def test_a_number_that_was_looked_at_in_more_ways_has_the_word_over_one_read_before() -> None:
    place = Place((1.0, 1.0, 1.92, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False)
    before, doubted = (Glyph((1.1, 1.1, 1.3, 1.3), (Guess("2", p),), 0.2, (0, 0, 0), "ocr") for p in (0.999, 0.5))
    assert not is_worse(doubted, [before], [place])
    assert is_worse(doubted, [replace(before, guesses=(Guess("12", 0.999),))], [place])


@pytest.mark.parametrize(("text", "again"), [("18", True), ("8", False)])
def test_a_total_that_was_read_with_the_walls_around_it_is_the_one_read_anew(text: str, again: bool) -> None:
    with_walls = Glyph((1.08, 1.08, 1.48, 1.5), (Guess(text, 0.57),), 0.42, (0, 0, 0), "ocr")
    anew = Glyph((1.12, 1.11, 1.46, 1.34), (Guess("18", 1.0),), 0.23, (0, 0, 0), "ocr")
    place = Place((1.0, 1.0, 1.92, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True)
    read = Characters((anew,), (), (place,), (with_walls,), (), ())
    assert (with_walls in read.replaced([])) == again


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
    assert [guess.text for guess in without_nought(ring)] == [""]


def test_a_ring_read_at_the_place_of_a_character_is_as_wide_as_it_is_tall() -> None:
    class Noughts:
        def read(self, crops: list[np.ndarray], allowed: str) -> list[tuple[Guess, ...]]:
            return [(Guess("0", 0.9),) for _ in crops]

    side = (6 + 2 * MARGIN) * CELL
    drawn = np.zeros((side, side), np.float32)
    x, y = (round(RASTER.at(middle)) for middle in (2.5, 3.5))
    cv2.circle(drawn, (x, y), round(0.17 * CELL), 1.0, 2)
    cv2.ellipse(drawn, (x + CELL, y), (round(0.1 * CELL), round(0.18 * CELL)), 0, 0, 360, 1.0, 2)
    looks = look_in_place(drawn, RASTER, Usual(0.38, 1.0), (0.5, 0.5), (), Noughts(), "0")
    shapes = {cell: (box[2] - box[0]) / (box[3] - box[1]) for cell, (box, _) in looks.items()}
    assert shapes[Cell(4, 3)] > 0.9 and shapes[Cell(4, 4)] < 0.7


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


CELLS = [Cell(1, 1), Cell(2, 4), Cell(3, 3), Cell(6, 2), Cell(4, 1), Cell(5, 3)]
"""Where givens stand, the last one on the end of a line."""


class Reader:
    """Reads all of the first crops as one text, all of the next as another, and so on."""

    def __init__(self, *texts: str) -> None:
        self._texts = iter(texts)

    def read(self, crops: Sequence[object], allowed: str | None = None) -> list[tuple[Guess, ...]]:
        text = next(self._texts)
        return [(Guess(text, 0.99),) for _ in crops]


def givens_and_a_line() -> tuple[list[Glyph], np.ndarray]:
    """Givens, and their ink with that of a line as dark, which ends under the last of them."""
    boxes = [box_at(cell.centre, 0.15, 0.25) for cell in CELLS]
    drawn = np.zeros(((6 + 2 * MARGIN) * CELL,) * 2, np.float32)
    for box in (*boxes, (2.5, 4.4, 4.5, 4.6)):
        drawn[RASTER.slices(box)] = 1.0
    return [Glyph(box, (Guess("2", 0.999),), 0.5, (0, 0, 0), "ocr") for box in boxes], drawn


def test_a_second_look_knows_where_it_saw_a_line_and_no_character() -> None:
    glyphs, drawn = givens_and_a_line()
    looks = look_again(drawn, RASTER, usual_of(glyphs, drawn, RASTER), Reader(""), "123456", CELLS)  # type: ignore[arg-type]
    assert [cell for cell, look in looks.items() if look.sees_line] == CELLS[-1:]


@pytest.mark.parametrize(("in_place", "confidence"), [("2", 0.995), ("", 0.5), ("7", 0.5)])
def test_a_line_that_hangs_on_to_a_given_says_nothing_against_it_where_it_shows_in_its_place(
    in_place: str, confidence: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    glyphs, drawn = givens_and_a_line()
    box = RASTER.slices(glyphs[-1].box)
    line = Look((box[1].start, box[0].start, box[1].stop, box[0].stop), (Guess("", 1.0),), hung=True)
    monkeypatch.setattr(looks_module, "look_again", lambda *_: {CELLS[-1]: line})
    ink = SimpleNamespace(drawn=drawn)
    found, _ = looked_again(glyphs, drawn > 1, ink, RASTER, Reader(in_place))  # type: ignore[arg-type]
    given = found[len(CELLS) - 1]
    shown = next(guess.probability for guess in given.guesses if guess.text == "2")
    assert shown == pytest.approx(confidence, abs=0.01)
