"""Two regions of one tint that touch."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from recognise.evidence import Edges, Tint
from recognise.interpret.regions import usual_boxes
from recognise.interpret.touching import PARTED, in_two, ink_between
from recognise.rules import MarkHint, RuleSheet, Statement
from schema.cells import Cell
from schema.kinds.extra_region import ExtraRegion
from tests.recognise.evidence_maker import edges
from tests.recognise.interpreting import BASIC, NINE, cells_in, drafted, of_kind

UPPER = cells_in("r1c1 r2c1 r2c2 r2c3 r3c1 r3c2 r4c1 r4c2 r4c3")
LOWER = cells_in("r4c7 r5c2 r5c3 r5c4 r5c5 r5c6 r5c7 r6c4 r6c5")


AREA = tuple(sorted((*UPPER, *LOWER)))
RIM = ((4, 1), (4, 2))
"""The places, among the lines between rows, of the two that part them."""


def _lattice(rim: float) -> Edges:
    lattice = edges()
    darkness = np.full_like(lattice.horizontal, 0.1)
    for place in RIM:
        darkness[place] = rim
    return replace(lattice, horizontal_darkness=darkness, vertical_darkness=np.full_like(lattice.vertical, 0.1))


@pytest.mark.parametrize(("rim", "parted"), [(0.3, True), (0.12, False)])
def test_an_area_of_twice_nine_cells_is_two_where_a_line_parts_it(rim: float, parted: bool) -> None:
    boxes = usual_boxes(NINE)
    found = in_two(AREA, 9, ink_between(_lattice(rim)), boxes)
    assert found == ([UPPER, LOWER] if parted else [AREA])


@pytest.mark.parametrize("cells", [AREA[:-1], AREA[:9]], ids=["one fewer", "nine"])
def test_an_area_of_another_size_is_one(cells: tuple[Cell, ...]) -> None:
    assert in_two(cells, 9, ink_between(_lattice(0.3))) == [cells]


def test_two_regions_that_touch_are_asked_about() -> None:
    tints = tuple(Tint(cell, (240, 220, 150), 1.0) for cell in AREA)
    sheet = RuleSheet((*BASIC, Statement("extra-region", {}, MarkHint("tint"))))
    draft = drafted(sheet, tints=tints, edges=_lattice(0.3))
    assert [region.cells for region in of_kind(draft, ExtraRegion)] == [UPPER, LOWER]
    assert [doubt.why for doubt in draft.doubts] == [PARTED, PARTED]
