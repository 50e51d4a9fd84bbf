"""Bits of a line beside the grid are no clues, nor is a word that goes on past its corner."""

from typing import cast

import numpy as np
import pytest

from ingest.page import Box
from recognise.pixels.blobs import Blob
from recognise.pixels.frame import Raster
from recognise.pixels.on_a_line import is_on_a_line
from recognise.pixels.outside import Placed, Ring, goes_on_as_text, is_of_a_table
from schema.grid import Side

CELL = 40
RASTER = Raster(9, 9, CELL, 3 * CELL)
FLOOR = 0.05
BITS = {6: (10.2, 5.4, 10.3, 5.8), 7: (10.18, 6.2, 10.36, 6.7)}


def _ring(side: Side, boxes: dict[int, Box]) -> Ring:
    nothing = cast(Blob, None)
    return Ring(side, tuple((row, (Placed(nothing, box),)) for row, box in boxes.items()), ())


def _paper(*inked: tuple[Box, float]) -> np.ndarray:
    level = np.random.default_rng(1).normal(0, 0.02, (15 * CELL, 15 * CELL)).clip(0).astype(np.float32)
    for box, ink in inked:
        level[RASTER.slices(box)] = ink
    return level


LINE = (10.22, 0.1, 10.3, 5.0), 0.3
CLUES = [(box, 0.8) for box in BITS.values()]


@pytest.mark.parametrize("side", ["right", "bottom"])
def test_bits_of_a_line_are_no_clues(side: Side) -> None:
    level = _paper(*CLUES, LINE)
    boxes = BITS if side == "right" else {n: (b[1], b[0], b[3], b[2]) for n, b in BITS.items()}
    assert is_on_a_line(_ring(side, boxes), level if side == "right" else level.T, RASTER, FLOOR)
    bare = _paper(*CLUES)
    assert not is_on_a_line(_ring(side, boxes), bare if side == "right" else bare.T, RASTER, FLOOR)


def test_a_line_beside_clues_does_not_run_through_them() -> None:
    ruled = _paper(*CLUES, ((10.5, 0.0, 10.55, 9.0), 0.6), ((9.95, 0.0, 10.0, 9.0), 0.6))
    assert not is_on_a_line(_ring("right", BITS), ruled, RASTER, FLOOR)
    pale = _paper(*CLUES, (LINE[0], 0.15))
    assert not is_on_a_line(_ring("right", BITS), pale, RASTER, FLOOR)
    text = _paper(*CLUES, LINE, ((10.45, 0.0, 10.6, 9.0), 0.5))
    assert not is_on_a_line(_ring("right", BITS), text, RASTER, FLOOR)


def _blob(box: Box) -> Blob:
    x0, y0, x1, y1 = (round(RASTER.at(v)) for v in box)
    return Blob(x0, y0, x1 - x0, y1 - y0, 1, (1,))


WORD = (9.3, 8.3, 9.7, 9.02)


def test_a_word_that_goes_on_past_the_corner_is_no_clue() -> None:
    ring = _ring("right", {9: WORD})
    assert goes_on_as_text(ring, [_blob(WORD), _blob((9.3, 9.1, 9.7, 9.4))], RASTER)
    assert not goes_on_as_text(ring, [_blob(WORD)], RASTER)
    assert not goes_on_as_text(ring, [_blob((10.2, 9.1, 10.6, 9.4)), _blob((9.3, 10.4, 9.7, 10.8))], RASTER)
    two = _ring("right", {8: (9.3, 7.3, 9.7, 7.8), 9: WORD})
    assert not goes_on_as_text(two, [_blob((9.3, 9.1, 9.7, 9.4))], RASTER)


def test_what_stands_above_the_first_row_goes_on_too() -> None:
    ring = _ring("left", {1: (-0.8, 0.02, -0.4, 0.7)})
    assert goes_on_as_text(ring, [_blob((-0.8, -0.6, -0.4, -0.1))], RASTER)
    assert not goes_on_as_text(ring, [_blob((-0.8, 0.9, -0.4, 1.4))], RASTER)


DAYS = [(-1.5, y - 0.13, -1.1, y + 0.13) for y in (-1.5, -0.15, 1.31, 2.6)]


@pytest.mark.parametrize("side", ["left", "top"])
def test_the_days_of_a_calendar_that_stand_in_rows_by_chance_are_no_clues(side: Side) -> None:
    days = DAYS if side == "left" else [(y0, x0, y1, x1) for x0, y0, x1, y1 in DAYS]
    ring, blobs = _ring(side, {2: days[2], 3: days[3]}), [_blob(day) for day in days]
    assert is_of_a_table(ring, blobs, RASTER)
    assert not is_of_a_table(ring, blobs[1:], RASTER), "one more alone"
    assert not is_of_a_table(_ring(side, {2: days[2]}), blobs, RASTER), "no step"


def test_numbers_in_step_with_the_grid_may_be_clues() -> None:
    days = [(-1.5, y - 0.13, -1.1, y + 0.13) for y in (-1.4, -0.5, 0.52, 1.5)]
    assert not is_of_a_table(_ring("left", {1: days[2], 2: days[3]}), [_blob(day) for day in days], RASTER)
