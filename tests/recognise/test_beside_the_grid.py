"""What stands beside the grid, or round all of it, is on none of its cells."""

from __future__ import annotations

from functools import partial

import numpy as np
import pytest

from recognise.evidence import Flat, Glyph, Guess, Shape
from recognise.interpret.draft import cells_under
from recognise.interpret.making import Making
from recognise.marks.found import Marks
from recognise.pixels.frame import Raster
from recognise.pixels.ground import measure_ground
from recognise.pixels.ink import measure_ink
from recognise.pixels.outside import not_in_line
from recognise.pixels.read import ink_in, told_by_arrows, without_characters
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
    x0, y0, x1, y1 = stray
    corners = [(x0, y0), (x1, y0), (x0, y1), (x1, y1)]
    assert told_by_arrows({"right": [stray]}, marks, lambda _: corners) == (
        {not_in_line("right")} if answered else set()
    )


@pytest.mark.parametrize("inked", [False, True], ids=["paper between the arrows", "ink between them"])
def test_between_two_arrows_that_part_nothing_is_asked_about_where_there_is_no_ink(inked):
    image = np.full((6 * 64, 8 * 64, 3), 255, np.uint8)
    raster = Raster(2, 4, 64, 2 * 64)
    boxes = [(2.1, -0.3, 2.35, -0.05), (2.65, -0.3, 2.9, -0.05), (2.15, -0.6, 2.5, -0.35), (2.5, -0.6, 2.8, -0.35)]
    for box in [*boxes, *([(2.45, -0.2, 2.55, -0.1)] if inked else [])]:
        image[raster.slices(box)] = 0
    map_x, map_y = np.meshgrid(np.arange(image.shape[1], dtype=np.float32), np.arange(image.shape[0], dtype=np.float32))
    flat = Flat(image, 2, 4, 64, 2.0, map_x, map_y)
    ink = measure_ink(flat, measure_ground(flat))
    arrows = tuple(Shape("arrow", box, (0, 0, 0), "shape", 1.0, direction="down") for box in boxes[:2])
    numbers = tuple(Glyph(box, (Guess("16", 1.0),), 0.25, (0, 0, 0), "ocr") for box in boxes[2:])
    marks = Marks((), (), (), arrows, numbers, (), {}, (), np.zeros((1, 1), np.bool_))
    told = told_by_arrows({"top": [(2.1, -0.6, 2.9, -0.05)]}, marks, partial(ink_in, ink=ink, raster=raster))
    assert told == (set() if inked else {not_in_line("top")})


@pytest.mark.parametrize(
    ("box", "sure", "left"),
    [((1.53, 1.22, 1.67, 1.36), 1.0, False), ((1.53, 1.22, 1.67, 1.36), 0.9, True), ((1.6, 1.3, 1.8, 1.36), 1.0, True)],
    ids=["its upper arc", "not surely read", "reaches out"],
)
def test_the_end_of_a_digit_that_a_threshold_parted_from_it_is_no_other_ink(box, sure, left):
    six = Glyph((1.33, 1.27, 1.67, 1.75), (Guess("6", sure),), 0.48, (0, 0, 0), "ocr")
    assert without_characters([box], [six]) == ([box] if left else [])
