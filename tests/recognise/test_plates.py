"""Pale plates beside the grid on which clues stand: they are no ink to be explained, and what stands on them is."""

import cv2
import numpy as np

from recognise.doubt.plates import without_plates
from recognise.pixels.frame import Raster

CELL, MARGIN, SIZE = 64, 1.0, 4
RASTER = Raster(SIZE, SIZE, CELL, round(MARGIN * CELL))
SIDE = round((SIZE + 2 * MARGIN) * CELL)
RING = (0.0, -0.6, SIZE, -0.25)


def _page(shade: float, *numbers: int) -> np.ndarray:
    """A plate above each column, in so much ink, and on those of these columns a number."""
    ink = np.zeros((SIDE, SIDE), np.uint8)
    for column in range(SIZE):
        ink[RASTER.slices((column + 0.05, -0.75, column + 0.95, -0.1))] = round(255 * shade)
    for column in numbers:
        at = round(RASTER.at(column - 0.7)), round(RASTER.at(-0.25))
        cv2.putText(ink, "12", at, cv2.FONT_HERSHEY_SIMPLEX, 0.8, 230, 2)
    return np.asarray(cv2.GaussianBlur(ink.astype(np.float32) / 255, (0, 0), 0.8))


def test_pale_plates_are_gone_and_a_number_on_one_is_left() -> None:
    left = without_plates(_page(0.2, 2), [RING], RASTER)
    bare, written = RASTER.slices((2.0, -0.8, 4.0, -0.05)), RASTER.slices((1.2, -0.6, 1.8, -0.2))
    assert left[bare].max() < 0.1
    assert left[written].max() > 0.5


def test_what_is_dark_or_thin_is_left() -> None:
    dark, inside = _page(0.6), RASTER.slices((2.2, -0.6, 2.8, -0.3))
    assert np.array_equal(without_plates(dark, [RING], RASTER)[inside], dark[inside])
    thin = np.zeros((SIDE, SIDE), np.float32)
    thin[RASTER.slices((1.4, -0.6, 1.5, -0.2))] = 0.2
    assert np.allclose(without_plates(thin, [RING], RASTER), thin)


def test_what_is_pale_in_the_grid_is_left() -> None:
    tinted = np.zeros((SIDE, SIDE), np.float32)
    tinted[RASTER.slices((1.0, 0.0, 2.0, 1.0))] = 0.2
    assert np.array_equal(without_plates(tinted, [RING], RASTER), tinted)
