"""Numbers beside a grid of which few are read: they are asked about where nothing but numbers stands so."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import cv2
import numpy as np
import pytest

from ingest.page import Box
from recognise.evidence import Flat, Glyph, Guess
from recognise.pixels.blobs import find_pieces, measure_tones
from recognise.pixels.clues import read_outside
from recognise.pixels.frame import Raster
from recognise.pixels.ground import measure_ground
from recognise.pixels.ink import measure_ink
from recognise.pixels.outside import Ring
from schema.grid import Side

CELL, MARGIN, SIZE = 64, 3, 6
TOP, LEFT = (1, 2, 4, 6), (3, 5)


def _flat(top: Sequence[int], left: Sequence[int], off: float = 0.0, beside: bool = False) -> Flat:
    """A grid with marks as large as clues over some columns, so far off their middles, and left of some rows; with a
    small piece `beside` the last of them."""
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
        if beside and (x, y) == places[-1]:
            cv2.ellipse(image, (at[0] + 16, at[1]), (4, 4), 0, 0, 360, (20, 20, 20), -1)
    none = np.zeros((1, 1), np.float32)
    return Flat(image, SIZE, SIZE, CELL, MARGIN, none, none)


class _Hardly:
    """Reads the first of some characters as digits, some more as letters, and makes nothing of the others."""

    def __init__(self, first: int, letters: int = 0) -> None:
        self.first, self.letters = first, letters

    def read(self, crops: Sequence[object], allowed: str | None = None) -> list[tuple[Guess, ...]]:
        texts = "7" * self.first + "H" * self.letters
        return [(Guess(texts[at : at + 1], 0.95),) for at in range(len(crops))]


@pytest.mark.parametrize(
    ("top", "left", "off", "first", "asked"),
    [
        (TOP, (), 0.0, 1, {"top": 4}),
        (TOP, (), 0.0, 0, {}),
        (TOP, LEFT, 0.0, 4, {"left": 2}),
        (TOP[:2], (), 0.0, 0, {}),
        (TOP, (), 0.4, 1, {}),
    ],
)
def test_numbers_that_are_hardly_read_are_asked_about_where_they_stand_as_numbers_do(
    top: Sequence[int], left: Sequence[int], off: float, first: int, asked: dict[str, int]
) -> None:
    """Many in line with nothing else, of which one is read; or some beside another side's numbers. They are none of the
    numbers that were read."""
    rings, glyphs, unsettled = _read(_flat(top, left, off), _Hardly(first))
    assert {side: len(boxes) for side, boxes in unsettled.items()} == asked
    assert set(asked) <= {ring.side for ring in rings}
    assert len(glyphs) == (4 if first == 4 else 0)


@pytest.mark.parametrize(("letters", "asked"), [(0, True), (1, True), (2, False)])
def test_letters_are_no_numbers_that_are_hardly_read(letters: int, asked: bool) -> None:
    assert bool(_read(_flat(TOP, ()), _Hardly(1, letters))[2]) == asked


@pytest.mark.parametrize(("first", "asked"), [(1, {"top": 5}), (3, {"top": 5}), (5, {})])
def test_numbers_beside_low_pieces_are_asked_about_unless_all_are_read(first: int, asked: dict[str, int]) -> None:
    """What is lower than a number may be its little arrow, or what the press left of a figure."""
    _, glyphs, unsettled = _read(_flat(TOP, (), beside=True), _Hardly(first))
    assert {side: len(boxes) for side, boxes in unsettled.items()} == asked
    assert len(glyphs) == (4 if first == 5 else 0)


class _Wide:
    """Reads as a figure what is as wide as one."""

    def read(self, crops: Sequence[np.ndarray], allowed: str | None = None) -> list[tuple[Guess, ...]]:
        return [(Guess("6" if _inked_width(crop) > 0.4 else "", 0.95),) for crop in crops]


def _inked_width(crop: np.ndarray) -> float:
    """How wide the ink of a crop is, as a part of its height."""
    rows, columns = np.nonzero(crop < 128)
    return float(np.ptp(columns) + 1) / float(np.ptp(rows) + 1)


@pytest.mark.parametrize("gap", [6, 20], ids=["a crack", "two marks"])
def test_a_figure_that_broke_in_two_is_read_as_one(gap: int) -> None:
    flat = _flat(TOP, ())
    x, y = int((1.5 + MARGIN) * CELL), int((MARGIN - 0.5) * CELL)
    cv2.rectangle(flat.image, (x - 12, y - 20), (x + 12, y + 20), (250, 250, 250), -1)
    cv2.rectangle(flat.image, (x - 8, y - 13), (x - 4, y + 13), (20, 20, 20), -1)
    cv2.rectangle(flat.image, (x - 3 + gap, y + 2), (x - 2 + gap, y + 11), (20, 20, 20), -1)
    _, glyphs, _ = _read(flat, _Wide())  # type: ignore[arg-type]
    assert [glyph.text for glyph in glyphs] == (["6"] * 4 if gap == 6 else [])


def _read(flat: Flat, reader: _Hardly) -> tuple[list[Ring], list[Glyph], Mapping[Side, Sequence[Box]]]:
    raster = Raster.of(flat)
    ink = measure_ink(flat, measure_ground(flat))
    pieces = find_pieces(ink.drawn, raster, measure_tones(ink, raster))
    return read_outside(pieces, ink, flat, reader, ())  # type: ignore[arg-type]
