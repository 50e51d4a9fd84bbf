"""Grids of which every box has a colour, and no cell is white."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from recognise.evidence import Flat, Tint
from recognise.interpret.tints import part_boxes
from recognise.pixels.ground import measure_ground
from schema.cells import Cell
from tests.recognise.test_tinted import CELLS, _even, _flat, _places


def _box(cell: Cell) -> tuple[int, int]:
    return (cell.row - 1) // 3, (cell.column - 1) // 3


COLOURS = ((250, 216, 212), (208, 226, 250), (252, 244, 206))
BOXES = [tuple(cell for cell in CELLS if _box(cell) == (row, column)) for row in range(3) for column in range(3)]


def _colour(cell: Cell) -> tuple[int, int, int]:
    return COLOURS[sum(_box(cell)) % 3]


def _quilt(colour: Callable[[Cell], tuple[int, ...]] = _colour) -> Flat:
    flat = _flat(_even())
    y, x = _places()
    image = flat.image.astype(float)
    for cell in CELLS:
        inside = (y >= cell.row - 1) & (y < cell.row) & (x >= cell.column - 1) & (x < cell.column)
        image[inside] *= np.array(colour(cell)) / 255
    return replace(flat, image=image.astype(np.uint8))


def test_all_cells_of_a_quilt_have_the_colour_of_their_box() -> None:
    found = {tint.cell: tint.colour for tint in measure_ground(_quilt()).tints}
    assert set(found) == set(CELLS)
    assert all(np.abs(np.subtract(found[cell], _colour(cell))).max() <= 4 for cell in CELLS)
    assert len({found[cell] for cell in BOXES[4]}) == 1


def test_two_colours_are_no_quilt() -> None:
    light_and_dark = _quilt(lambda cell: (230, 230, 230) if sum(_box(cell)) % 2 else (255, 255, 255))
    assert not measure_ground(light_and_dark).is_quilt


@pytest.mark.parametrize("other", [None, Cell(5, 5), Cell(4, 4)])
def test_tints_part_the_boxes_where_each_has_one_colour(other: Cell | None) -> None:
    tints = [Tint(cell, COLOURS[0] if cell == other else _colour(cell), 1.0) for cell in CELLS]
    assert part_boxes(tints, BOXES) is (other is None)
