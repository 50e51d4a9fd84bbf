"""Sentences that bind nothing are passed over, what differs from them in a word is not; long rings; what may repeat."""

from __future__ import annotations

import pytest

from recognise.rules.moot import without_moot
from recognise.rules.reader import read_rules


@pytest.mark.parametrize(
    "sentence",
    [
        "A square without a disc can be odd or even.",
        "Squares without it are free to take either sort.",
        "Cells with neither are up to you.",
        "No other cells are restricted.",
        "Nothing is said about cells off the lines.",
        "The total may be another on another line.",
        "That sum is not stated and may differ from river to river.",
        "Suppose each numeral to be a House of so many storeys.",
        "A. Take the digits for house heights.",
        "A 4 is the tallest snowman, a 1 the smallest.",
        "One circle may shoot several arrows;",
        "One ring flies two kites at once, and then it answers for each string by itself.",
        "Two stalks growing from one round thing are climbed separately.",
        "One of them grows two thin ends from a shared piece;",
        "Zero: the 1 and the 9 are neighbours.",
        "0 says that the 9 was next door.",
        "(Two of the areas have fewer than nine squares, so do not look for all nine digits there.",
        "Where a post bears fewer than four digits, the rest is up to you.",
        "Two or three digits on a label do not tell you about the panes that are left.",
        "5. No figures are printed in the diagram at the outset.",
        "Look at the tag beside a row or above a column.",
        "Usual stuff first.",
        "Yours, M.",
        "Start from such a figure and look into the grid.",
        "3. Where a tube divides, clause 2 holds for each limb separately, reckoned from the common bulb.",
        "As long as the two are not in the same row, column or block.",
        "No further rules.",
        "One of the arrows is quite long, don't panic.",
        "If no number stands outside, the sum is unknown.",
        "So a clue of 0 shows that the 1 and the 9 are neighbours, and a clue of 35 that they stand at the two ends.",
        "Colour in one star for each row that you have finished.",
    ],
)
def test_what_binds_nothing_is_passed_over(sentence: str) -> None:
    assert without_moot(sentence) == " "


@pytest.mark.parametrize(
    "sentence",
    [
        "Squares without a disc must be even.",
        "A square without a disc can be odd or even but not 5.",
        "Cells without a mark may not be even.",
        "Two cells without a dot are never consecutive.",
        "The total is the same on every line.",
        "The total may not be the same on two lines.",
        "Each of them has the same total.",
        "The numbers are twice the heights of houses.",
        "A 1 is the tallest tower, a 4 the smallest.",
        "Each branch falls.",
        "All arrows that leave one disc come to different numbers.",
        "Two arrows from one circle share no digit.",
        "Zero: the 1 and the 9 are not neighbours.",
        "Where a post bears fewer than four digits, the rest are odd.",
        "Look at the tag beside a row or above a column and double it.",
        "No digits are printed twice.",
        "Each cage holds two dots.",
        "Cells with a circle are not affected.",
        "Those cells are not restricted.",
        "White squares are free.",
        "Squares with a star may hold any digit.",
        "A thermometer may hold the same digit twice.",
        "X",
    ],
)
def test_what_may_bind_something_is_not(sentence: str) -> None:
    assert without_moot(sentence) == sentence


RING = "Normal sudoku rules apply. Digits along an arrow sum to the digit in its circle. "


@pytest.mark.parametrize(
    ("sentence", "is_long"),
    [
        ("A ring stretched over two cells is read from the top to the bottom as one number of two digits.", True),
        ("A stretched ring encloses two cells, and is read as a number of two digits, from left to right.", True),
        ("Where the circle is drawn out over two cells, these make a two-figure number, read downwards.", True),
        ("Oval of two cells: holds a two-figure number, tens in the upper cell and units in the lower.", True),
        ("The bracelet round two cells holds a two-digit number, tens at the left or at the top.", True),
        ("The ring round two cells holds a two-digit number, read upwards.", False),
        ("The ring round two cells holds a two-digit number, the smaller digit first.", False),
        ("A ring stretched over two cells holds a number of two digits divided by two.", False),
        ("A long ring over two cells holds a number of two digits, a multiple of three.", False),
        ("A ring stretched over two cells holds the product, a number of two digits.", False),
        ("Oval of two cells: holds a two-figure number, units in the upper cell.", False),
        ("A long ring round two cells holds a two-digit number divisible by seven.", False),
        ("A ring over two cells holds a two-digit number that is even.", False),
        ("A ring over two cells holds a two-digit number without a 1.", False),
    ],
)
def test_a_ring_of_two_cells_is_one_number_tens_first(sentence: str, is_long: bool) -> None:
    sheet = read_rules(RING + sentence)
    assert (not {*sheet.not_understood, *sheet.unsure}) is is_long
    assert not is_long or any(s.fields.get("pill") for s in sheet.statements)


@pytest.mark.parametrize(
    "sentence",
    [
        "Repeats are fine.",
        "Repeats in a cage are possible.",
        "A figure may be passed twice.",
        "A cage may hold the same figure more than once.",
        "They may repeat.",
    ],
)
def test_that_digits_may_repeat_is_told_in_many_ways(sentence: str) -> None:
    sheet = read_rules(f"Normal sudoku rules apply. Digits in a cage sum to the small number. {sentence}")
    assert [s.fields.get("repeats") for s in sheet.statements if s.kind == "cage"] == [True]
    assert not sheet.not_understood


@pytest.mark.parametrize("unit", ["row", "column", "box"])
def test_that_digits_of_a_row_may_repeat_is_said_of_no_cage(unit: str) -> None:
    sentence = f"Each {unit} may hold a digit twice."
    sheet = read_rules(f"Normal sudoku rules apply. Digits in a cage sum to the small number. {sentence}")
    assert sentence in sheet.not_understood
    assert not any(s.fields.get("repeats") for s in sheet.statements)


def test_neighbours_on_a_tube_may_be_the_same() -> None:
    sheet = read_rules("On a thermometer digits never fall from the bulb. Two in a row may be the same.")
    assert [s.fields["strict"] for s in sheet.statements] == [False]
    assert not sheet.not_understood


def test_a_line_that_is_named_before_the_diagonals_is_not_passed_over() -> None:
    sheet = read_rules("Normal sudoku rules apply. Digits do not repeat on a grey line nor on either diagonal.")
    assert sheet.not_understood or sheet.unsure


@pytest.mark.parametrize(
    ("where", "is_asked"),
    [
        ("where we needed them", False),
        ("only where the lower digit is even", True),
        ("only where both are odd", True),
    ],
)
def test_where_marks_are_drawn_may_say_something_of_the_digits(where: str, is_asked: bool) -> None:
    dots = f"White dots join consecutive digits. The dots were drawn {where}, and not everywhere."
    assert bool(read_rules(f"Normal sudoku rules apply. {dots}").not_understood) is is_asked
