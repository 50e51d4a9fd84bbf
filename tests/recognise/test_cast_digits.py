"""The edge of a hard shadow that was read as a character is none; a character that stands on it is."""

from __future__ import annotations

import cv2
import numpy as np

from ingest.page import Box
from recognise.evidence import Flat, Glyph, Guess
from recognise.pixels.cast_digits import without_edges
from recognise.pixels.frame import Raster
from recognise.pixels.ground import measure_ground
from recognise.pixels.ink import measure_ink
from recognise.pixels.shadows import Shadows

CELL, SIZE = 64, 4
SIDE = (SIZE + 2) * CELL
EDGE = 2.4
"""Where the shadow ends, in cells of the grid, that lies to the left."""
STROKE: Box = (2.2, 1.2, 2.6, 1.9)
"""What was read as a character there."""


def _flat(ink: float = 0.0) -> Flat:
    """A grainy photo of an empty grid, half in a shadow, with a stroke as dark as `ink` on its edge."""
    light = np.full((SIDE, SIDE), 210, np.float32)
    light[:, : round((EDGE + 1) * CELL)] *= 0.5
    light = cv2.GaussianBlur(light, (0, 0), 0.12 * CELL)
    drawn = np.ones_like(light)
    for line in range(1, SIZE + 2):
        drawn[line * CELL - 1 : line * CELL + 1, CELL:-CELL] = drawn[CELL:-CELL, line * CELL - 1 : line * CELL + 1] = (
            0.2
        )
    x, y = round((np.mean(STROKE[::2]) + 1) * CELL), [round((at + 1) * CELL) for at in STROKE[1::2]]
    drawn[slice(*y), x - 3 : x + 4] = 1 - ink
    light *= cv2.GaussianBlur(drawn, (0, 0), 1.2)
    grain = cv2.GaussianBlur(np.random.default_rng(5).normal(0, 8, light.shape), (0, 0), 0.8)
    image = np.repeat(np.clip(light + grain, 0, 255).astype(np.uint8)[..., None], 3, axis=2)
    maps = np.zeros((SIDE, SIDE), np.float32)
    return Flat(image, SIZE, SIZE, CELL, 1.0, maps, maps)


def _left(flat: Flat) -> tuple[int, bool]:
    """How many characters are left of the one, and whether its pixels are still taken for a character's."""
    raster = Raster.of(flat)
    ink = measure_ink(flat, measure_ground(flat))
    one = Glyph(STROKE, (Guess("1", 0.99),), 0.7, (90, 90, 90), "ocr")
    pixels = np.zeros(ink.level.shape, np.bool_)
    pixels[raster.slices(STROKE)] = True
    glyphs, left = without_edges([one], pixels, ink, Shadows(flat.image, raster, ink.grid), raster)
    return len(glyphs), bool(left.any())


def test_the_edge_of_a_shadow_is_no_digit() -> None:
    assert _left(_flat()) == (0, False)


def test_a_digit_on_the_edge_of_a_shadow_is_one_however_pale() -> None:
    assert _left(_flat(0.5)) == (1, True)
    assert _left(_flat(0.15)) == (1, True)
