"""Edges of shadows that pass for ink, and pale ink that does not."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.doubt.shaded import without_shaded
from recognise.draft import box_polygon
from recognise.evidence import Flat

CELL, SIZE = 64, 4
SIDE = (SIZE + 2) * CELL
SHADOW = 0.2
PIECE = (1.2, 1.1, 1.35, 1.5)
"""Where ink is asked about, within a shadow that begins to its left."""


def _left(level: np.ndarray, *claimed, light: np.ndarray | None = None) -> bool:
    """Whether ink is still asked about in a picture with a level of ink."""
    nowhere = np.zeros((SIDE, SIDE), np.float32)
    image = np.full((SIDE, SIDE, 3), 255, np.uint8) if light is None else light
    flat = Flat(image, SIZE, SIZE, CELL, 1.0, nowhere, nowhere)
    lattice = np.zeros((SIDE, SIDE), np.bool_)
    for line in range(SIZE + 1):
        lattice[(line + 1) * CELL - 1 : (line + 1) * CELL + 2] = True
    return bool(without_shaded([PIECE], level.astype(np.float32), 0.05, claimed, lattice, flat))


def _shadow(begins: float = 1.0) -> np.ndarray:
    level = np.zeros((SIDE, SIDE))
    level[:, round((begins + 1) * CELL) :] = SHADOW
    return cv2.blur(level, (CELL // 4, CELL // 4))


def _drawn(level: np.ndarray, strength: float) -> np.ndarray:
    x0, y0, x1, y1 = (round((v + 1) * CELL) for v in PIECE)
    level[y0:y1, x0:x1] += strength
    return level


def test_a_piece_of_a_shadow_is_no_ink() -> None:
    assert not _left(_shadow())
    assert not _left(_shadow(), box_polygon((1.36, 1.0, 2.0, 2.0))), "beside what a mark claims"


@pytest.mark.parametrize("strength", [0.08, 0.2])
def test_pale_ink_is_asked_about_in_a_shadow_too(strength: float) -> None:
    assert _left(_drawn(np.zeros((SIDE, SIDE)), strength))
    assert _left(_drawn(_shadow(), max(strength, 0.1)))


def test_what_goes_on_beyond_a_claim_is_asked_about_though_one_side_is_as_dark() -> None:
    level = np.zeros((SIDE, SIDE))
    level[round(2.1 * CELL) : round(2.5 * CELL), round(2.2 * CELL) : round(3.5 * CELL)] = SHADOW
    assert _left(level)


def test_where_hardly_anything_around_is_bare_nothing_is_told() -> None:
    assert _left(_shadow(), box_polygon((1.0, 1.0, 2.0, 1.9)))


def test_bare_paper_on_the_edge_of_a_shadow_is_no_ink_whatever_covers_what_is_around_it() -> None:
    claim = box_polygon((1.36, 1.0, 2.0, 1.9))
    shadow = cv2.GaussianBlur(_shadow(1.3), (0, 0), CELL / 6)
    image = np.repeat(np.clip(255 * (1 - 2 * shadow), 0, 255).astype(np.uint8)[..., None], 3, axis=2)
    assert _left(shadow, claim), "in even light"
    assert not _left(shadow, claim, light=image)
