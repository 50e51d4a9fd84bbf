"""The tips of sharp bends in pictures, and what stands upon them."""

import numpy as np
import pytest

from recognise.doubt.tips import own_tips
from recognise.evidence import Trace
from recognise.geometry import bounds, within
from recognise.pixels.frame import Raster
from recognise.support import tips
from schema.cells import Cell
from tests.recognise.evidence_maker import trace

CELL = 64
RASTER = Raster(4, 4, CELL, CELL)
PATH = "r1c1 r3c1 r2c2"
"""Down the first column, and back up at half a right angle: its tip ends near (0.3, 2.96)."""
IN_TIP = (0.31, 2.75, 0.42, 2.92)


def _page(tip: float, hollow: bool = False) -> np.ndarray:
    """The line, in ink of 0.4, and its tip in another."""
    level = np.zeros((6 * CELL, 6 * CELL), np.float32)
    for x, y in (cell.centre for cell in trace(PATH).nodes):
        level[RASTER.slices((x - 0.2, y - 0.2, x + 0.2, y + 0.2))] = 0.4
        if hollow:
            level[RASTER.slices((x - 0.14, y - 0.14, x + 0.14, y + 0.14))] = 0.0
    level[RASTER.slices(IN_TIP)] = tip
    return level


@pytest.mark.parametrize("hollow", [False, True])
def test_the_tip_of_a_sharp_bend_is_the_lines(hollow: bool) -> None:
    halves = list(own_tips([trace(PATH, width=0.38, outlined=hollow)], _page(0.4, hollow), RASTER))
    boxes = [bounds(half) for half in halves]
    whole = min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)
    assert len(halves) == 2
    assert within(IN_TIP, whole)


def test_what_is_darker_stands_upon_it() -> None:
    assert len(list(own_tips([trace(PATH, width=0.38)], _page(0.7), RASTER))) < 2


def test_a_right_angle_has_no_tip_that_stands_out() -> None:
    assert list(own_tips([trace("r1c1 r3c1 r3c2", width=0.38)], _page(0.4), RASTER)) == []


def test_of_a_line_that_a_pdf_draws_all_is_known() -> None:
    assert list(own_tips([trace(PATH, width=0.38, how="vector")], _page(0.4), RASTER)) == []


def test_where_lines_part_a_sharp_bend_has_its_tip_too() -> None:
    """Two ways on, upwards and to the upper left, and one downwards: the tip of the bend lies below the branch."""
    nodes = (Cell(3, 3), Cell(2, 2), Cell(2, 3), Cell(4, 3))
    parting = Trace(nodes, ((0, 1), (0, 2), (0, 3)), (0, 0, 0), 0.3, False, "vector")
    boxes = [bounds(polygon) for polygon in tips(parting, 0.15)]
    assert len(boxes) == 2
    assert max(box[3] for box in boxes) > 2.5 + 0.3
