"""Where boxes with rounded corners meet: a star of paper, and no mark; a mark that stands there is one."""

import pytest

from fixtures.training.lattice_labels import Corner, Labels
from recognise.glyphs import GlyphReader
from tests.recognise.chances_maker import Sheet, looked_at, sure

BLACK = (0, 0, 0)
MEET = ((2, 3), (4, 3))
"""The corners (row, column) at which the six boxes of a 6 x 6 grid meet, two rows high and three columns wide."""


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def _marks(glyphs: GlyphReader, corners: dict[tuple[int, int], int], radius: float) -> list[tuple[float, ...]]:
    """The boxes of the marks of no kind on a page that has something of this size, and of these classes, on corners."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for (row, column), what in corners.items():
        sheet.circle((column, row), radius, BLACK, 0.05)
        labels.corner[row, column] = what
    return [shape.box for shape in looked_at(sheet, sure(labels), glyphs).shapes if shape.name == "mark"]


def test_small_stars_on_all_corners_of_boxes_are_no_marks(glyphs) -> None:
    assert _marks(glyphs, dict.fromkeys(MEET, Corner.OTHER), 0.08) == []


def test_what_is_larger_than_a_star_is_a_mark(glyphs) -> None:
    assert len(_marks(glyphs, dict.fromkeys(MEET, Corner.OTHER), 0.2)) == len(MEET)


def test_what_stands_on_some_corners_of_boxes_or_on_others_too_is_a_mark(glyphs) -> None:
    assert len(_marks(glyphs, {MEET[0]: Corner.OTHER}, 0.08)) == 1
    assert len(_marks(glyphs, dict.fromkeys([*MEET, (1, 1)], Corner.OTHER), 0.08)) == 3


def test_one_star_alone_may_be_a_mark(glyphs) -> None:
    assert len(_marks(glyphs, {MEET[0]: Corner.OTHER, MEET[1]: Corner.CIRCLE}, 0.08)) == 1
