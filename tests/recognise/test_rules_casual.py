"""Rules as short pages tell them to people who have never seen such a puzzle."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules
from tests.recognise.rules_score import found, surely


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Fill in the grid as usual. On thermometers numbers rise from the bulb.", "rows columns boxes thermometer"),
        ("The number in the ring is what all the numbers along the arrow make together.", "arrow"),
        ("The grey line reads the same both ways, like the word ROTOR.", "palindrome"),
        ("Neighbours on a red line don't get along: there is a difference of at least 4 between them.", "gap-line"),
        (
            "A blue line is cut by the box edges. Add up each piece: the totals are all the same.",
            "box-sum-line",
        ),
        ("The numbers in a cage sum to its total. A number may turn up more than once in a cage.", "cage"),
        ("In a cage, take the smaller number from the bigger one to get the number in its corner.", "cage"),
        ("A white spot between two squares? Their numbers are neighbours.", "consecutive-pair"),
        ("White dots: these two numbers come right after each other when you count.", "consecutive-pair"),
        (
            "If there is a white dot between two cells, one of the numbers is exactly one more than the other.",
            "consecutive-pair",
        ),
        ("White dot: the numbers follow each other. Black dot: one is twice the other.", "consecutive-pair ratio-pair"),
        ("A small number on the line between two squares is what the two add up to.", "sum-pair"),
        ("The 1 and the 9 are the bread: the number outside is the sum of the filling between them.", "sandwich"),
        ("Numbers with an arrow give the sum of the squares on that slanting line.", "diagonal-sum"),
        ("The same number must not touch itself, not even at the corners.", "king-apart"),
        ("White dots mark consecutive numbers. We have not drawn every dot.", "consecutive-pair all-marked"),
    ],
)
def test_what_is_told_with_a_wink_is_surely_read(text: str, told: str) -> None:
    sheet = read_rules(text)
    assert sheet.not_understood == () and sheet.unsure == ()
    assert surely(text) == told.split()


def test_a_difference_is_no_sum_when_one_number_is_taken_from_the_other() -> None:
    text = "In a cage, take the smaller number from the bigger one to get the number in its corner."
    assert found(read_rules(text)) == {("cage",), ("cage", "operation=difference")}


@pytest.mark.parametrize(
    "text",
    [
        "Squares a knight's move apart don't like counting: never consecutive.",
        "The sum of the squares of the digits in a cage is given.",
        "A repeated number in a cage? Not here.",
    ],
)
def test_what_only_resembles_such_words_is_not_surely_read(text: str) -> None:
    assert surely(text) == []
