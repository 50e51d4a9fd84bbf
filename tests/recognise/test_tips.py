"""The tips of sharp bends in pictures, and what stands upon or beside them."""

import numpy as np

from recognise.doubt.tips import without_tips
from recognise.pixels.frame import Raster
from tests.recognise.evidence_maker import trace

CELL = 64
RASTER = Raster(4, 4, CELL, CELL)
BENT = trace("r1c1 r3c1 r2c2", width=0.38)
"""Down the first column, and back up at half a right angle: its tip ends near (0.3, 2.96)."""
IN_TIP = (0.31, 2.81, 0.39, 2.92)


def _page(tip: float) -> np.ndarray:
    """The line, in ink of 0.4, and its tip in another."""
    level = np.zeros((6 * CELL, 6 * CELL), np.float32)
    for x, y in (cell.centre for cell in BENT.nodes):
        level[RASTER.slices((x - 0.15, y - 0.15, x + 0.15, y + 0.15))] = 0.4
    level[RASTER.slices(IN_TIP)] = tip
    return level


def test_the_tip_of_a_sharp_bend_is_the_lines() -> None:
    assert without_tips([IN_TIP], [BENT], _page(0.4), RASTER) == []


def test_what_is_darker_or_beside_it_is_not() -> None:
    assert without_tips([IN_TIP], [BENT], _page(0.7), RASTER) == [IN_TIP]
    beside = (0.6, 2.81, 0.9, 2.92)
    assert without_tips([beside], [BENT], _page(0.4), RASTER) == [beside]


def test_a_right_angle_has_no_tip_that_stands_out() -> None:
    corner = trace("r1c1 r3c1 r3c2", width=0.38)
    assert without_tips([IN_TIP], [corner], _page(0.4), RASTER) == [IN_TIP]
