"""Which ink marks explain."""

from dataclasses import replace

import pytest

from recognise.marks.explained import explained
from recognise.pixels.frame import Raster
from tests.recognise.evidence_maker import trace

CELL, MARGIN = 40, 1
RASTER = Raster(4, 4, CELL, MARGIN * CELL)


@pytest.mark.parametrize(("tip", "is_explained"), [(-0.2, True), (0.0, False), (-0.4, False)])
def test_the_barbs_of_a_head_are_explained_where_its_tip_was_measured(tip: float, is_explained: bool) -> None:
    """An arrow to the right; a shaft that ends farther before the middle is broken there, and has no tip."""
    arrow = replace(trace("r2c1 r2c3", width=0.05), heads=(1,), tips=((1, tip),))
    mask = explained([arrow], (), (), (), (), RASTER, ((4 + 2 * MARGIN) * CELL,) * 2)
    barb = round((2.15 + MARGIN) * CELL), round((1.3 + MARGIN) * CELL)
    assert bool(mask[barb[1], barb[0]]) == is_explained
