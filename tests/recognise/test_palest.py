"""Small marks that are paler than print in black: as pale as those of their page that were read."""

import cv2
import numpy as np

from recognise.doubt.ink import unexplained_ink
from recognise.doubt.palest import pale_spots
from recognise.draft import Doubt, Draft, Item, box_polygon
from recognise.evidence import Flat, Words
from recognise.pixels.frame import Raster
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.greater import Greater

CELL, MARGIN, SIZE, FLOOR = 64, 1.0, 4, 0.05
RASTER = Raster(SIZE, SIZE, CELL, CELL)
PLACES = ((1.0, 0.5), (2.0, 0.5), (1.0, 1.5), (3.0, 2.5))
"""Middles of four signs, in cells."""


def _signs(strength: float) -> np.ndarray:
    """Fine signs, a fifth of a cell high, two pixels wide."""
    ink = np.zeros((6 * CELL, 6 * CELL), np.float32)
    for place in PLACES:
        x, y = (round((v + MARGIN) * CELL) for v in place)
        corners = np.array([(x - 6, y - 6), (x + 6, y), (x - 6, y + 6)])
        cv2.polylines(ink, [corners], False, strength, 1, cv2.LINE_AA)
    return np.asarray(cv2.GaussianBlur(ink, (0, 0), 0.8), np.float32)


def _draft(count: int) -> Draft:
    """The first signs, read."""
    sign = (Greater(greater=Cell(1, 1), less=Cell(1, 2)),)
    items = (Item(sign, _around(place), 0.999, "shape") for place in PLACES[:count])
    return Draft(Grid(rows=SIZE, columns=SIZE, digits=(1, 2, 3, 4)), tuple(items), Words())


def _around(place: tuple[float, float]) -> tuple:
    x, y = place
    return box_polygon((x - 0.2, y - 0.2, x + 0.2, y + 0.2))


def _left(ink: np.ndarray, draft: Draft) -> list:
    image = np.full((*ink.shape, 3), 250, np.uint8)
    flat = Flat(image, SIZE, SIZE, CELL, MARGIN, ink, ink)
    claimed = [polygon for item in draft.items for polygon in item.claimed]
    lattice = np.zeros(ink.shape, np.bool_)
    spots = pale_spots(ink, draft, RASTER)
    return unexplained_ink(ink, FLOOR, flat, claimed, lattice=lattice, spots=spots)


def test_a_fine_sign_that_was_missed_is_found_by_those_that_were_read() -> None:
    ink = _signs(0.5)
    (box,) = _left(ink, _draft(3))
    assert box[0] < 3.0 < box[2]
    assert box[1] < 2.5 < box[3]
    assert _left(ink, _draft(4)) == []


def test_two_signs_do_not_tell_how_pale_signs_are_nor_do_those_that_are_asked_about() -> None:
    assert pale_spots(_signs(0.5), _draft(2), RASTER) == ()
    asked = _draft(3).doubting(Doubt("it was hard to read", item=0))
    assert pale_spots(_signs(0.5), asked, RASTER) == ()


def test_signs_in_black_leave_the_guard_as_it_is() -> None:
    bold = np.asarray(cv2.dilate(_signs(1.0), np.ones((3, 3), np.uint8)), np.float32)
    assert pale_spots(bold, _draft(3), RASTER) == ()


def test_a_speck_that_is_as_pale_is_none() -> None:
    ink = _signs(0.5)
    x, y = (round((v + MARGIN) * CELL) for v in PLACES[3])
    ink[y - CELL // 2 : y + CELL // 2, x - CELL // 2 : x + CELL // 2] = 0
    ink[y - 1 : y + 2, x - 1 : x + 2] = 0.5
    assert _left(ink, _draft(3)) == []
