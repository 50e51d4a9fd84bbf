"""Lattice lines too pale to show at any one place show in the mean of their length."""

from __future__ import annotations

import numpy as np
import pytest

from recognise.grids.blocks import cells_of_blocks
from recognise.grids.hairlines import shows_hairlines
from recognise.grids.warp import Points, Pyramid

CELL, RIM = 60, 40
PAPER, GRAIN = 215, 4.0


def _page(darker: float, lost: int = 0) -> Pyramid:
    """Blocks of nine cells with thick borders, on grained paper, the lines between their cells only so much `darker`;
    `lost` of the lines of either way are not there at all."""
    rng = np.random.default_rng(5)
    side = 9 * CELL + 2 * RIM
    page = PAPER + rng.normal(0, GRAIN, (side, side))
    lines = [line for line in range(1, 9) if line % 3][lost:]
    for at in (RIM + CELL * line for line in lines):
        page[at, RIM:-RIM] -= darker
        page[RIM:-RIM, at] -= darker
    for at in (RIM + 3 * CELL * block for block in range(4)):
        page[at - 2 : at + 2, RIM - 2 : side - RIM + 2] = 40
        page[RIM - 2 : side - RIM + 2, at - 2 : at + 2] = 40
    return Pyramid(np.clip(page, 0, 255).astype(np.uint8))


def _lattice(count: int) -> Points:
    places = RIM + 9 * CELL * np.arange(count + 1) / count
    return np.stack(np.meshgrid(places, places), axis=-1).astype(np.float64)


@pytest.mark.parametrize(
    ("darker", "lost", "shown"), [(6.0, 0, True), (6.0, 1, True), (6.0, 3, False), (0.0, 0, False)]
)
def test_hairlines_as_pale_as_the_grain_of_the_paper_show_in_their_whole_length(
    darker: float, lost: int, shown: bool
) -> None:
    assert shows_hairlines(_page(darker, lost), _lattice(9), 3) == shown


def test_blocks_have_the_cells_that_hairlines_part() -> None:
    """Nothing stands in them that would tell."""
    cells = cells_of_blocks(_page(6.0), _lattice(3))
    assert cells is not None and np.abs(cells - _lattice(9)).max() < 0.05 * CELL
    assert cells_of_blocks(_page(0.0), _lattice(3)) is None
