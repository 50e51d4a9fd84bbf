"""Dark tiles beside a grid with light numbers on them, in pictures."""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt
import pytest

from ingest.page import Colour
from recognise.evidence import Flat
from recognise.grids.clue_tiles import with_dark_numbers

CELL, MARGIN, SIDE = 40, 3, 4
PAPER, BLUE = (238, 236, 230), (60, 115, 150)


def _flat(draw: list[tuple[float, float, Colour, Colour, str]], size: int = 20) -> Flat:
    """A flattened grid with squares in two colours (ground, number), their middles in cells."""
    image = np.full(((SIDE + 2 * MARGIN) * CELL,) * 2 + (3,), PAPER, np.uint8)
    for x, y, ground, figure, text in draw:
        at = (round((x + MARGIN) * CELL) - size // 2, round((y + MARGIN) * CELL) - size // 2)
        cv2.rectangle(image, at, (at[0] + size, at[1] + size), ground, cv2.FILLED)
        cv2.putText(image, text, (at[0] + 4, at[1] + size - 3), cv2.FONT_HERSHEY_SIMPLEX, 0.5, figure, 2)
    where = np.zeros(image.shape[:2], np.float32)
    return Flat(image, SIDE, SIDE, CELL, MARGIN, where, where)


def _around(flat: Flat, x: float, y: float) -> npt.NDArray[np.uint8]:
    row, column = (round((v + MARGIN) * CELL) for v in (y, x))
    return flat.image[row - 14 : row + 15, column - 14 : column + 15].min(axis=-1)


def test_light_numbers_on_dark_tiles_become_dark_on_paper() -> None:
    found = with_dark_numbers(_flat([(0.5, -0.6, BLUE, PAPER, "2"), (4.6, 2.5, BLUE, PAPER, "1")]))
    for place in ((0.5, -0.6), (4.6, 2.5)):
        own = _around(found, *place)
        assert own.min() <= min(BLUE) + 10
        assert (own > 200).mean() > 0.7
        assert (own[0] > 200).all()


@pytest.mark.parametrize(
    "marks",
    [
        [(0.5, -0.6, BLUE, PAPER, "2")],
        [(0.9, -0.6, BLUE, PAPER, "2"), (4.6, 2.0, BLUE, PAPER, "1")],
        [(0.5, -0.6, BLUE, BLUE, "2"), (4.6, 2.5, BLUE, BLUE, "1")],
        [(0.5, -0.6, PAPER, BLUE, "0"), (4.6, 2.5, PAPER, BLUE, "8")],
        [(0.5, 0.5, BLUE, PAPER, "2"), (2.5, 2.5, BLUE, PAPER, "1")],
    ],
    ids=["one alone", "beside the middles", "nothing on them", "dark figures", "in cells"],
)
def test_what_is_no_tile_of_a_clue_stays(marks: list[tuple[float, float, Colour, Colour, str]]) -> None:
    flat = _flat(marks)
    assert with_dark_numbers(flat) is flat
