"""Grids of tiles with paper between them, in pictures."""

import cv2
import numpy as np
import pytest

from recognise.grids import find_grids
from recognise.grids.tiles import lined

TILE, THIN, WIDE, LEFT, TOP = 60, 5, 10, 180, 140
TEAL, TINT = (60, 150, 150), (226, 222, 214)


def _starts() -> list[int]:
    """Where the tiles of a row or column of six begin, a wider gap after the third."""
    return [at * (TILE + THIN) + (WIDE - THIN) * (at >= 3) for at in range(6)]


def _page(grain: float = 0.0) -> np.ndarray:
    page = np.full((900, 760, 3), 250, np.uint8)
    for y in _starts():
        for x in _starts():
            page[TOP + y : TOP + y + TILE, LEFT + x : LEFT + x + TILE] = TINT
    cv2.putText(page, "7", (LEFT + 18, TOP + 45), cv2.FONT_HERSHEY_SIMPLEX, 1.4, (20, 20, 20), 3)
    page[700:780, LEFT : LEFT + 380] = (240, 240, 240)
    noise = np.random.default_rng(7).normal(0, grain, page.shape)
    return np.clip(page + noise, 0, 255).astype(np.uint8)


@pytest.mark.parametrize("grain", [0.0, 4.0])
def test_the_gaps_between_tiles_are_lattice_lines(grain: float) -> None:
    page = _page(grain)
    drawn = lined(page)
    assert drawn is not None
    (lattice,) = find_grids(drawn)
    assert (lattice.rows, lattice.columns) == (6, 6)
    length = _starts()[-1] + TILE
    assert np.abs(lattice.points[0, 0] - (LEFT, TOP)).max() < 5
    assert np.abs(lattice.points[6, 6] - (LEFT + length, TOP + length)).max() < 5


def test_what_lies_across_a_gap_stays_and_so_do_circles_on_tiles() -> None:
    page = _page()
    middles = [(LEFT + x + TILE // 2, TOP + _starts()[1] + TILE // 2) for x in _starts()]
    cv2.line(page, middles[0], middles[1], TEAL, 9)
    cv2.circle(page, middles[3], 22, (250, 250, 250), -1)
    cv2.circle(page, middles[3], 22, (90, 80, 70), 3)
    drawn = lined(page)
    assert drawn is not None
    gap = LEFT + TILE + THIN // 2
    assert tuple(drawn[middles[0][1], gap]) == TEAL
    assert tuple(drawn[middles[0][1] + 20, gap]) == (40, 40, 40)
    assert tuple(drawn[middles[3][1], middles[3][0]]) == (250, 250, 250)


def test_a_wider_gap_is_a_thicker_line() -> None:
    drawn = lined(_page())
    assert drawn is not None
    across = drawn[TOP + 10, LEFT + TILE - 5 : LEFT + 4 * TILE, 0] < 100
    runs = [len(run) for run in "".join("x" if dark else " " for dark in across).split()]
    assert len(runs) == 3
    assert runs[2] > 1.5 * max(runs[:2])


def test_a_page_without_tiles_has_none() -> None:
    page = np.full((900, 760, 3), 250, np.uint8)
    page[200:600, 100:600] = TINT
    for row in range(30):
        cv2.putText(page, "words of a page", (60, 40 + 28 * row), cv2.FONT_HERSHEY_SIMPLEX, 0.6, (0, 0, 0), 1)
    assert lined(page) is None
