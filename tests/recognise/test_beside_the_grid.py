"""What stands beside the grid, or round all of it, is on none of its cells."""

from __future__ import annotations

import pytest

from recognise.interpret.draft import cells_under
from recognise.interpret.making import Making
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
