"""Ink beside a wavy line in a picture: its own swings, or something that stands there."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from ingest.page import Box
from recognise.doubt.bulges import straight_lines
from recognise.doubt.ink import unexplained_ink
from recognise.doubt.waved import without_waves
from recognise.evidence import Flat
from recognise.pixels.frame import Raster
from recognise.support import claims
from tests.recognise.evidence_maker import trace

CELL, MARGIN, FLOOR, WIDTH = 64, 1.0, 0.05, 0.08
SIZE = 8 * CELL
NONE = np.zeros((SIZE, SIZE), np.bool_)
BARE = NONE.astype(np.float32)
FLAT = Flat(np.full((SIZE, SIZE, 3), 250, np.uint8), 6, 6, CELL, MARGIN, BARE, BARE)
LINE = trace("r2c2 r2c3 r2c4 r2c5 r3c5 r4c5", width=WIDTH)
SWING, EACH = 0.13, 0.4
"""In cells: how far the line swings to each side, and how soon it is back."""


def _level(swing: float, each: float = EACH) -> np.ndarray:
    """The ink of the line, swinging all along its way: `each` so many cells once to both sides."""
    along = np.linspace(0, 5, 400)
    aside = swing * np.sin(2 * np.pi * along / each)
    level_way = np.stack([1.5 + np.minimum(along, 3), 1.5 + np.maximum(along - 3, 0)], axis=1)
    off = np.where(along[:, None] < 3, np.stack([0 * aside, aside], 1), np.stack([aside, 0 * aside], 1))
    level = np.zeros((SIZE, SIZE), np.float32)
    points = np.rint((level_way + off + MARGIN) * CELL * 16).astype(np.int32)
    cv2.polylines(level, [points[:, None]], False, 0.7, round(WIDTH * CELL), cv2.LINE_AA, 4)
    return cv2.GaussianBlur(level, (0, 0), 0.8)


def _asked(level: np.ndarray) -> tuple[list[Box], list[Box]]:
    """What no claim explains, before and after the swings are left out."""
    raster = Raster.of(FLAT)
    found = unexplained_ink(level, FLOOR, FLAT, claims(LINE), lattice=NONE)
    return found, without_waves(found, straight_lines(level, FLOOR, [LINE], raster), level, raster)


def test_the_swings_of_a_wavy_line_are_its_own() -> None:
    found, left = _asked(_level(SWING))
    assert found and left == [], found


@pytest.mark.parametrize("x", [2.31, 3.06, 3.94])
def test_a_dot_beside_it_or_upon_it_is_not(x: float) -> None:
    level = _level(SWING)
    at = round((x + MARGIN) * CELL), round((1.5 + SWING + 0.04 + MARGIN) * CELL)
    cv2.circle(level, at, round(0.09 * CELL), 0.7, -1)
    found, left = _asked(level)
    assert [box for box in found if box[0] <= x <= box[2]] and left
    assert all(box[0] - 0.1 <= x <= box[2] + 0.1 for box in left)


def test_a_darker_stroke_within_the_wave_is_not() -> None:
    level, crest = _level(SWING), 2.4
    x, y = (round((v + MARGIN) * CELL) for v in (crest, 1.5 + SWING))
    cv2.line(level, (x - 3, y), (x + 3, y), 1.0, 3)
    _, left = _asked(level)
    assert left and all(box[0] <= crest <= box[2] for box in left)


def test_a_line_that_bends_once_is_no_wave() -> None:
    found, left = _asked(_level(0.17, 5.0))
    assert found and left == found
