"""Figures of two numbers that stand as one, in two inks."""

from __future__ import annotations

import numpy as np
import pytest

from ingest.page import Colour
from recognise.evidence import Guess
from recognise.pixels.blobs import Blob, Pieces, Tones, find_pieces
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import Character
from recognise.pixels.hues import by_colour

RASTER = Raster(3, 3, 64, 64)
BLACK, FINE, RED, BLUE = (60, 55, 50), (150, 146, 140), (190, 70, 60), (60, 80, 190)


def _printed(*inks: Colour) -> tuple[list[Character], Pieces, np.ndarray]:
    """One stroke in each ink, from left to right, as characters read there."""
    relative = np.ones((320, 320, 3), np.float32)
    for at, ink in enumerate(inks):
        relative[80:100, 90 + 14 * at : 98 + 14 * at] = np.asarray(ink, np.float32) / 255
    pieces = find_pieces(1 - relative.min(axis=-1), RASTER, Tones(dark=0.8, even=0.0))
    blobs = sorted(pieces.blobs, key=lambda blob: blob.x)
    return [_character(blob) for blob in blobs], pieces, relative


def _character(blob: Blob) -> Character:
    guesses = (Guess("1", 0.99),)
    return Character(blob, blob.box(RASTER), guesses, guesses)


@pytest.mark.parametrize(("inks", "parts"), [
    ((RED, BLACK), [1, 1]),
    ((RED, RED, BLUE), [2, 1]),
    ((BLACK, FINE), [2]),  # a fine stroke of the same ink is lighter
    ((BLUE, BLUE), [2]),
    ((BLACK,), [1]),
])  # fmt: skip
def test_figures_of_one_number_have_one_colour(inks: tuple[Colour, ...], parts: list[int]) -> None:
    characters, pieces, relative = _printed(*inks)
    assert len(characters) == len(inks)
    found = by_colour(characters[::-1], pieces, relative)
    assert [len(part) for part in found] == parts
    assert [one for part in found for one in part] == characters
