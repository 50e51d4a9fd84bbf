"""Plain claims about digits, cells and marks that are of no kind are asked about, and talk in the same form is not."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules

TUBES = "Place 1-9 once in each row, column and box. Digits along a thermometer increase from the bulb."
CAGES = (
    "Place 1-9 once in each row, column and box. Digits in a cage do not repeat and sum to the number in its corner. "
    "White dots join consecutive digits."
)


def _asked(rules: str, sentence: str) -> bool:
    """Whether a sentence is asked about, and not as one that most likely binds nothing."""
    sheet = read_rules(f"{rules} {sentence}", (1, 9))
    return bool({*sheet.not_understood, *sheet.unsure} - set(sheet.idle))


@pytest.mark.parametrize(("rules", "sentence"), [
    (TUBES, "The tips are all different."),
    (TUBES, "The bulb holds the length of the tube."),
    (CAGES, "A grey cage holds its own size."),
    (TUBES, "The border of the grid has no 5."),
    (TUBES, "The number stands in its own row."),
    (CAGES, "The dots are in order."),
    (CAGES, "One cage lies."),
    (TUBES, "The longest tube ends in a 9."),
    (CAGES, "The middle of each line is even."),
    (TUBES, "No bulb is a 1."),
    (TUBES, "No 3 stands beside a 7."),
    (CAGES, "A 1 never touches a 2."),
    (TUBES, "The centre of the grid is a 5."),
    (TUBES, "The centre cell is even."),
    (TUBES, "The middle cells of the boxes are all different."),
    (TUBES, "Every given is off by one."),
    (TUBES, "A 9 is worth 0."),
    (TUBES, "A row contains every digit but one."),
    (TUBES, "Grey cells form a path."),
    (CAGES, "The cages are of equal sum."),
    (TUBES, "Grey lines are palindromes (other lines: zippers)."),
    (CAGES, "White dots are consecutive in the row, black dots in the column."),
])  # fmt: skip
def test_a_claim_of_no_kind_is_asked_about(rules: str, sentence: str) -> None:
    assert _asked(rules, sentence)


@pytest.mark.parametrize(("rules", "sentence"), [
    (TUBES, "The tubes never cross."),
    (TUBES, "The colours have no meaning."),
    (TUBES, "The numbers outside are easy."),
    (TUBES, "The centre is a good place to begin."),
    (TUBES, "The thermometer starts at its bulb."),
    (CAGES, "The dots are small."),
    (CAGES, "Some cages have no total."),
    (CAGES, "The squares are shaded."),
    (CAGES, "The digits in a cage are all different."),
    (TUBES, "Each cell holds one digit."),
])  # fmt: skip
def test_talk_in_the_form_of_a_claim_is_not(rules: str, sentence: str) -> None:
    assert not _asked(rules, sentence)


@pytest.mark.parametrize("sentence", [
    "If the circles are equal, the line is free.",
    "Where two lines share a sum, they are twins of the first kind.",
])  # fmt: skip
def test_what_follows_from_a_condition_on_marks_is_no_talk(sentence: str) -> None:
    assert _asked(f"{TUBES} Digits on a line between circles lie between the circled digits.", sentence)


def test_talk_upon_a_condition_is_not_asked_about() -> None:
    assert not _asked(TUBES, "If you like this one, write in.")


def test_what_is_told_of_one_column_is_no_part_of_the_usual_rules() -> None:
    assert _asked(
        TUBES.partition(".")[0] + ".", "In each row, the digit in column 1 tells where the 1 of that row stands."
    )


@pytest.mark.parametrize("sentence", [
    "At box borders they may drop.",
    "A tower of height 1 is never seen.",
    "Pairs of 1 and 2 have no dot.",
])  # fmt: skip
def test_what_takes_something_from_a_rule_binds(sentence: str) -> None:
    assert _asked(
        f"{TUBES} Numbers outside say how many towers are seen. White dots join consecutive digits.", sentence
    )
