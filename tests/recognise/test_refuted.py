"""Pale figures that the one solution refutes, and those that it does not."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.doubt.refuted import without_refuted
from recognise.draft import Doubt, Draft, Given, Item, box_polygon
from recognise.evidence import Words
from recognise.glyphs import GlyphReader
from recognise.pixels.frame import Raster
from schema.cells import Cell
from schema.grid import Grid

CELL, SIZE = 64, 4
RASTER = Raster(SIZE, SIZE, CELL, CELL)
GRID = Grid(rows=SIZE, columns=SIZE, digits=(1, 2, 3, 4))
PALE, DARK = 0.07, 0.8
PLACE = Cell(2, 2)


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def _written(ink: np.ndarray, text: str, cell: Cell, strength: float, size: float = 1.0) -> tuple[float, ...]:
    """Write a digit into a cell, and say where it stands."""
    letters = np.zeros(ink.shape, np.uint8)
    (wide, high), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_SIMPLEX, size, 2)
    x, y = (round((place + 1) * CELL) for place in cell.centre)
    cv2.putText(letters, text, (x - wide // 2, y + high // 2), cv2.FONT_HERSHEY_SIMPLEX, size, 255, 2, cv2.LINE_AA)
    ink += strength * letters / 255
    rows, columns = (np.flatnonzero(letters.any(axis=axis)) for axis in (1, 0))
    return tuple((end + off) / CELL - 1 for off, k in ((0, 0), (1, -1)) for end in (columns[k], rows[k]))


def _asked(glyphs: GlyphReader, there: int, text: str = "2", strength: float = PALE, size: float = 1.0) -> bool:
    """Whether a figure is still asked about in a cell in which the solution has this digit."""
    ink = np.zeros(((SIZE + 2) * CELL,) * 2, np.float32)
    givens = [Given(Cell(1, column), column) for column in (1, 2, 4)]
    boxes = [_written(ink, str(given.digit), given.cell, DARK) for given in givens]
    items = [Item(g, box_polygon(box), 0.999, "ocr") for g, box in zip(givens, boxes, strict=True)]
    box = _written(ink, text, PLACE, strength, size)
    draft = Draft(GRID, tuple(items), Words()).doubting(Doubt("ink", where=box_polygon(box), stray=True))
    return bool(without_refuted(draft, {PLACE: there}, ink, RASTER, glyphs).doubts)


def test_a_pale_figure_where_the_solution_has_another_digit_was_never_printed(glyphs: GlyphReader) -> None:
    assert not _asked(glyphs, there=3)
    assert not _asked(glyphs, there=3, text="8"), "of another grid on the other side"


def test_a_pale_figure_that_agrees_with_the_solution_may_be_a_given(glyphs: GlyphReader) -> None:
    assert _asked(glyphs, there=2)


def test_a_figure_as_dark_as_print_that_contradicts_the_solution_says_that_something_was_misread(
    glyphs: GlyphReader,
) -> None:
    assert _asked(glyphs, there=3, strength=0.4)


def test_a_small_figure_may_be_the_number_of_a_mark_and_a_circle_is_no_digit(glyphs: GlyphReader) -> None:
    assert _asked(glyphs, there=3, size=0.6)
    assert _asked(glyphs, there=3, text="0")
