"""What is said to the reader around a rule is left out; what denies the rule, or holds one, is not."""

from __future__ import annotations

import pytest

from recognise.rules.courtesy import without_courtesy
from recognise.rules.reader import read_rules


@pytest.mark.parametrize(
    ("sentence", "rule"),
    [
        ("It falls to me this month to remind you that no digit repeats in a row.", "no digit repeats in a row."),
        ("My dear fellow members, every row holds 1 to 9.", "every row holds 1 to 9."),
        ("Once more unto the grid, dear friends: 1 to 9 in every row.", "1 to 9 in every row."),
        ("Allow me to present the November puzzle, in which rows hold 1 to 9.", "rows hold 1 to 9."),
        ("I trust I need not dwell upon the rows, which hold 1 to 9.", "the rows, which hold 1 to 9."),
        ("Bolt has sorted his cards so that each row shows 1 to 9.", "each row shows 1 to 9."),
        ("The tubes, which our president so disliked, rise from the bulb.", "The tubes  rise from the bulb."),
    ],
)
def test_courtesy_is_left_out(sentence, rule):
    assert without_courtesy(sentence) == rule


@pytest.mark.parametrize(
    "sentence",
    [
        "I do not say that all dots are given.",
        "Two cells, which we join by a dot, are consecutive.",
        "Draw walls so that every row holds 1 to 9.",
        "Rows, our columns, boxes: 1 to 9.",
        "It would be wrong to tell you that digits in a cage may not repeat.",
        "It falls to me to deny the report that digits in a cage may not repeat.",
        "Digits in a cage, I was wrong to say, may not repeat.",
    ],
)
def test_what_tells_or_denies_stays(sentence):
    assert without_courtesy(sentence) == sentence


def test_a_denial_in_the_courtesy_is_heard():
    """`I do not claim that all are given` says nothing of unmarked pairs."""
    sheet = read_rules("A white dot joins consecutive digits. I do not claim that all dots are given.")
    assert not [s for s in sheet.statements if s.kind == "all-marked" and not s.negated]


@pytest.mark.parametrize(
    "sentence",
    [
        "It would be wrong to tell you that digits in a cage may not repeat.",
        "Digits in a cage, I was wrong to say, may not repeat.",
        "I would be lying if I told you that digits in a cage may not repeat.",
        "It is a myth that digits in a cage may not repeat.",
        "My neighbour falsely declares that digits in a cage may not repeat.",
        "You would be mistaken to think that digits in a cage may not repeat.",
        "I must retract my remark that digits in a cage may not repeat.",
    ],
)
def test_a_rule_that_is_taken_back_is_asked_about(sentence):
    sheet = read_rules(sentence)
    assert sheet.unsure or sheet.not_understood
