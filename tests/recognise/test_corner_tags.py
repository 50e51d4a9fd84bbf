"""Small numbers in tags in the corners of cells."""

from __future__ import annotations

import cv2
import pytest

from recognise.glyphs import GlyphReader
from recognise.marks.corner_tags import tags_of, walls_of_tags
from recognise.marks.text_places import SMALL_TALLEST, Place
from recognise.marks.texts import read_texts
from tests.recognise.test_characters_of_marks import print_of
from tests.recognise.test_pixels import CELL, MARGIN, Drawing

PLACE = Place((1.0, 1.0, 1.92, 1.42), "0123456789", SMALL_TALLEST, on_lattice=False, in_corner=True)
X, Y = (MARGIN + 1) * CELL, (MARGIN + 1) * CELL
INK = (40, 40, 40)


def _page(number: str, walls: str, right: int = 26) -> Drawing:
    """A number in the corner of a cell, with some walls of a tag: the right one so far from the lattice line."""
    drawing = Drawing()
    drawing.flat()
    for x0, y0, x1, y1 in ((X, Y - CELL, X, Y + CELL), (X - CELL, Y, X + CELL, Y)):
        cv2.line(drawing.image, (x0, y0), (x1, y1), INK, 2)
    ends = {"right": ((X + right, Y), (X + right, Y + 17)), "below": ((X, Y + 17), (X + right, Y + 17))}
    for name in walls.split():
        cv2.line(drawing.image, *ends[name], INK, 1)
    cv2.putText(drawing.image, number, (X + 4, Y + 13), cv2.FONT_HERSHEY_SIMPLEX, 0.34, INK, 1, cv2.LINE_AA)
    return drawing


@pytest.mark.parametrize("shade", [INK, (110, 80, 70)])
def test_the_wall_of_a_tag_is_no_character(shade: tuple[int, int, int]) -> None:
    drawing = _page("", "")
    cv2.rectangle(drawing.image, (X + 2, Y + 2), (X + 26, Y + 18), shade, 1)
    cv2.putText(drawing.image, "28", (X + 6, Y + 16), cv2.FONT_HERSHEY_SIMPLEX, 0.42, INK, 1, cv2.LINE_AA)
    glyphs, _ = read_texts([PLACE], print_of(drawing.flat()), GlyphReader())
    assert [glyph.text for glyph in glyphs] == ["28"]
    assert glyphs[0].confidence > 0.9


@pytest.mark.parametrize(("walls", "tags"), [("right below", 1), ("right", 0), ("below", 0), ("", 0)])
def test_a_tag_has_walls_all_round(walls: str, tags: int) -> None:
    drawing = _page("36", walls)
    flat = drawing.flat()
    seen = print_of(flat)
    glyphs, _ = read_texts([PLACE], seen, GlyphReader())
    ink = type("Ink", (), {"all": seen.whole, "relative": seen.relative, "floor": seen.floor})()
    found = tags_of(glyphs, ink, seen.raster)
    assert len(found) == tags
    assert len(list(walls_of_tags(found))) == 4 * tags


def test_a_figure_that_seems_to_close_a_tag_is_none_of_its_walls() -> None:
    """The last figure of 31 is upright, and is not as tall as the tag."""
    glyphs, _ = read_texts([PLACE], print_of(_page("31", "below", right=40).flat()), GlyphReader())
    assert [glyph.text for glyph in glyphs] == ["31"]
