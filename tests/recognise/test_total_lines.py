"""Totals of cages stand in one line in all cells of a page: givens, dashes and lattice lines do not."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from ingest.page import Box
from recognise.evidence import Glyph, Guess
from recognise.glyphs import GlyphReader
from recognise.marks import texts
from recognise.marks.text_ink import Print
from recognise.marks.text_places import SMALL_TALLEST, Place, corner_of
from recognise.marks.text_readings import Reading, contradicts, longest, on_one_line
from recognise.marks.texts import read_texts
from recognise.marks.total_lines import look_in_line
from recognise.pixels.blobs import Blob, Pieces, Tones, find_pieces
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import DIGITS, OPERATIONS, Character
from schema.cells import Cell

CELL = 128
RASTER = Raster(2, 2, CELL, CELL)
CELLS = [Cell(row, column) for row in (1, 2) for column in (1, 2)]
BLACK = 0


def at(cell: Cell, x: float, y: float) -> tuple[int, int]:
    """The pixel so far, in cells, from the upper left of a cell."""
    return round(RASTER.at(cell.column - 1 + x)), round(RASTER.at(cell.row - 1 + y))


def write(picture: np.ndarray, cell: Cell, text: str) -> None:
    cv2.putText(picture, text, at(cell, 0.1, 0.3), cv2.FONT_HERSHEY_SIMPLEX, 0.9, BLACK, 2, cv2.LINE_AA)


def totals(picture: np.ndarray) -> dict[Cell, list[Glyph]]:
    """What is read in the corners of all cells, cell by cell."""
    relative = np.repeat(picture[..., None], 3, axis=2).astype(np.float32) / np.float32(255)
    ink = 1 - relative.min(axis=-1)
    seen = Print(ink, ink, relative, find_pieces(ink, RASTER, Tones(1.0, 0.0)), RASTER, 0.05)
    corners = [
        Place(corner_of(cell), DIGITS + OPERATIONS, SMALL_TALLEST, on_lattice=False, in_corner=True) for cell in CELLS
    ]
    read = read_texts(corners, seen, GlyphReader())[0]
    return {cell: [glyph for glyph in read if RASTER.cell_of(*glyph.centre) == cell] for cell in CELLS}


def page(*texts: str) -> np.ndarray:
    picture = np.full((4 * CELL, 4 * CELL), 255, np.uint8)
    for cell, text in zip(CELLS, texts, strict=True):
        write(picture, cell, text)
    return picture


def test_a_figure_that_a_given_runs_into_is_read_and_in_doubt(monkeypatch: pytest.MonkeyPatch) -> None:
    """Character by character; as a whole it may be plain to see."""
    monkeypatch.setattr(texts, "weighed", lambda glyphs, owners, hard, *_: (glyphs, [*hard.values()]))
    picture = page("12", "15", "23", "18")
    last = CELLS[-1]
    cv2.rectangle(picture, at(last, 0.28, 0.285), at(last, 0.7, 0.9), BLACK, -1)
    (total,) = totals(picture)[last]
    assert total.text == "18"
    assert total.confidence <= 0.5


def test_what_looks_like_a_dash_below_a_total_is_none_of_its_figures() -> None:
    picture = page("15", "26", "13", "14")
    for cell in CELLS:
        cv2.putText(picture, "1", at(cell, 0.1, 0.46), cv2.FONT_HERSHEY_SIMPLEX, 0.6, BLACK, 2, cv2.LINE_AA)
    assert [[total.text for total in read] for read in totals(picture).values()] == [["15"], ["26"], ["13"], ["14"]]


def character(text: str, box: Box) -> Character:
    guesses = (Guess(text, 0.9),)
    return Character(Blob(0, 0, 9, 9, 9, (1,)), box, guesses, guesses)


@pytest.mark.parametrize(("top", "text"), [(0.17, "12-"), (0.06, "12")])
def test_a_bar_higher_than_a_minus_stands_is_a_dash_of_the_wall(top: float, text: str) -> None:
    figures = character("1", (0.1, 0.12, 0.16, 0.3)), character("2", (0.2, 0.12, 0.3, 0.3))
    bar = character("-", (0.34, top, 0.62, top + 0.1))
    assert "".join(one.guesses[0].text for one in on_one_line((*figures, bar))) == text


def _reading(place: Place, text: str, chance: float = 1.0, left: float = 0.0) -> Reading:
    """What is read of a total, its figures as sure as said, with some ink left over."""
    x, y = place.box[0] + 0.1, place.box[1] + 0.05
    boxes = [(x + 0.16 * at, y, x + 0.16 * at + 0.13, y + 0.2) for at in range(len(text))]
    figures = [(Guess(figure, chance if at else 1.0),) for at, figure in enumerate(text)]
    pieces = Pieces(np.zeros((4 * CELL, 4 * CELL), np.int32), (), Tones(1.0, 0.0))
    characters = [Character(Blob(0, 0, 9, 9, 9, (1,)), *one, one[-1]) for one in zip(boxes, figures, strict=True)]
    return Reading(tuple(characters), pieces, (), left)


@pytest.mark.parametrize(("left", "text"), [(0.35, "21"), (0.0, "2")])
def test_a_figure_in_line_that_no_look_is_sure_of_is_not_left_out(left: float, text: str) -> None:
    corners = [
        Place(corner_of(cell), DIGITS + OPERATIONS, SMALL_TALLEST, on_lattice=False, in_corner=True) for cell in CELLS
    ]
    found = {place: [_reading(place, "15")] * 2 for place in corners[1:]}
    found[corners[0]] = [_reading(corners[0], "21", chance=0.6)] * 2
    seen = Print(*[np.zeros((4 * CELL, 4 * CELL), np.float32)] * 3, found[corners[0]][0].pieces, RASTER, 0.05)
    look_in_line(found, seen, lambda places, _: [[_reading(place, "2", left=left)] * 3 for place in places])
    assert longest(found[corners[0]]).text == text


def _read_at(text: str, boxes: list[Box], near: tuple[Blob, ...] = ()) -> Reading:
    pieces = Pieces(np.zeros((4 * CELL, 4 * CELL), np.int32), (), Tones(1.0, 0.0))
    return Reading(tuple(map(character, text, boxes)), pieces, near, 0.0)


def test_the_same_figures_in_the_same_places_contradict_nothing_in_whatever_order() -> None:
    above, below = [(0.1, 0.1, 0.2, 0.3), (0.3, 0.1, 0.4, 0.3)], [(0.1, 0.32, 0.2, 0.52), (0.3, 0.32, 0.4, 0.52)]
    best = _read_at("1731", above + below)
    assert not contradicts(_read_at("3117", below + above), best, RASTER)
    assert contradicts(_read_at("3719", [below[0], above[1], above[0], below[1]]), best, RASTER)


def _ink(box: Box) -> Blob:
    x0, y0, x1, y1 = (round(RASTER.at(value)) for value in box)
    return Blob(x0, y0, x1 - x0, y1 - y0, 9, (1,))


def test_figures_that_run_together_in_one_look_are_lost_there_and_no_other_number() -> None:
    boxes: list[Box] = [(0.1, 0.1, 0.2, 0.3), (0.22, 0.1, 0.32, 0.3), (0.34, 0.1, 0.46, 0.3), (0.48, 0.1, 0.6, 0.3)]
    best, figures = _read_at("8105", boxes), tuple(map(_ink, boxes[:2]))
    together = _ink((0.34, 0.1, 0.6, 0.3))
    assert not contradicts(_read_at("81", boxes[:2], (*figures, together)), best, RASTER)
    assert contradicts(_read_at("81", boxes[:2], figures), best, RASTER)


def test_a_frame_around_a_number_is_none_of_its_figures() -> None:
    boxes: list[Box] = [(0.1, 0.1, 0.2, 0.3), (0.22, 0.1, 0.32, 0.3)]
    frame = _ink((0.04, 0.04, 0.38, 0.36))
    assert contradicts(_read_at("2", boxes[1:], (_ink(boxes[1]), frame)), _read_at("12", boxes), RASTER)
