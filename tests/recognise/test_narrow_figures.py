"""Numbers of narrow figures beside the grid: two ones stand farther apart than other figures, and are one number."""

import pytest

from ingest.page import Box
from recognise.pixels.blobs import Blob
from recognise.pixels.frame import Raster
from recognise.pixels.outside import find_rings

CELL = 64
RASTER = Raster(9, 9, CELL, CELL)
TALL, WIDE, NARROW = 0.28, 0.17, 0.05
"""In cells: figures as high and as wide as those of a narrow sans, and its one."""


def _blob(box: Box) -> Blob:
    x0, y0, x1, y1 = (round(RASTER.at(at)) for at in box)
    return Blob(x0, y0, x1 - x0, y1 - y0, 1, (1,))


def _above(column: int, step: float, width: float) -> list[Blob]:
    """A number of two figures above a column, its figures so many cells from middle to middle."""
    middles = (column - 0.5 - step / 2, column - 0.5 + step / 2)
    return [_blob((x - width / 2, -0.3 - TALL, x + width / 2, -0.3)) for x in middles]


@pytest.mark.parametrize(("step", "numbers"), [(0.24, 4), (0.4, 0)])
def test_two_ones_are_one_number_and_what_is_far_apart_spoils_the_ring(step, numbers) -> None:
    blobs = [blob for column in (4, 5, 6) for blob in _above(column, 0.2, WIDE)] + _above(1, step, NARROW)
    assert sum(len(ring.clues) for ring in find_rings(blobs, RASTER)) == numbers


@pytest.mark.parametrize(("step", "numbers"), [(0.24, 3), (0.4, 0)])
def test_the_same_at_the_left(step, numbers) -> None:
    blobs = []
    for row, width, apart in ((2, WIDE, 0.2), (5, WIDE, 0.2), (7, NARROW, step)):
        for x in (-0.5 - apart / 2, -0.5 + apart / 2):
            blobs.append(_blob((x - width / 2, row - 0.64, x + width / 2, row - 0.36)))
    assert sum(len(ring.clues) for ring in find_rings(blobs, RASTER)) == numbers
