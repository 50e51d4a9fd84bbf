"""Brackets and triangles in the corners of a cell are one mark; figures side by side are none."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from tests.recognise.drawn_pages import Points, Sheet
from tests.recognise.test_vector_characters import written

GREY = "#989898"
NEAR, ARM, PEN = 0.13, 0.18, 0.02
X, Y = 4, 2
"""The cell with the mark, counted from 0."""


@pytest.fixture
def sheet(tmp_path) -> Sheet:
    made = Sheet(tmp_path / "page.pdf")
    made.grid()
    return made


def corners() -> Iterator[tuple[float, float, int, int]]:
    """Each corner of the mark, and which way is inward."""
    for right in (0, 1):
        for low in (0, 1):
            x, y = X + (1 - NEAR if right else NEAR), Y + (1 - NEAR if low else NEAR)
            yield x, y, 1 - 2 * right, 1 - 2 * low


def strokes(sheet: Sheet) -> None:
    for x, y, dx, dy in corners():
        sheet.line([(x + ARM * dx, y), (x, y), (x, y + ARM * dy)], PEN, GREY)


def single_strokes(sheet: Sheet) -> None:
    for x, y, dx, dy in corners():
        sheet.line([(x + ARM * dx, y), (x, y)], PEN, GREY)
        sheet.line([(x, y), (x, y + ARM * dy)], PEN, GREY)


def one_path(sheet: Sheet) -> None:
    sheet.canvas.setLineWidth(PEN * 30)
    sheet.canvas.setStrokeColor(GREY)
    path = sheet.canvas.beginPath()
    for x, y, dx, dy in corners():
        path.moveTo(*sheet.at(x + ARM * dx, y))
        path.lineTo(*sheet.at(x, y))
        path.lineTo(*sheet.at(x, y + ARM * dy))
    sheet.canvas.drawPath(path)


def areas(sheet: Sheet) -> None:
    for x, y, dx, dy in corners():
        bent: Points = [(0, 0), (ARM, 0), (ARM, PEN), (PEN, PEN), (PEN, ARM), (0, ARM)]
        sheet.area([(x + across * dx, y + down * dy) for across, down in bent], GREY)


def triangles(sheet: Sheet) -> None:
    for x, y, dx, dy in corners():
        sheet.area([(x, y), (x + ARM * dx, y), (x, y + ARM * dy)], GREY)


def square_brackets(sheet: Sheet) -> None:
    for x, dx in ((X + NEAR, ARM), (X + 1 - NEAR, -ARM)):
        top, bottom = Y + NEAR, Y + 1 - NEAR
        sheet.line([(x + dx, top), (x, top), (x, bottom), (x + dx, bottom)], PEN, GREY)


def opposite(sheet: Sheet) -> None:
    """Two corners across from each other are something that nobody has named."""
    for x, y, dx, dy in (each for each in corners() if each[2] == each[3]):
        sheet.line([(x + ARM * dx, y), (x, y), (x, y + ARM * dy)], PEN, GREY)


def ones(sheet: Sheet) -> None:
    """An 11 drawn as two paths, as wide as high."""
    for left in (0.2, 0.55):
        foot, head = Y + 0.8, Y + 0.2
        stem = X + left + 0.17
        sheet.bar(stem - 0.03, head, stem + 0.03, foot, GREY)
        sheet.bar(X + left, foot - 0.05, X + left + 0.25, foot, GREY)


@pytest.mark.parametrize("draw", [strokes, single_strokes, one_path, areas, triangles, square_brackets])
def test_pieces_in_all_corners_of_a_cell_are_one_square(sheet: Sheet, draw: Callable[[Sheet], None]) -> None:
    draw(sheet)
    sheet.text(X + 0.5, Y + 0.5, "7")
    found = sheet.evidence()
    (mark,) = found.shapes
    assert (mark.name, mark.filled) == ("square", False)
    assert mark.box == pytest.approx((X + NEAR, Y + NEAR, X + 1 - NEAR, Y + 1 - NEAR), abs=PEN)
    assert [glyph.text for glyph in found.glyphs] == ["7"]


def _figures(character: str) -> Callable[[Sheet], None]:
    def draw(sheet: Sheet) -> None:
        for x, y in ((0.08, 0.32), (0.75, 0.32), (0.08, 0.92), (0.75, 0.92)):
            written(sheet, character, X + x, Y + y, 0.3)

    return draw


@pytest.mark.parametrize("draw", [opposite, ones, *map(_figures, "238")])
def test_other_pieces_are_not(sheet: Sheet, draw: Callable[[Sheet], None]) -> None:
    draw(sheet)
    assert "square" not in [shape.name for shape in sheet.evidence().shapes]
