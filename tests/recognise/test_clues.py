"""Numbers beside a grid of which few are read: they are asked about where nothing but numbers stands so."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
import pytest

from recognise.evidence import Flat, Guess
from recognise.pixels.blobs import find_pieces, measure_tones
from recognise.pixels.clues import read_outside
from recognise.pixels.frame import Raster
from recognise.pixels.ground import measure_ground
from recognise.pixels.ink import measure_ink

CELL, MARGIN, SIZE = 64, 3, 6
TOP, LEFT = (1, 2, 4, 6), (3, 5)


def _flat(top: Sequence[int], left: Sequence[int], off: float = 0.0) -> Flat:
    """A grid with marks as large as clues over some columns, so far off their middles, and left of some rows."""
    side = (SIZE + 2 * MARGIN) * CELL
    image = np.full((side, side, 3), 250, np.uint8)
    low, high = MARGIN * CELL, (MARGIN + SIZE) * CELL
    for n in range(SIZE + 1):
        cv2.line(image, (low, low + n * CELL), (high, low + n * CELL), (20, 20, 20), 2)
        cv2.line(image, (low + n * CELL, low), (low + n * CELL, high), (20, 20, 20), 2)
    places = [(column - 0.5 + off, -0.5) for column in top] + [(-0.5, row - 0.5) for row in left]
    for x, y in places:
        at = int((x + MARGIN) * CELL), int((y + MARGIN) * CELL)
        cv2.ellipse(image, at, (8, 13), 0, 0, 360, (20, 20, 20), 3)
    none = np.zeros((1, 1), np.float32)
    return Flat(image, SIZE, SIZE, CELL, MARGIN, none, none)


class _Hardly:
    """Reads the first of some characters, and makes nothing of the others."""

    def __init__(self, first: int) -> None:
        self.first = first

    def read(self, crops: Sequence[object], allowed: str | None = None) -> list[tuple[Guess, ...]]:
        return [(Guess("7" if at < self.first else "", 0.95),) for at in range(len(crops))]


@pytest.mark.parametrize(
    ("top", "left", "off", "first", "asked"),
    [
        (TOP, (), 0.0, 1, {"top": 3}),
        (TOP, (), 0.0, 0, {}),
        (TOP, LEFT, 0.0, 4, {"left": 2}),
        (TOP[:2], (), 0.0, 0, {}),
        (TOP, (), 0.4, 1, {}),
    ],
)
def test_numbers_that_are_hardly_read_are_asked_about_where_they_stand_as_numbers_do(
    top: Sequence[int], left: Sequence[int], off: float, first: int, asked: dict[str, int]
) -> None:
    """Many in line with nothing else, of which one is read; or some beside another side's numbers."""
    flat = _flat(top, left, off)
    raster = Raster.of(flat)
    ink = measure_ink(flat, measure_ground(flat))
    pieces = find_pieces(ink.drawn, raster, measure_tones(ink, raster))
    rings, _, unsettled = read_outside(pieces, ink, flat, _Hardly(first), ())  # type: ignore[arg-type]
    assert {side: len(boxes) for side, boxes in unsettled.items()} == asked
    assert set(asked) <= {ring.side for ring in rings}


class _Letters:
    """Reads the first character as a figure and all others as letters."""

    def read(self, crops: Sequence[object], allowed: str | None = None) -> list[tuple[Guess, ...]]:
        return [(Guess("H" if at else "7", 0.95),) for at in range(len(crops))]


def test_letters_in_line_with_the_rows_of_a_grid_are_no_numbers() -> None:
    flat = _flat(TOP, ())
    ink = measure_ink(flat, measure_ground(flat))
    pieces = find_pieces(ink.drawn, Raster.of(flat), measure_tones(ink, Raster.of(flat)))
    assert not read_outside(pieces, ink, flat, _Letters(), ())[0]
