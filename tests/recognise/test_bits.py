"""Bits of marks that hardly pass for small characters."""

from types import SimpleNamespace

import numpy as np
import pytest

from recognise.evidence import Glyph, Guess
from recognise.marks.bits import bits
from recognise.pixels.frame import Raster

RASTER = Raster(3, 3, 64, 64)
DASH = (1.6, 1.4, 1.66, 1.55)


@pytest.mark.parametrize(
    ("sure", "height", "expected", "on_mark", "is_bit"),
    [
        (0.52, 0.15, 0.0, True, True),
        (0.9, 0.15, 0.0, True, False),  # it is read
        (0.52, 0.4, 0.0, True, False),  # it is as tall as a given
        (0.52, 0.15, 0.2, True, False),  # the network thinks a small character possible
        (0.52, 0.15, 0.0, False, False),  # nothing else explains its ink
    ],
)
def test_a_dash_is_no_character_where_nobody_expects_one(
    sure: float, height: float, expected: float, on_mark: bool, is_bit: bool
) -> None:
    drawn = np.zeros((320, 320), np.float32)
    drawn[RASTER.slices(DASH)] = 0.8
    marks = np.zeros(drawn.shape, np.bool_)
    if on_mark:
        marks[RASTER.slices((1.55, 0.0, 1.7, 3.0))] = True
    told = SimpleNamespace(node=lambda cell, name: expected if name == "SMALL" else 0.0)
    seen = SimpleNamespace(raster=RASTER, told=told, ink=SimpleNamespace(drawn=drawn, floor=0.05))
    glyph = Glyph(DASH, (Guess("1", sure),), height, (0, 0, 0), "ocr")
    assert (bits([glyph], lambda: marks, seen) == [glyph]) == is_bit  # type: ignore[arg-type]
