"""Pale strips that are lines of a grid on the other side of the paper, and what looks like them."""

from __future__ import annotations

import numpy as np
import pytest

from ingest.page import Box
from recognise.doubt.other_side import without_other_side
from recognise.draft import Doubt, Draft, box_polygon
from recognise.evidence import Flat, Words
from recognise.pixels.frame import Raster
from recognise.pixels.ground import Ground
from recognise.pixels.ink import Ink, measure_ink
from schema.grid import Grid

CELL, MARGIN, SIZE = 64, 1, 6
SIDE = (SIZE + 2 * MARGIN) * CELL
RASTER = Raster(SIZE, SIZE, CELL, MARGIN * CELL)
SHOWN = ((1.75, 0.3, 1.81, 2.8), (1.75, 3.2, 1.81, 5.7), (4.74, 0.3, 4.81, 2.8))
"""Lines of the other side at 0.22 of a cell beside two lattice lines."""


def _ink(strips: tuple[Box, ...], grey: int) -> Ink:
    page = np.full((SIDE, SIDE, 3), 255, np.uint8)
    for x0, y0, x1, y1 in strips:
        rows, columns = RASTER.slices((x0, y0, x1, y1))
        page[rows, columns] = grey
    for line in range(SIZE + 1):
        at = (line + MARGIN) * CELL
        page[at - 1 : at + 2, CELL:-CELL] = page[CELL:-CELL, at - 1 : at + 2] = 80
    nowhere = np.zeros((SIDE, SIDE), np.float32)
    flat = Flat(page, SIZE, SIZE, CELL, MARGIN, nowhere, nowhere)
    return measure_ink(flat, Ground(np.full((SIDE, SIDE, 3), 255, np.float32), ()))


def _left(strips: tuple[Box, ...], grey: int = 230, asked_about: tuple[Box, ...] = ()) -> int:
    """How many of the questions about some strips, or about parts of them, are left."""
    asked = (Doubt("ink", where=box_polygon(box), stray=True) for box in asked_about or strips)
    draft = Draft(Grid(rows=SIZE, columns=SIZE, digits=(1, 2, 3, 4, 5, 6)), (), Words()).doubting(*asked)
    return len(without_other_side(draft, _ink(strips, grey), RASTER).doubts)


def _turned(box: Box) -> Box:
    return box[1], box[0], box[3], box[2]


def test_lines_of_the_other_side_are_not_asked_about() -> None:
    assert _left(SHOWN) == 0
    assert _left(tuple(_turned(box) for box in SHOWN)) == 0
    stain = (2.3, 2.3, 2.6, 2.6)
    assert _left((*SHOWN, stain)) == 1


TUBE = tuple((round(x0) + 1 - x1 % 1, y0, round(x0) + 1 - x0 % 1, y1) for x0, y0, x1, y1 in SHOWN)
MOVED = ((0.45, 0.3, 0.55, 2.8), (0.45, 3.2, 0.55, 5.7), (3.45, 0.3, 3.55, 2.8))
WALLS = ((0.05, 0.3, 0.11, 2.8), (0.05, 3.2, 0.11, 5.7), (3.05, 0.3, 3.11, 2.8))


@pytest.mark.parametrize(
    "strips",
    [MOVED, WALLS, (*SHOWN, *TUBE), SHOWN[:2], (SHOWN[0], (*SHOWN[2][:3], 0.9))],
    ids=["through the middles", "at the borders", "two sides of tubes", "one line alone", "short"],
)
def test_what_may_be_a_mark_is(strips: tuple[Box, ...]) -> None:
    assert _left(strips) == len(strips)


def test_what_is_as_dark_as_print_is() -> None:
    assert _left(SHOWN, 190) == len(SHOWN)


@pytest.mark.parametrize(
    ("strip", "left"),
    [
        ((2.43, 0.0, 2.48, 6.0), 0),
        ((2.43, 0.25, 2.48, 5.75), 1),
        ((2.3, 1.8, 2.35, 6.9), 0),
        ((2.3, 1.8, 2.35, 6.1), 1),
        ((2.48, 0.0, 2.53, 6.0), 1),
        (WALLS[0], 1),
    ],
)
def test_what_runs_from_frame_to_frame_or_out_over_it_is_no_mark(strip: Box, left: int) -> None:
    """A line goes through the middles of cells and ends near the first and last, and a wall goes beside a lattice
    line."""
    x0, _, x1, _ = strip
    part = (x0, 2.2, x1, 3.8)
    whole = (x0, 0.0, x1, 6.0) if strip is WALLS[0] else strip
    assert _left((whole,), asked_about=(part,)) == left
    assert _left((_turned(whole),), asked_about=(_turned(part),)) == left
