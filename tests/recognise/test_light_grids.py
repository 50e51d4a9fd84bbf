"""Grids in pictures whose lines are lighter than their cells: tinted tiles with gaps, light lines on dark ground."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

import cv2
import numpy as np
import pytest

from recognise.evidence import Lattice
from recognise.grids import boxes_from, find_grids, flatten, inked, looks_filled, measure_edges
from recognise.grids.ink import luminance
from tests.recognise.test_grids import bent, curl

CELL, PAD = 48, 130
THIN, WIDE = 3, 7
"""Pixels between two tiles, and between two boxes."""
PALE, MIDDLING, DARK = (233, 230, 223), (190, 205, 220), (50, 60, 70)


def places_apart(
    count: int, box: tuple[int, int], thin: int, wide: int
) -> Iterator[tuple[int, int, tuple[int, int], tuple[int, int]]]:
    """Row, column and two corners of each cell of a grid whose cells stand apart, by `wide` pixels between boxes of
    `box` rows and columns."""
    for row, column in product(range(count), repeat=2):
        left, top, right, bottom = (
            (wide if line % size == 0 else thin) / 2
            for line, size in ((column, box[1]), (row, box[0]), (column + 1, box[1]), (row + 1, box[0]))
        )
        corner = round(PAD + column * CELL + left), round(PAD + row * CELL + top)
        far = round(PAD + (column + 1) * CELL - right) - 1, round(PAD + (row + 1) * CELL - bottom) - 1
        yield row, column, corner, far


def tiles(count: int, box: tuple[int, int], tint: tuple[int, int, int], every: int = 5, text: str = "") -> np.ndarray:
    """A page of tiles with wider gaps between boxes of `box` rows and columns; every fifth tile holds a figure."""
    page = np.full((count * CELL + 2 * PAD,) * 2 + (3,), 255, np.uint8)
    for row, column, corner, far in places_apart(count, box, THIN, WIDE):
        cv2.rectangle(page, corner, far, tint, -1)
        if (row * count + column) % every == 0:
            spot = PAD + column * CELL + 15, PAD + row * CELL + 35
            ink = (255, 255, 255) if tint == DARK else (20, 20, 20)
            cv2.putText(page, text or str((row + column) % 9 + 1), spot, cv2.FONT_HERSHEY_SIMPLEX, 0.9, ink, 2)
    return page


@pytest.mark.parametrize("tint", [PALE, MIDDLING, DARK])
@pytest.mark.parametrize(("count", "box"), [(6, (2, 3)), (9, (3, 3)), (8, (4, 2))])
def test_tiles_of_a_curled_photo_are_a_grid_with_boxes_by_the_wider_gaps(count, box, tint) -> None:
    picture, matrix = bent(tiles(count, box, tint), 3)
    (lattice,) = find_grids(picture)
    assert (lattice.rows, lattice.columns, lattice.light) == (count, count, True)
    row, column = np.indices((count + 1, count + 1))
    flat = np.stack([column, row], -1).reshape(-1, 1, 2) * float(CELL) + PAD
    truth = cv2.perspectiveTransform(flat, matrix).reshape(*row.shape, 2)
    truth[..., 1] += curl(truth[..., 0], picture.shape[1])
    assert np.abs(lattice.points - truth)[1:-1, 1:-1].max() < 0.08 * CELL
    assert np.abs(lattice.points - truth).max() < 0.15 * CELL
    dark = flatten(inked(picture, lattice), lattice)
    boxes = boxes_from(measure_edges(dark)).cells
    assert boxes is not None and len(boxes) == count
    assert {(cell.row - 1) // box[0] for cell in boxes[0]} == {0}
    assert {(cell.column - 1) // box[1] for cell in boxes[0]} == {0}
    assert not looks_filled(dark)


def test_tiles_under_the_grain_of_a_film_are_a_grid_and_a_panel_below_is_none() -> None:
    page = tiles(6, (3, 3), PALE)
    page[-PAD + 20 : -10, PAD:-PAD] = (240, 240, 240)
    grain = np.random.default_rng(7).normal(0, 4.0, page.shape)
    (lattice,) = find_grids(np.clip(page + grain, 0, 255).astype(np.uint8))
    assert (lattice.rows, lattice.columns, lattice.light) == (6, 6, True)
    assert np.abs(lattice.points[[0, -1], [0, -1]] - (PAD, PAD + 6 * CELL)[:1] * 2).min() < 5


def test_what_lies_on_the_gaps_stays_as_it_is() -> None:
    page = tiles(9, (3, 3), PALE, every=1000)
    spot = (PAD + 2 * CELL, PAD + CELL // 2)
    cv2.circle(page, spot, 9, (255, 255, 255), -1, cv2.LINE_AA)
    cv2.circle(page, spot, 9, (0, 90, 0), 2, cv2.LINE_AA)
    along = PAD + 4 * CELL
    cv2.line(page, (along - CELL // 2, along - CELL // 2), (along + CELL // 2, along + CELL // 2), (90, 160, 165), 7)
    net = np.stack(np.meshgrid(np.arange(10.0), np.arange(10.0)), -1) * CELL + PAD
    dark = luminance(inked(page, Lattice(net, light=True)))
    assert dark[spot[1], spot[0]] > 240, "the label's white ground"
    assert 120 < dark[along, along] < 200, "the line"
    assert dark[PAD + 2 * CELL + CELL // 2, PAD + 2 * CELL] < 90, "a gap elsewhere"
    assert dark[PAD + 6 * CELL + CELL // 2, PAD + 4 * CELL + CELL // 2] > 240, "a tile is paper"


def test_filled_tiles_and_bars_and_loose_squares_are_no_puzzle() -> None:
    assert find_grids(tiles(9, (3, 3), PALE, every=1, text="8")) == []
    bars = np.full((900, 900, 3), 255, np.uint8)
    for row in range(9):
        cv2.rectangle(bars, (100, 100 + row * 70), (800, 162 + row * 70), PALE, -1)
    assert find_grids(bars) == []
    loose = np.full((900, 900, 3), 255, np.uint8)
    for k in range(36):
        x, y = 90 + k % 6 * 125 + k * 7 % 5 * 9, 90 + k // 6 * 125 + k * 3 % 5 * 9
        cv2.rectangle(loose, (x, y), (x + 80, y + 80), MIDDLING, -1)
    assert find_grids(loose) == []


def _on_black(around: tuple[int, int, int]) -> tuple[np.ndarray, Lattice]:
    """A dark grid with white lines, an orange mark in its middle and a white one beside it, on paper of a colour."""
    page = np.full((6 * CELL + 2 * PAD,) * 2 + (3,), around, np.uint8)
    cv2.rectangle(page, (PAD, PAD), (PAD + 6 * CELL,) * 2, DARK, -1)
    for line in range(7):
        at = PAD + line * CELL
        cv2.line(page, (PAD, at), (PAD + 6 * CELL, at), (255, 255, 255), 2)
        cv2.line(page, (at, PAD), (at, PAD + 6 * CELL), (255, 255, 255), 2)
    cv2.circle(page, (PAD + 3 * CELL + CELL // 2,) * 2, 12, (235, 120, 20), -1)
    cv2.circle(page, (PAD - CELL, PAD + CELL), 12, (255, 255, 255), -1)
    net = np.stack(np.meshgrid(np.arange(7.0), np.arange(7.0)), -1) * CELL + PAD
    return page, Lattice(net, light=True)


def test_a_coloured_mark_on_black_keeps_its_hue() -> None:
    seen = inked(*_on_black(DARK))
    red, green, blue = seen[(PAD + 3 * CELL + CELL // 2,) * 2].tolist()
    assert red > green + 40 > blue + 80


@pytest.mark.parametrize(("around", "dark"), [(DARK, True), ((250, 250, 250), False)])
def test_what_stands_beside_a_dark_grid_is_turned_where_the_paper_is_dark_too(
    around: tuple[int, int, int], dark: bool
) -> None:
    seen = luminance(inked(*_on_black(around)))
    assert (seen[PAD + CELL, PAD - CELL] < 100) == dark
    assert seen[PAD + CELL, PAD - 2 * CELL] > 200, "paper, light where it was dark, or as it was"
