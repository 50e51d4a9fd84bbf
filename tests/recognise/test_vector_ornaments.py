"""What pages print beside a grid that marks nothing: the stars of a rating, bullets, short rules."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from recognise.evidence import Shape
from recognise.pixels.frame import Raster
from recognise.vectors.ornaments import ornaments_beside
from recognise.vectors.written import clue_tags, named_plates
from tests.recognise.drawn_pages import Points, nothing_else
from tests.recognise.evidence_maker import glyph

GOLD, BROWN = "#ffd54f", "#8d6e00"

pytestmark = pytest.mark.usefixtures("grid_first")


def _star(x: float, y: float) -> Points:
    turns = np.arange(10) * np.pi / 5 - np.pi / 2
    return [(x + r * np.cos(t), y + r * np.sin(t)) for t, r in zip(turns, (0.3, 0.13) * 5, strict=True)]


def test_the_stars_of_a_rating_are_no_marks(sheet):
    """One of them stands in the middle of a column by chance."""
    for k in range(3):
        sheet.area(_star(5.8 + 0.75 * k, 9.7), GOLD, BROWN)
    assert nothing_else(sheet.evidence())


def test_a_star_by_itself_or_in_step_is_a_mark(sheet):
    for k in range(3):
        sheet.area(_star(5.5 + k, 9.7), GOLD, BROWN)
    sheet.area(_star(-0.5, 3.1), GOLD, BROWN)
    assert len({shape.box for shape in sheet.evidence().shapes}) == 4


def test_bullets_and_short_rules_are_no_marks(sheet):
    for k in range(3):
        sheet.bar(-0.3, 9.4 + 0.3 * k, -0.22, 9.48 + 0.3 * k, BROWN)
    sheet.line([(4.0, -0.5), (5.0, -0.5)], 0.03, BROWN)
    sheet.line([(3.5, 9.5), (4.5, 9.5)], 0.03, BROWN)
    (left,) = sheet.evidence().shapes
    assert left.name == "bar"
    assert left.box[1] < 0


def test_frames_and_signs_of_clues_stay():
    frame, sign, bullet = (
        Shape(name, box, (0, 0, 0), "vector")
        for name, box in (
            ("square", (9.4, 3.8, 9.6, 4.0)),
            ("bar", (9.1, 6.88, 9.22, 6.92)),
            ("square", (9.1, 7.9, 9.2, 8.0)),
        )
    )
    written = [(9.42, 3.82, 9.58, 3.98), (9.4, 6.7, 9.6, 7.1)]
    assert ornaments_beside([frame, sign, bullet], 9, 9, written) == [bullet]
    assert len(ornaments_beside([frame, sign, bullet], 9, 9, [])) == 3
    large = replace(frame, box=(9.2, 3.6, 9.8, 4.2))
    assert ornaments_beside([large], 9, 9, []) == []


def test_squares_beside_rows_are_frames_of_clues():
    raster = Raster(9, 9, 64, 0)
    frame = Shape("square", (9.08, 3.08, 9.92, 3.92), (0, 0, 0), "vector", filled=False)
    off = replace(frame, box=(9.08, 3.58, 9.92, 4.42))
    canvas = SimpleNamespace(paper=(), raster=raster)
    assert clue_tags([frame, off, replace(frame, filled=True)], (), canvas) == [frame.box]


def test_a_path_beside_the_grid_on_which_a_number_stands_is_its_plate():
    raster = Raster(9, 9, 64, 0)
    tag = Shape("glyph-path", (2.2, -0.92, 2.8, -0.17), (68, 68, 68), "vector")
    far = replace(tag, box=(5.2, -0.92, 5.8, -0.17))
    within = replace(tag, box=(2.2, 1.1, 2.8, 1.9))
    numbers = [glyph(x, y, ("2", 1.0), size=0.25) for x, y in ((2.5, -0.6), (2.5, 1.5))]
    names = [shape.name for shape in named_plates([tag, far, within], numbers, raster)]
    assert names == ["plate", "glyph-path", "glyph-path"]


@pytest.mark.parametrize(("ends", "left"), [([(3.5, 6.5), (7.5, 2.5)], 0), ([(3.5, 6.5)], 1), ([(7.9, 2.5)], 1)])
def test_bars_across_the_ends_of_all_lines_of_a_colour_are_no_marks(sheet, ends, left):
    """Two lines from rings; a bar at one of them alone, or beside its end, may tell something."""
    for start, end in (((1.5, 6.5), (3.5, 6.5)), ((5.5, 2.5), (7.5, 2.5))):
        sheet.line([start, end], 0.05, BROWN)
        sheet.disc(*start, 0.3, "#ffffff", BROWN, 0.05)
    for x, y in ends:
        sheet.line([(x, y - 0.15), (x, y + 0.15)], 0.05, BROWN)
    found = sheet.evidence()
    assert len(found.shapes) == left
    assert len(found.traces) == 2


def test_square_caps_of_a_line_are_neither_marks_nor_heads(sheet):
    """Upright on the ends of a slanting line their corners reach beside it; a larger one marks its cell."""
    for start, end in (((1.5, 6.5), (3.5, 4.5)), ((5.5, 2.5), (7.5, 2.5))):
        sheet.line([start, end], 0.18, BROWN)
        for x, y in (start, end):
            sheet.bar(x - 0.09, y - 0.09, x + 0.09, y + 0.09, BROWN)
    sheet.bar(4.3, 7.3, 4.7, 7.7, BROWN)
    found = sheet.evidence()
    assert [shape.name for shape in found.shapes] == ["square"]
    assert [trace.heads for trace in found.traces] == [(), ()]


@pytest.mark.parametrize("written", [True, False])
def test_the_hole_of_a_tag_marks_nothing(sheet, written):
    """A label tied to the border of two cells; without a number a small ring in a frame is asked about."""
    for x, y in ((3, 1.5), (4.5, 6.0), (7, 7.5)):
        tag = [(x - 0.2, y - 0.15), (x + 0.1, y - 0.15), (x + 0.22, y), (x + 0.1, y + 0.15), (x - 0.2, y + 0.15)]
        sheet.area(tag, "#ffffff", "#000000", 0.015)
        sheet.disc(x + 0.12, y, 0.04, None, "#000000", 0.01)
        if written:
            sheet.text(x - 0.05, y, "8", 0.22)
    assert len(sheet.evidence().discs) == (0 if written else 3)
