"""Ink that stands out from its paper, and what only seems to because something beside it is not looked at."""

import numpy as np

from recognise.doubt.ink import unexplained_ink
from recognise.draft import box_polygon
from recognise.evidence import Flat
from recognise.pixels.frame import Raster
from recognise.pixels.standout import LINE, standing_out

CELL, MARGIN, SIZE = 64, 1.0, 6
SIDE = round((SIZE + 2 * MARGIN) * CELL)
RASTER = Raster(SIZE, SIZE, CELL, CELL)
_, X = np.mgrid[:SIDE, :SIDE] / CELL - MARGIN
"""How far from the left frame each pixel is, in cells."""


def _lines(level: np.ndarray) -> np.ndarray:
    free = np.zeros((SIDE, SIDE), np.bool_)
    free[RASTER.slices((0.05, 0.05, SIZE - 0.05, SIZE - 0.05))] = True
    return next(mask for mask, kind in standing_out(level.astype(np.float32), free, RASTER, 0.05) if kind is LINE)


def test_the_blur_of_the_frame_is_no_line() -> None:
    assert not _lines(0.4 * np.exp(-np.abs(X) / 0.06)).any()


def test_a_line_along_the_frame_is_one() -> None:
    assert _lines(np.where(np.abs(X - 0.3) < 0.03, 0.2, 0.0)).any()


def test_between_a_character_and_a_wide_lattice_line_their_blur_is_no_mark() -> None:
    blank = np.full((SIDE, SIDE, 3), 255, np.uint8)
    flat = Flat(blank, SIZE, SIZE, CELL, MARGIN, X.astype(np.float32), X.astype(np.float32))
    level = np.zeros((SIDE, SIDE), np.float32)
    level[RASTER.slices((2.13, 2.2, 2.24, 2.8))] = 0.3
    claimed = [box_polygon((2.28, 2.2, 2.7, 2.8))]
    lattice = np.zeros((SIDE, SIDE), np.bool_)
    lattice[RASTER.slices((1.87, 0, 2.13, SIZE))] = True
    assert unexplained_ink(level, 0.05, flat, claimed)
    assert unexplained_ink(level, 0.05, flat, claimed, lattice=lattice) == []
    assert unexplained_ink(level, 0.05, flat, [], lattice=lattice), "without the character it is a mark"
