"""Handwritten digits read in the light of the solution."""

from __future__ import annotations

import pytest

from recognise.evidence import Guess
from recognise.hand.pencilled import Hand, Pencilled
from recognise.hand.solved import in_the_light_of
from schema.cells import Cell

CELL = Cell(3, 4)
BOX = (3.2, 2.2, 3.8, 2.9)


def _told(right: int, **looks: float) -> Pencilled:
    """What is read where a 1 has the probability `one`, a 7 `seven`, and so on."""
    texts = {"one": "1", "seven": "7", "none": ""}
    guesses = tuple(Guess(texts[name], share) for name, share in sorted(looks.items(), key=lambda look: -look[1]))
    (written,) = in_the_light_of({CELL: right}, Hand((Pencilled(CELL, BOX, None, 0.0, guesses),))).pencilled
    return written


@pytest.mark.parametrize("right", [1, 7])
def test_of_two_that_look_alike_the_right_one_is_likelier(right: int) -> None:
    written = _told(right, one=0.5, seven=0.4)
    assert written.digit == right
    assert written.confidence > 0.95


def test_a_wrong_digit_that_is_plainly_written_stays() -> None:
    written = _told(7, one=0.998, seven=0.001)
    assert written.digit == 1
    assert 0.8 < written.confidence < 0.998


def test_what_looks_like_no_digit_is_none() -> None:
    assert _told(7, none=0.99).digit is None


def test_a_cell_of_which_the_solution_says_nothing_stays() -> None:
    written = Pencilled(CELL, BOX, 5, 0.8, (Guess("5", 0.8),))
    hand = Hand((written,))
    assert in_the_light_of({Cell(1, 1): 2}, hand) == hand
