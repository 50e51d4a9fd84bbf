"""The vector reader beside a grid: a strip of boxes is of another puzzle unless they are as wide as cells."""

from __future__ import annotations

import numpy as np
import pytest

from tests.recognise.drawn_pages import Sheet, nothing_else


def strip(sheet: Sheet, left: float, top: float, step: float, boxes: int, height: float) -> None:
    """A row of boxes to the right of a place, drawn line by line."""
    right = left + boxes * step
    for y in (top, top + height):
        sheet.line([(left, y), (right, y)], 0.02)
    for x in np.linspace(left, right, boxes + 1):
        sheet.line([(x, top), (x, top + height)], 0.02)


@pytest.mark.parametrize("away", [0.4, 0.7])
def test_the_last_box_of_a_strip_is_no_mark_of_the_grid(sheet, away):
    sheet.grid()
    strip(sheet, -away - 5 * 0.4, 2.3, 0.4, 5, 0.4)
    strip(sheet, 9 + away, 4.3, 0.4, 5, 0.4)
    assert nothing_else(sheet.evidence())


def test_clues_in_boxes_as_wide_as_cells_are_read(sheet):
    sheet.grid()
    strip(sheet, 0, -0.95, 1.0, 9, 0.8)
    sheet.text(3.5, -0.55, "14", 0.4)
    assert "".join(glyph.text for glyph in sheet.evidence().glyphs) == "14"


def test_tags_that_point_at_the_grid_are_of_its_clues(sheet):
    sheet.grid()
    for row in (2, 3, 4):
        tag = [(-0.95, row + 0.02), (-0.3, row + 0.02), (-0.05, row + 0.5), (-0.3, row + 0.98), (-0.95, row + 0.98)]
        sheet.line(tag, 0.02, closed=True)
        sheet.text(-0.6, row + 0.5, "14", 0.3)
    found = sheet.evidence()
    assert "".join(glyph.text for glyph in found.glyphs) == "141414"
    assert len(found.shapes) == 3, "and the tags, for whoever takes them with their numbers"


def test_a_tinted_place_beside_the_grid_is_no_mark(sheet):
    """As little as two that are tinted in one go; a smaller square and a tag are marks."""
    sheet.bar(-1, 0, 0, 1, "#e3edf7")
    sheet.bar(-1, 3, 0, 5, "#e3edf7")
    sheet.bar(-0.9, 6.1, -0.1, 6.9, "#e3edf7")
    sheet.area([(-1, 8), (-0.3, 8), (0, 8.5), (-0.3, 9), (-1, 9)], "#e3edf7")
    sheet.grid()
    assert sorted(int(shape.box[1]) for shape in sheet.evidence().shapes) == [6, 8]
