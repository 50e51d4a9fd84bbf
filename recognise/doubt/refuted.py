"""Pale figures that are no givens, for the one solution has another digit in their cell.

Digits of the other side show through the paper. Most are mirrored, and told by that; an 8 and a 0 look the same in a
mirror. What is printed on this side and was left pale by the press agrees with the solution, as all givens do: a figure
that reads as one digit and stands where the solution has another, which it surely is not, was never printed there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Box
from recognise.doubt.pale import READ, peak_of, window_of
from recognise.draft import Doubt, Draft, Given
from recognise.evidence import Guess
from recognise.geometry import bounds, middle
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.glyphs import DIGITS, CharacterReader
from schema.cells import Cell

PALE = 0.3
"""Part of the darkness of the page's givens that a figure of the other side has at most; what is darker, and not what
the solution has there, says that something else was misread."""
ENOUGH = 3
"""Givens that show how dark print is on a page."""
AS_HIGH, MIDDLE = 0.7, 0.2
"""A figure that is lower than this part of the givens, or higher by as much, may be a number of a mark, and so may one
that stands so far off the middle of its cell, in cells."""
UNLIKE = 0.01
"""Probability under which a figure is not the digit of the solution, however it was worn."""


def without_refuted(
    draft: Draft, solution: Mapping[Cell, int], level: Grey, raster: Raster, reader: CharacterReader
) -> Draft:
    """The draft without doubts about pale figures that the solution refutes. `level` is ink from 0 to 1 without shade
    and lattice lines."""
    givens = [bounds(item.where) for item in draft.items if isinstance(item.value, Given) and item.where is not None]
    if len(givens) < ENOUGH:
        return draft
    dark = PALE * float(np.median([peak_of(box, level, raster) for box in givens]))
    high = float(np.median([box[3] - box[1] for box in givens]))

    def is_refuted(doubt: Doubt) -> bool:
        if not doubt.stray or doubt.where is None:
            return False
        box = bounds(doubt.where)
        cell = raster.cell_of(*middle(box))
        if cell is None or cell in draft.givens or cell not in solution or not _is_like_a_given(box, high):
            return False
        if peak_of(box, level, raster) > dark:
            return False
        (guesses,) = reader.read([window_of(box, level, raster)], DIGITS)
        return _is_another(guesses, str(solution[cell]))

    return replace(draft, doubts=tuple(doubt for doubt in draft.doubts if not is_refuted(doubt)))


def _is_like_a_given(box: Box, high: float) -> bool:
    """Whether ink stands where a given would, and is about as high as the others."""
    off = max(abs(place % 1 - 0.5) for place in middle(box))
    return off <= MIDDLE and AS_HIGH * high <= box[3] - box[1] <= high / AS_HIGH


def _is_another(guesses: Sequence[Guess], digit: str) -> bool:
    """Whether what is read is surely a digit, and not this one. A 0 may be a circle."""
    first = max(guesses, key=lambda guess: guess.probability)
    of_digit = sum(guess.probability for guess in guesses if guess.text == digit)
    return first.text in DIGITS[1:] and first.probability >= READ and of_digit < UNLIKE
