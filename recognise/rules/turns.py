"""Turns of phrase of printed rules for units, marks between cells, cages and clues, put plainly."""

from __future__ import annotations

from recognise.rules.patterns import patterns_of
from recognise.rules.substitution import in_any_case, substituted

_TURNS = in_any_case(patterns_of("turns.txt"))


def turned(sentence: str) -> str:
    """The sentence with each of these turns of phrase put plainly."""
    return substituted(sentence, _TURNS)
