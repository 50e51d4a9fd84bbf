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


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Digits in a dashed plot sum to the small number. A number may occur twice in a plot.", "cage"),
        ("Use 1 to 9 so that no row, column or block of nine has the same number twice.", "rows columns boxes"),
        ("No row, no column and none of the nine large squares may hold a number twice.", "rows columns boxes"),
        ("Each row, column and box with a double edge round it has 1 to 9. Use each digit once.", "rows columns boxes"),
        ("No givens at all, we promise. Normal sudoku rules apply.", "rows columns boxes"),
        ("Your usual sudoku, plus a few slow thermometers. From the bulb on numbers rise or stay the same.",
         "rows columns boxes thermometer"),
        ("Each group of nine linked pink squares has 1 to 9 once each.", "extra-region"),
        ("White bars: one digit is the other plus one. (There are more such pairs without a bar.)",
         "consecutive-pair all-marked"),
        ("A ring between two squares: their numbers are next to each other when you count.", "consecutive-pair"),
        ("A digit on a circle cannot be divided by 2.", "odd"),
        ("No outlined area may hold a digit twice, and each adds up to the figure shown.", "cage"),
        ("Look for the 1 and the 9 in a column or row: the digits between them add up to the number outside.",
         "sandwich"),
        ("Numbers outside the grid: find the 1 and the 9 in that row or column and add up what is between them.",
         "sandwich"),
        ("Two digits in a row on a green line are at least five apart.", "gap-line"),
        ("Cells that touch each other, even at a corner only, hold different digits.", "king-apart"),
        ("Look in from the numbers at the top. A digit is visible if no higher one stands before it; the numbers "
         "give the count of visible digits.", "skyscraper"),
        ("White dots sit between consecutive numbers. They are all shown.", "consecutive-pair all-marked"),
        ("And one last thing: both main diagonals hold every digit once.", "diagonal"),
        ("Digits in a cage sum to its total. Not all cages have a total.", "cage"),
        ("1 TO 9 IN EVERY ROW. EVERY COLUMN AND EVERY BOX.", "rows columns boxes"),
        ("No row, no column. and none of the nine boxes may contain a digit twice.", "rows columns boxes"),
        ("1 to @ once in every row, column and box.", "rows columns boxes"),
        ("If a white dot stands between two cells, their numbers are next to each other when counting.",
         "consecutive-pair"),
        ("Two numbers joined by a red dot add up to 9. All pairs where this happens have a dot.",
         "sum-pair all-marked"),
        ("White dots mark consecutive numbers. We have not shown all of them, so look out.",
         "consecutive-pair all-marked"),
        ("Start with an ordinary sudoku, then add the lines. Grey lines read the same both ways.",
         "rows columns boxes palindrome"),
        ("Stay apart! Neighbours on a green line differ by at least 5.", "gap-line"),
        ("Each outlined pair of cells has a small number, which is the difference between its two numbers.", "cage"),
        ("For Ida, who likes it hard. Normal sudoku rules apply.", "rows columns boxes"),
        ("Problem 7 (Long Night, posed by U. Imagined). Normal sudoku rules apply.", "rows columns boxes"),
    ],
)  # fmt: skip
def test_turns_of_phrase_of_printed_rules_are_surely_read(text: str, told: str) -> None:
    sheet = read_rules(text)
    assert sheet.not_understood == () and sheet.unsure == ()
    assert surely(text) == told.split()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Each row, column and box has 1 to 9 once each. So do the nine pale cells.", [("extra-region", "tint", "")]),
        ("Each row, column and box has 1 to 9. So they do in the nine tinted cells.", [("extra-region", "tint", "")]),
        ("Each row, column and box has 1 to 9. The same is true of both main diagonals.", [("diagonal", "", "")]),
        (
            "Neighbours on a red line differ by at least 4. The same applies to the blue line.",
            [("gap-line", "line", "red"), ("gap-line", "line", "blue")],
        ),
        (
            "The digits on a grey line are a palindrome. The same goes for the brown ones.",
            [("palindrome", "line", "grey"), ("palindrome", "line", "brown")],
        ),
        (
            "A black dot joins digits of which one is double the other. The same holds for a black bar.",
            [("ratio-pair", "dot", "black"), ("ratio-pair", "bar", "black")],
        ),
    ],
)
def test_the_same_of_another_mark_is_what_was_said_before(text: str, told: list[tuple[str, str, str]]) -> None:
    sheet = read_rules(text)
    assert sheet.not_understood == () and sheet.unsure == ()
    read = [(s.kind, s.mark.shape, s.mark.colour) for s in sheet.statements]
    assert [one for one in read if one[0] not in ("rows", "columns", "boxes")] == told


def test_the_colour_of_numbers_is_not_that_of_their_mark() -> None:
    sheet = read_rules("White numbers in a black disc stand in the four cells around it.")
    assert [(s.kind, s.mark.colour) for s in sheet.statements] == [("corner-digits", "black")]


def test_letters_that_follow_a_digit_go_on_from_it() -> None:
    digits = read_rules("Place 1–G once in every row, column and box.").digits
    assert digits is not None and (digits.low, digits.high) == (1, 16)


def test_a_difference_is_no_sum_when_one_number_is_taken_from_the_other() -> None:
    text = "In a cage, take the smaller number from the bigger one to get the number in its corner."
    assert found(read_rules(text)) == {("cage",), ("cage", "operation=difference")}


@pytest.mark.parametrize(
    "text",
    [
        "Squares a knight's move apart don't like counting: never consecutive.",
        "The sum of the squares of the digits in a cage is given.",
        "A repeated number in a cage? Not here.",
        "None of the squares is odd.",
        "Thermometers rise from the bulb along a row. Every column is fine.",
        "The grey areas may also have every number from 1 to 9.",
        "The grey areas must also have every number from 1 to 9 or 2.",
        "The sum of the digits is even. The same holds for the grey cells.",
        "The digits in each outlined shape have the same sum as the shape beside it.",
    ],
)
def test_what_only_resembles_such_words_is_not_surely_read(text: str) -> None:
    assert surely(text) == []
