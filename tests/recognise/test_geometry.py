"""Small plane geometry: where things lie beside a grid."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ingest.page import Point
from recognise.geometry import Beside, beside
from schema.grid import Side

PLACES = st.floats(-3, 12)


@pytest.mark.parametrize(
    ("point", "side", "away", "off"),
    [
        ((2.5, -0.75), "top", 0.75, 0.0),
        ((2.25, 7.0), "bottom", 1.0, -0.25),
        ((-0.5, 3.625), "left", 0.5, 0.125),
        ((9.5, 0.5), "right", 0.5, 0.0),
    ],
)
def test_where_things_lie_beside_a_grid(point: Point, side: Side, away: float, off: float) -> None:
    at = beside(point, 6, 9)
    assert at is not None
    assert (at.side, at.away, at.off) == (side, away, off)


@pytest.mark.parametrize("point", [(4.5, 3.0), (-1.0, -1.0), (9.5, 6.5)])
def test_neither_the_grid_nor_the_corners_are_beside_it(point: Point) -> None:
    assert beside(point, 6, 9) is None


@given(PLACES, PLACES)
def test_a_page_turned_over_its_diagonal_has_the_sides_turned_with_it(x: float, y: float) -> None:
    turned: dict[Side, Side] = {"top": "left", "left": "top", "bottom": "right", "right": "bottom"}
    at, other = beside((x, y), 6, 9), beside((y, x), 9, 6)
    assert other == (None if at is None else Beside(turned[at.side], at.away, at.along))
