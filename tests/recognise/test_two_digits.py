"""Digits that run together: one piece, cut where each part reads for itself."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
import pytest

from recognise.evidence import Guess
from recognise.glyphs import GlyphReader
from recognise.pixels.blobs import STEEP, Blob, Pieces, Tones
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import Character, CharacterReader
from recognise.pixels.touching import CUTS, parted

RASTER = Raster(9, 9, 100, 0)
NOBODY = (Guess("", 0.9),)


class Blind:
    """A reader that sees no characters, and counts what it is shown."""

    shown = 0

    def read(self, crops: Sequence[np.ndarray], _allowed: str | None = None) -> list[tuple[Guess, ...]]:
        self.shown += len(crops)
        return [NOBODY for _ in crops]


def read(picture: np.ndarray, reader: CharacterReader) -> list[Character]:
    """What one piece of ink is parted into."""
    rows, columns = np.nonzero(picture > 0.5)
    x, y = int(columns.min()), int(rows.min())
    blob = Blob(x, y, int(np.ptp(columns)) + 1, int(np.ptp(rows)) + 1, len(rows), (1,))
    pieces = Pieces((picture > 0.5).astype(np.int32), (blob,), Tones(1.0, 0.0))
    return parted([Character(blob, blob.box(RASTER), NOBODY, NOBODY)], pieces, picture, RASTER, reader)


def drawn(text: str) -> np.ndarray:
    """Two digits, with a stroke from one to the other."""
    picture = np.zeros((80, 110), np.uint8)
    for at, digit in zip((15, 50), text, strict=True):
        cv2.putText(picture, digit, (at, 60), cv2.FONT_HERSHEY_DUPLEX, 1.7, 255, 4, cv2.LINE_AA)
    cv2.line(picture, (40, 42), (58, 42), 255, 3)
    return picture.astype(np.float32) / 255


@pytest.mark.parametrize("text", ["24", "39", "56"])
def test_digits_that_touch_are_two(text: str) -> None:
    assert [one.guesses[0].text for one in read(drawn(text), GlyphReader())] == list(text)


@pytest.mark.parametrize("text", ["360", "682", "594"])
def test_three_digits_that_touch_are_three(text: str) -> None:
    """Two of them, squeezed into one window, look like one."""
    picture = np.zeros((80, 130), np.uint8)
    for at, digit in zip((15, 40, 65), text, strict=True):
        cv2.putText(picture, digit, (at, 60), cv2.FONT_HERSHEY_DUPLEX, 1.4, 255, 5, cv2.LINE_AA)
    found = read(picture.astype(np.float32) / 255, GlyphReader())
    assert [one.guesses[0].text for one in found] == list(text)


def test_second_parts_are_looked_at_only_beside_digits() -> None:
    reader = Blind()
    assert len(read(drawn("24"), reader)) == 1
    assert 0 < reader.shown <= CUTS * (1 + len(STEEP))
