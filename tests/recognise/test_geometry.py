"""Small plane geometry: where things lie beside a grid."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ingest.page import Point
from recognise.draft import Polygon
from recognise.evidence import Flat
from recognise.geometry import Beside, beside, disc_polygon, filled, window_of
from schema.grid import Side

PLACES = st.floats(-3, 12)
CELL = 40
SLANTED: Polygon = ((0.5, 1.0), (1.5, 0.6), (1.9, 1.4), (0.9, 1.9))
FLAT = Flat(
    np.zeros((7 * CELL, 7 * CELL, 3), np.uint8),
    rows=5,
    columns=5,
    cell=CELL,
    margin=1.0,
    map_x=np.zeros((0, 0), np.float32),
    map_y=np.zeros((0, 0), np.float32),
)


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


@pytest.mark.parametrize("polygons", [[disc_polygon((1.4, 2.2), 0.45)], [disc_polygon((-0.9, 2.9), 0.6), SLANTED]])
def test_a_mark_is_as_deep_in_a_window_of_its_own_as_in_the_whole_picture(polygons: list[Polygon]) -> None:
    whole, window = filled(FLAT, polygons), window_of(FLAT, polygons)
    own = np.ascontiguousarray(whole[window])
    assert own.sum() == whole.sum() > 0
    assert own.size < whole.size / 2
    depths = [cv2.distanceTransform(mask, cv2.DIST_L2, 5) for mask in (whole, own)]
    assert np.array_equal(depths[0][window], depths[1])


def test_a_mark_beyond_the_picture_has_a_window_in_it() -> None:
    assert window_of(FLAT, [disc_polygon((9.0, -4.0), 0.3)]) == (slice(0, 1), slice(7 * CELL - 1, 7 * CELL))
