"""Where the walls of a capsule stand, told from its ink."""

import cv2
import numpy as np
import pytest

from recognise.marks.walls import walled
from recognise.pixels.frame import Raster

CELL, FLOOR = 64, 0.05
RASTER = Raster(4, 4, CELL, CELL)
CELLS, USUAL = (1.0, 2.0, 2.0, 4.0), (1.15, 2.15, 1.85, 3.85)


def _capsule(inset: float, ink: float, thick: int = 2, filled: bool = False) -> np.ndarray:
    """The ink of an upright capsule, its outer face so far inside its two cells."""
    x0, y0, x1, y1 = (RASTER.at(v + s * inset) for v, s in zip(CELLS, (1, 1, -1, -1), strict=True))
    across, down = np.meshgrid(np.arange(6 * CELL) + 0.5, np.arange(6 * CELL) + 0.5)
    radius, middle = (x1 - x0) / 2, (x0 + x1) / 2
    nearest = np.clip(down, y0 + radius, y1 - radius)
    depth = radius - np.hypot(across - middle, down - nearest)
    level = np.where((depth >= 0) & (filled | (depth <= thick)), ink, 0).astype(np.float32)
    return cv2.GaussianBlur(level, (0, 0), 0.8)


@pytest.mark.parametrize("inset", [0.05, 0.09, 0.15, 0.22])
@pytest.mark.parametrize("ink", [0.2, 0.9])
@pytest.mark.parametrize("filled", [False, True])
def test_walls_are_where_the_ink_is(inset: float, ink: float, filled: bool) -> None:
    found = walled(CELLS, USUAL, _capsule(inset, ink, filled=filled), RASTER, FLOOR)
    told = (1 + inset, 2 + inset, 2 - inset, 4 - inset)
    assert np.allclose(found, told, atol=0.03)


def test_a_side_without_a_wall_is_where_it_usually_is() -> None:
    level = _capsule(0.08, 0.9)
    level[: round(RASTER.at(2.5))] = 0
    left, top, right, bottom = walled(CELLS, USUAL, level, RASTER, FLOOR)
    assert top == USUAL[1]
    assert np.allclose((left, right, bottom), (1.08, 1.92, 3.92), atol=0.03)
