"""Lines that swing about the way of their cells."""

from __future__ import annotations

import numpy as np

from recognise.pixels.frame import Raster
from recognise.vectors.waves import _by_cells

RASTER = Raster(9, 9, 64, 64)
BESIDE = 0.62
"""In cells: how far into the next row a loop reaches, which passes that row's middle at no small distance."""


def _way(reach: float) -> np.ndarray:
    """From one cell into the next one, and there a loop down and back."""
    turn = np.linspace(0, np.pi, 25)
    loop = np.stack([1.5 - 0.15 * np.cos(turn), 0.5 + reach * np.sin(turn)], axis=1)
    return np.concatenate([np.stack([np.linspace(0.5, 1.3, 8), np.full(8, 0.5)], axis=1), loop])


def test_a_line_that_comes_back_into_its_last_cell_is_no_swing_about_a_way() -> None:
    assert _by_cells(_way(BESIDE), RASTER) is None


def test_one_that_stays_in_its_cells_is() -> None:
    way = _by_cells(_way(0.1), RASTER)
    assert way is not None
    assert np.floor(way).astype(int).tolist() == [[0, 0], [1, 0], [1, 0]]
