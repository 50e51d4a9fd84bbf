"""Tiles and small discs under numbers mark nothing by themselves; what may be a mark stays."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ingest.page import Box
from recognise.evidence import Disc, Shape
from recognise.number_tiles import without_number_tiles
from tests.recognise.evidence_maker import evidence, glyph

GRID = evidence()
PALE = (245, 227, 228)


def tile(box: Box) -> Shape:
    return Shape("square", box, PALE, "vector", filled=True)


def beside(row: int) -> Shape:
    return tile((-0.8, row + 0.05, -0.15, row + 0.95))


def test_empty_tiles_of_a_row_of_clues_are_no_marks() -> None:
    numbers = [glyph(-0.475, row + 0.5, ("12", 0.99), size=0.3) for row in (0, 2)]
    tiles = [beside(row) for row in range(3)]
    seen = [*(each.box for each in tiles), *(number.box for number in numbers)]
    told = without_number_tiles(tiles, (), numbers, seen, GRID)
    assert told.shapes == (tiles[0], tiles[2])
    assert len(told.tiles) == 3
    # Something that nobody could read stands on it.
    told = without_number_tiles(tiles, (), numbers, [*seen, (-0.6, 1.3, -0.4, 1.7)], GRID)
    assert told.shapes == tuple(tiles)
    # No number stands on any of them: they are marks of a kind of their own.
    assert without_number_tiles(tiles, (), (), seen, GRID).shapes == tuple(tiles)


@pytest.mark.parametrize(
    ("x", "y", "size", "kept"),
    [
        (1.2, 1.2, 0.15, 0),
        (1.0, 1.0, 0.15, 1),  # digits of four cells
        (1.5, 1.0, 0.15, 1),  # a number of two cells
        (1.5, 1.5, 0.15, 1),
    ],
)
def test_a_small_disc_round_a_number_in_a_corner_is_no_mark(x: float, y: float, size: float, kept: int) -> None:
    disc = Disc((x, y), 0.16, (255, 255, 255), (220, 80, 150), "vector")
    told = without_number_tiles((), (disc,), [glyph(x, y, ("5", 0.99), size=size)], (), GRID)
    assert (len(told.discs), len(told.tiles)) == (kept, 1 - kept)


@pytest.mark.parametrize(("text", "kept"), [("10", 0), ("X", 1)])
def test_the_tile_of_a_number_on_an_edge_is_no_mark(text: str, kept: int) -> None:
    told = without_number_tiles([tile((0.8, 0.35, 1.2, 0.65))], (), [glyph(1.0, 0.5, (text, 0.99), size=0.2)], (), GRID)
    assert len(told.shapes) == kept


@pytest.mark.parametrize(
    ("x", "size", "bare", "kept"),
    [
        (1.25, 0.2, False, 0),
        (1.5, 0.2, False, 1),  # in the middle of a cell it may say something of the digit
        (1.25, 0.5, False, 1),
        (1.25, 0.2, True, 1),  # numbers with and without may mean two things
    ],
)
def test_a_frame_close_round_a_small_number_off_the_middle_of_its_cell_is_no_mark(x, size, bare, kept) -> None:
    frame = Shape("square", (x - 0.2, 1.05, x + 0.2, 1.35), (74, 122, 74), "vector", filled=False)
    numbers = [glyph(x, 1.2, ("28", 0.99), size=size), *([glyph(4.2, 3.2, ("9", 0.99), size=0.2)] if bare else [])]
    told = without_number_tiles([frame], (), numbers, (), GRID)
    assert (len(told.shapes), len(told.tiles)) == (kept, 1 - kept)


@pytest.mark.parametrize(("tiled", "kept"), [(range(6), 0), (range(5), 5), (range(7), 7)], ids=["all", "some", "more"])
def test_the_tiles_of_all_givens_and_of_no_other_cell_mark_nothing(tiled: range, kept: int) -> None:
    dark = [Shape("square", (k + 0.2, 0.2, k + 0.8, 0.8), (0, 0, 0), "vector", filled=True) for k in tiled]
    givens = [replace(glyph(k + 0.5, 0.5, (str(k + 1), 0.99)), colour=(255, 255, 255)) for k in range(6)]
    assert len(without_number_tiles(dark, (), givens, [], GRID).shapes) == kept
