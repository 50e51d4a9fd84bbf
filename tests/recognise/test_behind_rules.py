"""A part of a table beside a grid, cut off by the edge of the picture, is painted over; cells for clues are not."""

from __future__ import annotations

import cv2
import numpy as np

from recognise.evidence import Flat
from recognise.grids.behind_rules import without_neighbours

CELL, SIZE, MARGIN = 40, 6, 3
SIDE = (SIZE + 2 * MARGIN) * CELL
FIRST, LAST = MARGIN * CELL, (MARGIN + SIZE) * CELL


def _flat(
    away: float | None = 0.6, step: float = 1.4, number: float = 1.2, both: bool = False, mirrored: bool = False
) -> Flat:
    """A grid with a rule left of it, `away` cells from it, in which lines end from behind every `step` cells, with a
    number; with `both` the same rule runs right of it."""
    picture = np.full((SIDE, SIDE), 225, np.uint8)
    for at in range(FIRST, LAST + 1, CELL):
        cv2.line(picture, (at, FIRST), (at, LAST), 40, 2)
        cv2.line(picture, (FIRST, at), (LAST, at), 40, 2)
    if away is not None:
        x = FIRST - round(away * CELL)
        cv2.line(picture, (x, FIRST - 9), (x, LAST + 9), 60, 2)
        for at in np.arange(FIRST, LAST + 1, step * CELL):
            cv2.line(picture, (0, round(at)), (x, round(at)), 60, 2)
        if both:
            cv2.line(picture, (SIDE - x, FIRST - 9), (SIDE - x, LAST + 9), 60, 2)
    _write(picture, number)
    picture = picture[:, ::-1] if mirrored else picture
    noise = np.random.default_rng(3).normal(0, 5, picture.shape)
    image = np.repeat(np.clip(picture + noise, 0, 255).astype(np.uint8)[..., None], 3, axis=2)
    maps = np.zeros((SIDE, SIDE), np.float32)
    return Flat(np.ascontiguousarray(image), SIZE, SIZE, CELL, float(MARGIN), maps, maps)


def _write(picture: np.ndarray, away: float) -> None:
    """Write a number so many cells left of the grid."""
    place = FIRST - round(away * CELL) - 6, FIRST + round(2.9 * CELL)
    cv2.putText(picture, "7", place, cv2.FONT_HERSHEY_SIMPLEX, 0.7, 30, 2)


def _darkest(flat: Flat, left: float, right: float) -> int:
    """The darkest pixel between so many cells left of the grid, beside its rows."""
    x0, x1 = (FIRST - round(at * CELL) for at in (left, right))
    return int(flat.image[FIRST:LAST, x0:x1].min())


def test_a_table_beside_a_grid_is_painted_over() -> None:
    flat = _flat()
    assert _darkest(flat, 1.6, 0.4) < 80
    assert _darkest(without_neighbours(flat), 1.6, 0.4) > 150
    assert (without_neighbours(flat).image[:, FIRST:] == flat.image[:, FIRST:]).all()


def test_so_it_is_on_the_right() -> None:
    flat = _flat(mirrored=True)
    assert int(without_neighbours(flat).image[FIRST:LAST, LAST + CELL // 4 :].min()) > 150


def test_cells_for_clues_stay() -> None:
    for away, number in ((0.4, 0.9), (1.0, 0.5)):
        flat = _flat(away, 1.0, number)
        assert without_neighbours(flat) is flat, "apart from their grid, in step with its rows, and next to it"


def test_a_clue_before_a_rule_keeps_what_is_behind_it() -> None:
    flat = _flat(0.9, 1.4, 0.5)
    assert without_neighbours(flat) is flat


def test_a_frame_round_a_grid_and_its_clues_is_no_rule_of_another() -> None:
    flat = _flat(0.5, 20.0, 1.1, both=True)
    assert without_neighbours(flat) is flat


def test_clues_without_a_rule_stay() -> None:
    flat = _flat(None)
    assert without_neighbours(flat) is flat
