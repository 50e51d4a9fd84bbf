"""Figures of one number with a little arrow that stand far apart, as a 1 and a 4 do in wide founts."""

from __future__ import annotations

import pytest

from recognise.evidence import Guess
from recognise.marks.run_together import as_one
from recognise.pixels.glyphs import Character


def figure(text: str, x0: float, x1: float, sure: float = 0.99, y: float = 3.5) -> Character:
    return Character(None, (x0, y, x1, y + 0.28), (Guess(text, sure),), ())  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("second", "joined"),
    [
        (figure("4", 9.63, 9.9), True),
        (figure("4", 9.68, 9.95), False),
        (figure("4", 9.63, 9.9, sure=0.6), False),
        (figure("4", 9.63, 9.9, y=3.7), False),
        (figure("L", 9.63, 9.9), False),
    ],
    ids=["a gap of half their height", "too far off", "hardly a figure", "not level", "no figure"],
)
def test_two_sure_figures_at_a_place_of_one_number_are_one(second: Character, joined: bool) -> None:
    first = figure("1", 9.38, 9.49)
    assert as_one([[first], [second]]) == ([[first, second]] if joined else [[first], [second]])
