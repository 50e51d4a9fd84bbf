"""Rules told with any word of a field of synonyms are read as with the usual one; near misses are not."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules
from tests.recognise.rules_score import kinds, surely


@pytest.mark.parametrize(
    ("text", "told"),
    [
        # Lines, areas and spots by whatever name.
        ("Along the slim green ribbons, figures in adjoining cells must differ by three or more.", ["gap-line"]),
        ("From one square to the next on a green band the number goes up or down by at least 4.", ["gap-line"]),
        ("The values strung on each brown band come to the total in its first cell.", ["sum-line"]),
        ("In every area framed by dashes no symbol is repeated.", ["cage"]),
        ("The digits in a group ringed with dots come to the small number.", ["cage"]),
        ("A round pale smudge stands for an odd digit.", ["odd"]),
        ("Each square with a square tint is reserved for an even digit.", ["even"]),
        ("The beak between two squares gapes at the larger digit.", ["greater"]),
        ("The wedge between two squares tapers towards the smaller number.", ["greater"]),
        ("Where two neighbouring cells share a red tag, their digits total the number on it.", ["sum-pair"]),
        ("A number in a small frame astride two cells is the total of those two cells.", ["sum-pair"]),
        ("The number in a double ring equals the sum of the digits on its arrow.", ["arrow"]),
        ("Each digit on a cord joining two beads lies between the two digits in them in value.", ["between-line"]),
        ("Strips with a ball at each end: digits in the middle are strictly between the digits in the balls.",
         ["between-line"]),
        # What digits do.
        ("The nearer a cell lies to the round end of a tube, the smaller its digit.", ["thermometer"]),
        ("Reverse the digits along a grey strip and nothing changes.", ["palindrome"]),
        ("A hollow bead between two cells says that the digits come straight after each other.", ["consecutive-pair"]),
        ("A solid bead between two cells says that dividing one by the other gives 2.", ["ratio-pair"]),
        ("Two cells that touch, be it just by a corner, never hold like digits.", ["king-apart"]),
        ("Successive numbers can never sit side by side.", ["neighbours-not-consecutive"]),
        ("Inside a dotted pen you may use a digit more than once.", ["cage"]),
        ("Each boxed group shows a result and how to get it: + added, x multiplied, - the smaller from the larger.",
         ["cage"]),
        ("In the thermometers the numbers grow from the ball to the end.", ["thermometer"]),
        ("A star on an edge joins two digits in the proportion 1 to 3.", ["ratio-pair"]),
        ("The opening of the angle between two cells shows to the greater number.", ["greater"]),
        ("The diagonal from left below to right above has all numbers different.", ["diagonal"]),
        ("Digits on a yellow line differ from their predecessor and successor by a minimum of 3.", ["gap-line"]),
        ("A number in the first cell of a brown line tells what the digits on the line add up to.", ["sum-line"]),
        ("Two cells are joined by an X only if their sum is ten.", ["sum-pair"]),
        ("Apart from rows, columns and boxes, which you fill with 1 to 9, both diagonals have no repeats.",
         ["rows", "columns", "boxes", "diagonal"]),
        ("Equal values inside a dashed boundary are not forbidden.", ["cage"]),
        ("Digits inside the same dashed border have to be different from each other.", ["cage"]),
        ("A solid disc on an edge means that the quotient of the two values is three.", ["ratio-pair"]),
        ("Squares mark the places of even digits, though other cells may be even too.", ["even"]),
        ("The digits on a string of teal beads are a run without gaps, like 2 3 4, stirred in any order.",
         ["run-line"]),
        ("Line with rings: the digits between the rings lie between the ringed digits in value, and equal neither.",
         ["between-line"]),
        ("A black disc between two cells shows the ratio of the larger to the smaller: 2 for double, 3 for treble.",
         ["ratio-pair"]),
        ("Put 1 to 6 in rows, columns and six regions that the heavy lines mark out.", ["rows", "columns", "boxes"]),
        ("A grey band reads the same to the left as to the right.", ["palindrome"]),
        ("Along a grey band the second half repeats the first half in reverse.", ["palindrome"]),
        ("Every rose line holds a run of consecutive digits, whose order is up to you.", ["run-line"]),
        ("Where cells are ringed by small dashes, the figure in the corner tells what they add up to.", ["cage"]),
        ("Squares that a knight could reach in one move have another digit.", ["knight-apart"]),
        ("White bars join cells whose digits are neighbours in the number row.", ["consecutive-pair"]),
        # Whether all marks are there.
        ("White dots join consecutive digits. Every place where a dot is possible has one.",
         ["consecutive-pair", "all-marked"]),
        ("White dots join consecutive digits. Pairs without a dot can have this property too.",
         ["consecutive-pair", "not all-marked"]),
        ("White dots join consecutive digits. No dot, no promise.", ["consecutive-pair", "not all-marked"]),
        ("White dots join consecutive digits. Nothing can be inferred from a missing dot.",
         ["consecutive-pair", "not all-marked"]),
        ("White dots join consecutive digits. The dots are shown in every case.", ["consecutive-pair", "all-marked"]),
        ("White dots join consecutive digits. All pairs with this property have a dot.",
         ["consecutive-pair", "all-marked"]),
        ("White dots join consecutive digits. The dots are not complete.", ["consecutive-pair", "not all-marked"]),
        ("White dots join consecutive digits. Further such pairs may exist without a dot.",
         ["consecutive-pair", "not all-marked"]),
        ("White dots join consecutive digits. Dots are placed wherever possible.", ["consecutive-pair", "all-marked"]),
        ("White dots join consecutive digits. No other neighbours may be consecutive.",
         ["consecutive-pair", "all-marked"]),
    ],
)  # fmt: skip
def test_words_of_one_field_say_the_same(text: str, told: list[str]) -> None:
    assert kinds(text) == told


@pytest.mark.parametrize(
    "text",
    [
        "The beak between two cells points to the larger digit.",
        "The wedge between two cells narrows towards the larger digit.",
        "The wedge between two cells opens up to the smaller digit.",
        "The nearer a cell lies to the bulb of a thermometer, the larger its digit.",
        "From one cell to the next along a green line the digit changes by at most 4.",
        "The digits on an arrow, read in order, make the number in the circle.",
        "A number in a small circle between two cells is the product of those two cells.",
        "Where two neighbouring cells share a blue label, their digits total more than the number on it.",
        "Like digits may touch at a corner.",
        "Two cells that touch, but not merely at a corner, may not hold the same digit.",
        "The digits on a purple strip do not follow one another without a gap when sorted.",
        "Reverse the digits on a grey strip and you get the same digits plus one.",
        "The digits on a gold track add up to twice the number at its start.",
        "In a dashed area a digit can be used only twice.",
        "Dots are drawn wherever the setter felt like it.",
        "The result of each row is found by adding, subtracting, multiplying and dividing: - between cells is minus.",
        "Each digit on a line joining two balls is not between the digits at its ends.",
        "Squares linked by a knight's move hold the same digit.",
        "The digits on a tube rise towards the ball.",
        "Along a grey band the second half repeats the first half.",
        "A grey band does not read the same to the left as to the right.",
        "Squares that a knight could reach in two moves have another digit.",
        "Squares that a knight cannot reach in one move have another digit.",
        "The quotient of two digits joined by a black ring is not 2.",
        "In the thermometers the numbers grow from the end to the ball.",
        "The opening of the angle shows to the smaller digit.",
        "Digits differ from their predecessor but not from their successor by at least 3 on a yellow line.",
        "A cross between two cells means that they do not have together 10.",
    ],
)
def test_other_rules_in_such_words_are_not_surely_read(text: str) -> None:
    assert surely(text) == []


def test_what_is_noticed_is_not_denied() -> None:
    assert (
        read_rules("You will notice that white dots join consecutive digits.").statements[0].kind == "consecutive-pair"
    )


def test_irregular_regions_in_the_place_of_boxes() -> None:
    text = (
        "No 3x3 boxes today - the thick lines cut the grid into nine crooked regions. 1-9 in rows, columns and regions."
    )
    sheet = read_rules(text)
    assert not sheet.not_understood and [s.kind for s in sheet.statements if not s.negated] == [
        "rows",
        "columns",
        "boxes",
    ]


def test_letters_beside_figures_are_digits() -> None:
    text = "Twelve signs, 1 to 9 and then A, B, C, which are worth 10, 11 and 12. Each of them once in each row."
    sheet = read_rules(text)
    assert sheet.digits is not None and (sheet.digits.low, sheet.digits.high) == (1, 12)
    assert not sheet.not_understood and not sheet.unsure


def test_the_number_of_a_section_is_no_value_of_its_rule() -> None:
    text = "§2 Place 1 to 9 once in each row. §3 A dark plate on a border states the sum of the two digits beside it."
    (rule,) = (s for s in read_rules(text).statements if s.kind == "sum-pair")
    assert "value" not in rule.fields
    numbered = "§3 Place 1 to 9 once in each row. §3.4 Two digits on a grey line differ by at least 5."
    (rule,) = (s for s in read_rules(numbered).statements if s.kind == "gap-line")
    assert rule.fields["gap"] == 5
