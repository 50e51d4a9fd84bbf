"""Rules that take something out of what they say of all are asked about, whatever else of them is understood."""

from __future__ import annotations

import pytest

from recognise.rules.exceptions import makes_an_exception
from recognise.rules.reader import read_rules

BASE = "Place the digits 1 to 9 once in every row, column and box."


@pytest.mark.parametrize("sentence", [
    "Every row but one contains all digits.",
    "Every row holds each digit once, save row 5.",
    "Every box but the middle one holds the digits 1 to 9.",
    "Two equal digits may stand in a box.",
    "Along a thermometer digits rise, from the bulb or to it.",
    "Digits in a cage add to the number, give or take one.",
    "All thermometers but one rise from the bulb.",
    "The white dots join consecutive digits, but one of them lies.",
    "The long diagonals hold no digit twice but the five.",
])  # fmt: skip
def test_an_exception_is_asked_about(sentence: str) -> None:
    sheet = read_rules(f"{BASE} {sentence}", (1, 9))
    assert sentence in {*sheet.not_understood, *sheet.unsure}


@pytest.mark.parametrize("sentence", [
    "Every numeral upon the line, the rings themselves excepted, lies between the ringed ones.",
    "Each digit except 9 appears once in each row.",
    "No two equal digits may stand a knight's move apart.",
    "Two equal digits may never stand in a box.",
    "Orange lines: neighbours are at least four apart from each other, and not two.",
    "The block is deformed like a cloud, but 1 to 9 all enter it.",
    "The digits along thermometers do not fall from the bulb, but two neighbours may be equal.",
])  # fmt: skip
def test_what_is_no_exception_to_a_rule_is_none(sentence: str) -> None:
    assert not makes_an_exception(sentence)
