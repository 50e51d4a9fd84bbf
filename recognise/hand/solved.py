"""Handwritten digits in the light of the solution: where a hand can be read in two ways, the right digit is likelier.

The proof of the printed puzzle knows nothing of what is written in it, so its one solution says beforehand which digit
a solver most likely wrote (Bayes' rule). A wrong digit that is written plainly stays what it is.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from recognise.glyphs.classes import NOTHING
from recognise.hand.pencilled import Hand, Pencilled
from recognise.hand.tell import LEGIBLE
from schema.cells import Cell

DIGITS = range(1, 10)
"""Handwriting is told in grids of up to nine rows only."""
RIGHT = 0.9
"""How often a digit that somebody writes into a grid is the right one, put low: solvers err now and then, and a grid
that went wrong is wrong in many cells."""
NO_DIGIT = 0.05
"""How often what stands alone in a cell and was written by hand is none of the digits."""
LEAST = 1e-3
"""No digit is less likely than this by its looks: hands differ from print, which the network knows."""


def in_the_light_of(solution: Mapping[Cell, int], hand: Hand) -> Hand:
    """What is written by hand, read again with the one solution of the puzzle known."""
    return replace(
        hand,
        pencilled=tuple(
            _weighed(written, solution[written.cell]) if written.cell in solution else written
            for written in hand.pencilled
        ),
    )


def _weighed(written: Pencilled, right: int) -> Pencilled:
    looks = {guess.text: guess.probability for guess in written.guesses}
    others = (1 - RIGHT) / (len(DIGITS) - 1)
    weights = {
        digit: (1 - NO_DIGIT) * (RIGHT if digit == right else others) * max(LEAST, looks.get(str(digit), 0.0))
        for digit in DIGITS
    }
    none = NO_DIGIT * (looks.get(NOTHING, 0.0) + looks.get("0", 0.0))
    best = max(weights, key=lambda digit: weights[digit])
    sure = weights[best] / (sum(weights.values()) + none)
    return replace(written, digit=best if sure >= LEGIBLE else None, confidence=sure)
