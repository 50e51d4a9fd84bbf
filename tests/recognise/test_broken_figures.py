"""Broken print in the middle of a cell is one figure; two figures side by side are two."""

import pytest

from ingest.page import Box
from recognise.pixels.blobs import Blob, whole_pieces
from recognise.pixels.frame import Raster

CELL = 64
RASTER = Raster(9, 9, CELL, CELL)

STROKE, BOWL = (1.41, 0.33, 1.53, 0.61), (1.50, 0.45, 1.58, 0.58)
"""An old-style 6 whose bowl came off its stroke: their boxes reach into each other."""


def _blob(label: int, box: Box) -> Blob:
    x0, y0, x1, y1 = (round(RASTER.at(at)) for at in box)
    return Blob(x0, y0, x1 - x0, y1 - y0, 1, (label,))


@pytest.mark.parametrize(
    ("first", "second", "pieces"),
    [
        (STROKE, BOWL, 1),
        (STROKE, (1.55, 0.45, 1.63, 0.58), 2),
        (STROKE, (1.50, 0.35, 1.60, 0.61), 2),
        ((1.41, 0.03, 1.53, 0.31), (1.50, 0.15, 1.58, 0.28), 2),
    ],
    ids=["broken", "paper between", "as tall", "in a corner"],
)
def test_a_piece_that_reaches_into_the_box_of_another_is_of_its_figure(first: Box, second: Box, pieces: int) -> None:
    assert len(whole_pieces([_blob(1, first), _blob(2, second)], RASTER)) == pieces
