"""Edges of hard shadows are no ink; what is printed in them is."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.pixels.frame import Raster
from recognise.pixels.shadows import Shadows

CELL, SIZE = 64, 4
SIDE = (SIZE + 2) * CELL
EDGE = round(3.1 * CELL)
"""Where a shadow begins, in pixels."""


def _picture(fade: float, depth: float = 0.4) -> np.ndarray:
    """Paper of which the right part lies in a shadow, whose edge fades over about so many cells, with a black line."""
    light = np.full((SIDE, SIDE), 220, np.float32)
    light[:, EDGE:] *= 1 - depth
    light = cv2.GaussianBlur(light, (0, 0), fade * CELL / 2.5)
    light[2 * CELL - 2 : 2 * CELL + 2] = 20
    return light


def _casts(light: np.ndarray, top: float, bottom: float, left: float, right: float) -> bool:
    """Whether the ink of a box, in cells of the picture, that lies against even light is the edge of a shadow."""
    noise = np.random.default_rng(2).normal(0, 2, light.shape)
    image = np.clip(light + noise, 0, 255).astype(np.uint8)
    level = np.clip(1 - image / np.float32(220), 0, 1).astype(np.float32)
    lattice = np.zeros(image.shape, np.bool_)
    lattice[2 * CELL - 4 : 2 * CELL + 4] = True
    shown = Shadows(np.repeat(image[..., None], 3, axis=2), Raster(SIZE, SIZE, CELL, CELL), lattice)
    y0, y1, x0, x1 = (round(v * CELL) for v in (top, bottom, left, right))
    return shown.casts(level[y0:y1, x0:x1] > 0.05, (y0, x0))


@pytest.mark.parametrize("fade", [0.35, 0.6])
def test_the_edge_of_a_shadow_is_told(fade: float) -> None:
    assert _casts(_picture(fade), 2.2, 3.6, 3.0, 3.3)
    assert _casts(_picture(fade), 2.1, 2.3, 3.1, 3.2), "beside a lattice line"


@pytest.mark.parametrize(("wide", "ink"), [(0.06, 0.2), (0.06, 0.5), (0.2, 0.15), (0.2, 0.3), (0.4, 0.1), (0.4, 0.3)])
def test_what_is_printed_on_the_edge_of_a_shadow_is_ink(wide: float, ink: float) -> None:
    light = _picture(0.4)
    drawn = np.ones_like(light)
    x0, x1 = (round((3.15 + by * wide) * CELL) for by in (-0.5, 0.5))
    drawn[round(2.3 * CELL) : round(3.7 * CELL), x0:x1] = 1 - ink
    light *= cv2.GaussianBlur(drawn, (0, 0), 1.5)
    assert not _casts(light, 2.3, 3.7, 3.15 - wide / 2, 3.15 + wide / 2)


@pytest.mark.parametrize("blur", [0.5, 2.0, 4.0])
def test_a_broad_mark_ends_sharply(blur: float) -> None:
    light = np.full((SIDE, SIDE), 220, np.float32)
    light[round(2.15 * CELL) : round(2.85 * CELL), round(2.15 * CELL) : round(2.85 * CELL)] *= 0.8
    light = cv2.GaussianBlur(light, (0, 0), blur)
    assert not _casts(light, 2.1, 2.9, 2.1, 2.9)
    assert not _casts(light, 2.1, 2.4, 2.1, 2.4), "nor a piece of it"


def test_a_tint_is_no_shadow() -> None:
    light = _picture(0.05)
    assert not _casts(light, 2.2, 3.6, 3.0, 3.3)
