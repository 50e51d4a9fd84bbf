"""What stands beside the grid, or round all of it, is on none of its cells."""

from __future__ import annotations

import numpy as np
import pytest

from recognise.evidence import Glyph, Guess, Shape
from recognise.interpret.draft import cells_under
from recognise.interpret.making import Making
from recognise.marks.found import Marks
from recognise.pixels.outside import not_in_line
from recognise.pixels.read import told_by_arrows, without_characters
from schema.cells import Cell
from schema.grid import Grid

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))


@pytest.mark.parametrize(
    "box", [(0.1, -0.6, 0.3, -0.4), (-0.6, 0.1, -0.4, 0.3), (4.2, 0.1, 4.4, 0.3), (-3, -2, -2, -1)]
)
def test_a_box_beside_the_grid_lies_on_no_cell(box):
    assert list(cells_under(box, GRID)) == []


@pytest.mark.parametrize("box", [(0.05, 0.05, 0.15, 0.15), (-0.4, 0.3, 0.4, 0.7)])
def test_a_box_that_reaches_into_a_cell_lies_on_it(box):
    assert list(cells_under(box, GRID)) == [Cell(1, 1)]


def test_what_goes_round_all_cells_is_asked_about_and_states_nothing():
    making = Making(GRID, None, ())
    around = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))
    making.unread("square", around, tuple(GRID.cells()), "a square stands there")
    assert not making.items
    assert [doubt.why for doubt in making.doubts] == ["a square stands there"]


STACKED = (4.56, 1.22, 4.77, 1.77)
"""A figure of one number and one of the next below it, which touch: no number of a row."""


@pytest.mark.parametrize(
    ("stray", "rows", "pointed", "answered"),
    [
        (STACKED, (1.22, 1.5), True, True),
        (STACKED, (1.22,), True, False),
        (STACKED, (1.22, 1.5), False, False),
        ((4.56, 1.22, 5.3, 1.77), (1.22, 1.5), True, False),
    ],
    ids=["two numbers with arrows", "one of them is not read", "no arrow", "more than they cover"],
)
def test_what_numbers_with_little_arrows_cover_is_not_asked_about_as_out_of_line(stray, rows, pointed, answered):
    arrows = (Shape("arrow", (4.1, 1.0, 4.4, 1.4), (0, 0, 0), "shape", 1.0, direction="down-left"),) if pointed else ()
    numbers = tuple(Glyph((4.56, y, 4.97, y + 0.27), (Guess("16", 1.0),), 0.27, (0, 0, 0), "ocr") for y in rows)
    marks = Marks((), (), (), arrows, numbers, (), {}, (), np.zeros((1, 1), np.bool_))
    assert told_by_arrows({"right": [stray]}, marks) == ({not_in_line("right")} if answered else set())


@pytest.mark.parametrize(
    ("box", "sure", "left"),
    [((1.53, 1.22, 1.67, 1.36), 1.0, False), ((1.53, 1.22, 1.67, 1.36), 0.9, True), ((1.6, 1.3, 1.8, 1.36), 1.0, True)],
    ids=["its upper arc", "not surely read", "reaches out"],
)
def test_the_end_of_a_digit_that_a_threshold_parted_from_it_is_no_other_ink(box, sure, left):
    six = Glyph((1.33, 1.27, 1.67, 1.75), (Guess("6", sure),), 0.48, (0, 0, 0), "ocr")
    assert without_characters([box], [six]) == ([box] if left else [])
