"""Rules as magazines, beginners' books and competition booklets print them: what they announce, shapes in the place of
boxes, digits that may come again, marks that are all there or not; and when two readers agree."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules
from tests.recognise.rules_score import kinds, surely

USUAL = "Normal sudoku rules apply. "
ROWS = ["rows", "columns", "boxes"]


@pytest.mark.parametrize(
    "moot",
    [
        "Today there are two more conditions.",
        "Two themes meet in this one.",
        "This is our monthly killer.",
        "Next, look for the cages.",
        "A zero means that the 1 and the 9 are side by side.",
        "The order of the digits in the circle is not relevant.",
        "Unmarked cells are not restricted.",
        "The total may be different for different lines.",
        "There are no cages of three or more cells.",
        "A fence without a number has no known total.",
        "Cages with no number may have any sum.",
    ],
)
def test_what_announces_or_only_follows_states_nothing(moot: str) -> None:
    read = read_rules(USUAL + moot)
    assert [s.kind for s in read.statements] == ROWS
    assert read.not_understood == () and read.unsure == ()


@pytest.mark.parametrize(
    "rule",
    [
        "Today there are two more conditions: neighbours never wuggle.",
        "Next, look for the cages that blorg.",
        "Unmarked cells are restricted to even digits.",
        "The other cells can have either parity but never 5.",
    ],
)
def test_what_goes_on_after_an_announcement_is_not_passed_over(rule: str) -> None:
    read = read_rules(USUAL + rule)
    assert read.not_understood or read.unsure or len(read.statements) > len(ROWS)


@pytest.mark.parametrize(
    "boxes",
    [
        "There are no ordinary boxes. Rows, columns and the irregular shapes with a heavy outline hold 1 to 9.",
        "Rows, columns and the jigsaw pieces with the bold outline hold 1 to 9 without repetition.",
        "Rows, columns: 1 to 9. The boxes are not regular today: look at the thick borders, each piece holds 1 to 9.",
    ],
)
def test_shapes_in_the_place_of_boxes_are_irregular(boxes: str) -> None:
    read = read_rules(boxes)
    assert [s.fields for s in read.statements if s.kind == "boxes"] == [{"irregular": True}]
    assert read.not_understood == () and read.unsure == ()


@pytest.mark.parametrize(
    "again",
    [
        "A cage may contain the same digit more than once.",
        "You are allowed to have the same digit more than once in a cage.",
        "The setter allows the same digit twice inside a cage as long as the cells do not share a row, column or box.",
    ],
)
def test_a_digit_may_come_again(again: str) -> None:
    read = read_rules("The product of the digits in a cage is its number. " + again)
    assert [s.fields for s in read.statements if s.kind == "cage"] == [{"operation": "product", "repeats": True}]
    assert read.not_understood == ()


DOTS = "A white dot joins consecutive digits. "


@pytest.mark.parametrize(
    ("told", "negated"),
    [
        ("Every applicable dot is shown.", False),
        ("The author of this puzzle has shown every white dot that is possible.", False),
        ("The setter did not put in every dot he could have.", True),
        ("Some pairs of consecutive digits have been left without a dot.", True),
        ("There may be more such pairs that we did not join.", True),
        ("If there is no dot, you cannot conclude anything.", True),
    ],
)
def test_whether_all_marks_are_there(told: str, negated: bool) -> None:
    read = read_rules(DOTS + told)
    assert [s.negated for s in read.statements if s.kind == "all-marked"] == [negated]
    assert read.not_understood == () and read.unsure == ()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("The line with a ball at its start is a thermometer, so digits go up from the ball.", ["thermometer"]),
        ("Numbers on a black line with an arrowhead add to the number in its circle.", ["arrow"]),
        ("A pointed bracket between two squares opens towards the larger number.", ["greater"]),
        ("On orange lines, each digit is at least 4 away from the digits just before and just after it.", ["gap-line"]),
        (
            "In each thermometer the numbers rise from square to square, starting at the round bulb.",
            ["thermometer"],
        ),
    ],
)
def test_marks_by_how_they_look_are_sure(text: str, told: list[str]) -> None:
    assert surely(text) == told


def test_a_sentence_is_not_joined_with_the_midst_of_the_one_before() -> None:
    read = read_rules(
        "The diagonal running from bottom left to top right is marked with a dotted line, and on it all digits are "
        "different. The other diagonal is free."
    )
    assert [s.fields for s in read.statements] == [{"direction": "up"}] or read.not_understood


def test_additional_regions_are_not_lost_in_the_sentence_after_them() -> None:
    text = USUAL + "Two shaded areas of nine cells each count as extra boxes. If you count the visible towers from an "
    read = read_rules(text + "outside number, looking over the row or the column, you will find just that many.")
    assert "extra-region" in {s.kind for s in read.statements} or read.not_understood or read.unsure


def test_coloured_lines_that_pass_through_boxes_are_no_regions() -> None:
    assert "extra-region" not in kinds("Each row, column and box takes 1 to 9, once. Blue lines pass through boxes.")


def test_what_two_readers_agree_on_is_sure() -> None:
    read = read_rules("A black diamond parts a digit and its double.")
    assert len(read.statements) == 1 and read.unsure == () and read.not_understood == ()


@pytest.mark.parametrize(
    "told",
    [
        "Cells that are not a knight's move apart must not contain equal digits.",
        "A cage with a minus sign gives the sum of its digits.",
        "In the top half of the grid, digits separated by a black dot are in the ratio 1:2.",
    ],
)
def test_the_opinion_does_not_hear_everything(told: str) -> None:
    assert surely(told) == [] or read_rules(told).not_understood
