"""Grids in pictures whose cells stand apart: outlined ones on paper, and light ones on a dark ground."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.evidence import Lattice
from recognise.grids import boxes_from, closed_up, find_grids, flatten, measure_edges
from recognise.grids.ink import luminance
from tests.recognise.test_grids import bent
from tests.recognise.test_light_grids import CELL, PAD, places_apart

NARROW, WIDE = 4, 8
"""Pixels between two cells, and between two boxes."""
INK = (30, 30, 40)


def cells_apart(count: int, box: tuple[int, int], *, outlined: bool, full: bool = False) -> np.ndarray:
    """A page of such cells, with wider gaps between boxes of `box` rows and columns; every fifth cell holds a figure,
    or each one."""
    page = np.full((count * CELL + 2 * PAD,) * 2 + (3,), 255 if outlined else 40, np.uint8)
    for row, column, corner, far in places_apart(count, box, NARROW, WIDE):
        if outlined:
            cv2.rectangle(page, corner, far, (120, 120, 120), 1)
        else:
            cv2.rectangle(page, corner, far, (235, 228, 210), -1)
        if full or (row * count + column) % 5 == 0:
            spot = PAD + column * CELL + 15, PAD + row * CELL + 35
            figure = str((row + column) % 9 + 1)
            cv2.putText(page, figure, spot, cv2.FONT_HERSHEY_SIMPLEX, 0.9, INK, 2, cv2.LINE_AA)
    return page


@pytest.mark.parametrize(("count", "box", "outlined"), [(6, (2, 3), True), (8, (2, 4), False)])
def test_cells_apart_in_a_photo_are_a_grid_with_boxes_by_the_wider_gaps(count, box, outlined) -> None:
    picture, _ = bent(cells_apart(count, box, outlined=outlined), 3)
    (lattice,) = find_grids(picture)
    assert (lattice.rows, lattice.columns, lattice.apart) == (count, count, True)
    flat = closed_up(flatten(picture, lattice))
    boxes = boxes_from(measure_edges(flat)).cells
    assert boxes is not None and len(boxes) == count
    assert {(cell.row - 1) // box[0] for cell in boxes[0]} == {0}
    assert {(cell.column - 1) // box[1] for cell in boxes[0]} == {0}


def test_full_cells_apart_are_no_puzzle_nor_are_those_of_a_form() -> None:
    assert find_grids(cells_apart(6, (2, 3), outlined=True, full=True)) == []
    assert find_grids(cells_apart(9, (3, 3), outlined=False)[: PAD + 6 * CELL]) == []


def _closed(page: np.ndarray, count: int) -> np.ndarray:
    net = np.stack(np.meshgrid(np.arange(count + 1.0), np.arange(count + 1.0)), -1) * CELL + PAD
    return luminance(closed_up(flatten(page, Lattice(net, apart=True), CELL, PAD / CELL)).image)


@pytest.mark.parametrize("outlined", [True, False])
def test_gaps_become_single_lines_and_what_lies_on_them_stays(outlined: bool) -> None:
    page = cells_apart(6, (2, 3), outlined=outlined)
    edge, crossed = (PAD + CELL, PAD + CELL // 2), PAD + 5 * CELL
    cv2.ellipse(page, edge, (4, 9), 0, 0, 360, (0, 0, 0), -1, cv2.LINE_AA)
    cv2.line(page, (crossed - CELL // 2, edge[1]), (crossed + CELL // 2, edge[1]), (90, 170, 100), 9)
    seen = _closed(page, 6)
    across = seen[PAD + 3 * CELL // 2, PAD + CELL - 8 : PAD + CELL + 9]
    assert across[8] < 80 and (across[[0, 1, 2, 3, 4, -1, -2, -3, -4, -5]] > 195).all(), "one line, and its sides clear"
    assert outlined is False or seen[edge[1] + 6, edge[0] + 2] < 60, "the dot, wider than the line"
    assert 110 < seen[edge[1] + 2, crossed - 4] < 175, "the line of the puzzle runs on"
    beside = seen[PAD - 40 : PAD - 20, PAD:-PAD]
    assert (beside > 180).all(), "paper around the grid"
