"""Marks that hardly show on paper that shows its other side, and such as are darker, or on paper that does not."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from ingest.page import Box
from recognise.doubt.mirrored import without_mirrored
from recognise.draft import Doubt, Draft, Given, Item, box_polygon
from recognise.evidence import Flat, Words
from recognise.glyphs import GlyphReader
from recognise.marks.cell_questions import hardly_printed_words, through_words
from recognise.marks.line_questions import faded_words
from recognise.pixels.ground import Ground
from recognise.pixels.ink import measure_ink
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.even import Even

CELL, MARGIN, SIZE = 64, 1, 4
SIDE = (SIZE + 2 * MARGIN) * CELL
GRID = Grid(rows=SIZE, columns=SIZE, digits=(1, 2, 3, 4))
LINE, CIRCLES = faded_words([Cell(3, 2), Cell(3, 3)]), hardly_printed_words("circle", [Cell(4, 2)])
BACK = 0.08
"""The ink of what shows through."""
MIRRORED = {Cell(1, 2): "4", Cell(2, 4): "3", Cell(4, 4): "2"}


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def _place(cell: Cell) -> tuple[int, int]:
    x, y = cell.centre
    return round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)


def _with_digit(ink: np.ndarray, cell: Cell, text: str, strength: float, mirrored: bool) -> None:
    letters = np.zeros((CELL, CELL), np.uint8)
    (wide, high), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_SIMPLEX, 1.0, 2)
    at = (CELL - wide) // 2, (CELL + high) // 2
    cv2.putText(letters, text, at, cv2.FONT_HERSHEY_SIMPLEX, 1.0, 255, 2, cv2.LINE_AA)
    x, y = (middle - CELL // 2 for middle in _place(cell))
    ink[y : y + CELL, x : x + CELL] += strength * (letters[:, ::-1] if mirrored else letters) / 255


def _left(
    glyphs: GlyphReader,
    marks: float = BACK,
    mirrored: bool = True,
    asked: str = LINE,
    where: Box | None = None,
    pale: bool | None = None,
    square: float | None = None,
) -> int:
    """How many questions are left about a line and a circle of so much ink, or about stray ink somewhere, on paper with
    pale digits, with one more in r3c4, in a mirror or not, and a mark of so much ink in r2c1."""
    ink = np.zeros((SIDE, SIDE), np.float32)
    for cell, digit in MIRRORED.items():
        _with_digit(ink, cell, digit, BACK, mirrored)
    _with_digit(ink, Cell(1, 1), "1", 0.9, mirrored=False)
    if pale is not None:
        _with_digit(ink, Cell(3, 4), "4", BACK, mirrored=pale)
    mark = Item((Even(cells=(Cell(2, 1),)),), box_polygon((0.2, 1.2, 0.8, 1.8)), 0.999, "shape")
    if square is not None:
        x, y = _place(Cell(2, 1))
        ink[y - 16 : y + 16, x - 16 : x + 16] += square
    drawn = np.zeros((SIDE, SIDE), np.uint8)
    cv2.line(drawn, _place(Cell(3, 2)), _place(Cell(3, 3)), 255, 6)
    cv2.circle(drawn, _place(Cell(4, 2)), 24, 255, 3)
    ink += marks * drawn / 255
    ink = cv2.GaussianBlur(ink, (0, 0), 1.5) + np.random.default_rng(1).normal(0, 0.004, ink.shape)
    for line in range(SIZE + 1):
        at = (line + MARGIN) * CELL
        ink[at - 1 : at + 2, CELL:-CELL] = ink[CELL:-CELL, at - 1 : at + 2] = 0.7
    page = np.repeat(np.rint(255 * (1 - np.clip(ink, 0, 1)))[..., None], 3, axis=-1).astype(np.uint8)
    nowhere = np.zeros((SIDE, SIDE), np.float32)
    flat = Flat(page, SIZE, SIZE, CELL, MARGIN, nowhere, nowhere)
    given = Item(Given(Cell(1, 1), 1), box_polygon((0.3, 0.2, 0.7, 0.8)), 0.999, "ocr")
    items = (given, mark) if square is not None else (given,)
    draft = Draft(GRID, items, Words()).doubting(
        Doubt(asked, where=where and box_polygon(where), stray=where is not None), Doubt("perhaps")
    )
    measured = measure_ink(flat, Ground(np.full((SIDE, SIDE, 3), 255, np.float32), ()))
    return len(without_mirrored(draft, measured, flat, glyphs).doubts) - 1


@pytest.mark.parametrize("asked", [LINE, CIRCLES, through_words("circle", [Cell(4, 2)])])
def test_marks_no_darker_than_digits_that_read_in_a_mirror_show_through(glyphs: GlyphReader, asked: str) -> None:
    assert _left(glyphs, asked=asked) == 0
    assert _left(glyphs, marks=BACK / 2, asked=asked) == 0


@pytest.mark.parametrize("asked", [LINE, CIRCLES])
def test_marks_that_are_darker_are_asked_about(glyphs: GlyphReader, asked: str) -> None:
    assert _left(glyphs, marks=1.5 * BACK, asked=asked) == 1


def test_pale_digits_that_read_as_they_stand_are_of_this_side(glyphs: GlyphReader) -> None:
    assert _left(glyphs, mirrored=False) == 1


@pytest.mark.parametrize(
    ("where", "left"),
    [((1.4, 0.4, 1.5, 0.7), 0), ((1.3, 2.3, 1.7, 2.7), 0), ((1.8, 2.4, 2.0, 2.6), 1)],
    ids=["in a mirrored digit", "a figure of a line", "on a border"],
)
def test_so_does_stray_ink_but_for_what_may_be_a_mark(glyphs: GlyphReader, where: Box, left: int) -> None:
    assert _left(glyphs, where=where) == left


@pytest.mark.parametrize(("mirrored", "left"), [(True, 0), (False, 1)])
def test_stray_ink_that_reads_as_a_digit_as_it_stands_is_asked_about(
    glyphs: GlyphReader, mirrored: bool, left: int
) -> None:
    assert _left(glyphs, marks=0.0, where=(3.3, 2.3, 3.7, 2.7), pale=mirrored) == left


def test_stray_ink_that_is_darker_is_asked_about(glyphs: GlyphReader) -> None:
    assert _left(glyphs, marks=1.5 * BACK, where=(1.3, 2.3, 1.7, 2.7)) == 1


@pytest.mark.parametrize(("square", "left"), [(0.5, 0), (BACK, 1)])
def test_so_is_stray_ink_that_is_as_pale_as_marks_of_this_side(glyphs: GlyphReader, square: float, left: int) -> None:
    assert _left(glyphs, where=(1.3, 2.3, 1.7, 2.7), square=square) == left
