"""Things in cells read as digits by the glyph network."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import cv2
import numpy as np

from recognise.evidence import Guess
from recognise.glyphs import GlyphReader
from recognise.glyphs.window import window
from recognise.hand.strokes import Thing

DIGITS = "0123456789"
RIM = 3
"""Pixels of paper around a thing that its window may show."""


def digit_reader(network: GlyphReader) -> Callable[[Sequence[Thing]], list[tuple[Guess, ...]]]:
    """A reader of things by a network."""

    def read(seen: Sequence[Thing]) -> list[tuple[Guess, ...]]:
        crops = []
        for thing in seen:
            grey = cv2.copyMakeBorder(thing.crop, RIM, RIM, RIM, RIM, cv2.BORDER_CONSTANT, value=(255,))
            x0, y0, x1, y1 = (v + RIM for v in thing.inner)
            crops.append(window(np.asarray(grey, np.uint8), (x0, y0, x1, y1)))
        return network.read(crops, DIGITS) if crops else []

    return read
