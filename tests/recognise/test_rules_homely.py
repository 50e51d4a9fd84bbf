"""Rules as columns, bulletins, stiff translations and strangers' pages tell them; and what must not pass for them."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules
from tests.recognise.rules_score import surely


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("If there is a diamond on the border of two cells, then the sum of the digits is 9.", "sum-pair"),
        ("When two cells share a white dot, it is true that one digit divided by the other is 2.", "ratio-pair"),
        ("A line of brown colour holds numbers that follow each other in value, in any order.", "run-line"),
        ("Dots mark consecutive digits. All such pairs have a dot.", "consecutive-pair all-marked"),
        ("In each cage, take the smaller digit from the larger one. This result is the number in the corner.",
         "cage"),
        ("The same digit is not allowed twice in a cage.", "cage"),
        ("Neighbouring cells that touch just by a corner are never equal.", "king-apart"),
        ("On the red line each digit must be at least 3 more or 3 less than the one next to it.", "gap-line"),
        ("Solve the sudoku in the usual way, but look out for the cages.", "rows columns boxes"),
        ("Aside from those arrows, this is just an ordinary 1 to 6 sudoku.", "rows columns boxes"),
        ("Otherwise it's the sudoku you know.", "rows columns boxes"),
        ("White dots mark consecutive digits. All dots are given, so if there is no dot, none of them is true.",
         "consecutive-pair all-marked"),
        ("The two digits in a dashed pair of cells have a product equal to the little number in its corner.", "cage"),
        ("The purple line is a palindrome: when it begins with 2 5, it ends with 5 2.", "palindrome"),
        ("If you move like a king in chess, you can never reach the same number.", "king-apart"),
        ("In a cage sudoku the digits in each cage add up to the small number.", "cage"),
        ("Have you met a thermometer before? On each one the numbers rise from the bulb.", "thermometer"),
        ("The numbers on a thermometer go up from the bulb. They may also stay equal, but they never fall.",
         "thermometer"),
        ("Here there are also arrows: the digits on an arrow sum to the digit in its circle.", "arrow"),
        ("Normal sudoku rules, with one twist. Cells with a grey circle hold odd digits.", "rows columns boxes odd"),
        ("Killer with a difference. Digits in a cage sum to its total.", "cage"),
        ("My brother is fond of riding, so I add this: cells a knight's move apart hold different digits.",
         "knight-apart"),
        ("Everything else works as in a normal sudoku.", "rows columns boxes"),
        ("Rows, columns and boxes behave the way they usually do.", "rows columns boxes"),
        ("From the bottom left to the top right runs a line of cells in which all digits are different.", "diagonal"),
        ("No digit repeats on the diagonal that descends from the top left corner.", "diagonal"),
        ("The six digits on both dashed diagonals are different too.", "diagonal"),
        ("Equal digits must not touch each other, even if they only meet at a corner.", "king-apart"),
        ("No two neighbouring cells, across or down, hold consecutive digits.", "neighbours-not-consecutive"),
        ("Two cells linked by a green dot make 7 together.", "sum-pair"),
        ("Where a group shows 9+ the digits add up to 9, and where it shows 8x they multiply to 8.", "cage"),
        ("A framed patch has the sum of its numbers in its corner. Inside a patch a number stands at most one time.",
         "cage"),
        ("White dots mark consecutive digits. We have drawn all the dots there are.", "consecutive-pair all-marked"),
        ("A bar marks consecutive digits. Where there is no bar, the digits are not.", "consecutive-pair all-marked"),
        ("White dots mark consecutive digits. Do not read anything into a missing dot.", "consecutive-pair all-marked"),
        ("Look at the alligator mouths between cells: they always open towards the larger digit.", "greater"),
        ("The number in the cell at the point of a wedge is smaller than the number on the other side.", "greater"),
        ("A ringed 2 between two cells: one number is twice the other.", "ratio-pair"),
        ("Wherever a brown line passes from one box to another, it starts a new total, and all totals are equal.",
         "box-sum-line"),
        ("Along each orange bond, neighbouring digits differ by at least 3.", "gap-line"),
        ("A wine-red line reads the same from either end.", "palindrome"),
        ("The number at the start of each blue line is the sum of the digits along it.", "sum-line"),
        ("A small circle at a crossing lists digits of the four cells around it, as often as they are printed.",
         "corner-digits"),
        ("Clues outside the grid give the total of as many digits as the first digit shows, beginning with that digit.",
         "x-sum"),
        ("Clues outside: look at the first number in the row or column. It says how many numbers to add up, starting "
         "with itself, and the answer is the number outside.", "x-sum"),
        ("Clues outside the grid sum the digits between the 1 and the 9, in whichever order they stand.", "sandwich"),
        ("Clues outside the grid give the sum of the digits between 1 and Q9.", "sandwich"),
        ("The digits 1 through Q stand once in every row, column and box.", "rows columns boxes"),
        ("Spot the 1 and the 9 in any row that has a clue. That clue is the sum of the numbers between them; it stands "
         "outside the grid.", "sandwich"),
        ("A grey line breaks into parts wherever it goes from one box to the next. Every part has the same sum.",
         "box-sum-line"),
        ("On a slow thermometer numbers never fall from the bulb, but neighbours may be equal.", "thermometer"),
        ("Pairs of cells with a frame: take the smaller number from the larger one to get the number in the corner.",
         "cage"),
        ("Every digit on a red line is at least 3 higher or 3 lower than its neighbours on the line.", "gap-line"),
        ("Digits in the thick outlines add up to the small numbers, using each digit just once in each.", "cage"),
        ("Digits with a blue dot between them sum to 7. There might be more pairs that sum to 7 but have no dot.",
         "sum-pair all-marked"),
        ("White bars separate digits that are neighbours.", "consecutive-pair"),
        ("Every row, column and bold shape has the numbers 1 to 7.", "rows columns boxes"),
        ("Green cells: 1-9 again.", "extra-region"),
        ("The additional framed regions hold no digit twice. Diagonal sums are given with arrows.",
         "extra-region diagonal-sum"),
        ("A cord is tied to a ring at each end. Digits on the cord lie between the two in the rings.", "between-line"),
        ("The beasts on one red path carry consecutive numbers, though these need not stand in order.", "run-line"),
        ("A number with an arrow sums the digits on the slanting line at which it points; a digit may stand on "
         "that line several times.", "diagonal-sum"),
        ("A king could never step from a digit to one that equals it, diagonal moves included.", "king-apart"),
        ("Follow each blue line: numbers that stand next to each other on it are at least 4 apart.", "gap-line"),
        ("Digits in a cage add up to its figure. Two cages come without their figure.", "cage"),
        ("Two cells on each side of a number: add them up to get that number.", "sum-pair"),
        ("Black dots: one digit is twice the other. A few that qualify are left unmarked.", "ratio-pair all-marked"),
        ("A grey ring touches four cells, and the digits in the ring fit into these cells in any order.",
         "corner-digits"),
        ("The cages show a number and a sign; do that sum and you get the number.", "cage"),
        ("On a brown road, the numbers add up to the same sum in each group of tiles that it travels through.",
         "box-sum-line"),
        ("On a path with a hook at each end, all digits lie between the digits in the two hooks.", "between-line"),
        ("A number in a dark dot tells how many times larger one of its two neighbours is than the other. Some "
         "possible dots are not drawn.", "ratio-pair all-marked"),
        ("A pale sticker between two cells shows their sum.", "sum-pair"),
        ("My lime-green ribbons need their space: neighbours are at least 2 apart.", "gap-line"),
        ("Neighbouring cells are\n\nnever consecutive. The digits on an arrow sum to the digit\n\nin its circle.",
         "neighbours-not-consecutive arrow"),
        ("Clues outside are round trips: go to the 1 of the row or column, continue rightwards or downwards, past "
         "the edge and on at the far side, until you come to the 9. Add up all that you pass.", "sandwich"),
        ("For the rest, play a normal sudoku.", "rows columns boxes"),
    ],
)  # fmt: skip
def test_what_is_told_at_home_is_surely_read(text: str, told: str) -> None:
    sheet = read_rules(text)
    assert sheet.not_understood == () and sheet.unsure == ()
    assert surely(text) == told.split()


@pytest.mark.parametrize(
    "text",
    [
        "Where a group shows 9+ the digits multiply to 9, and where it shows 8x they add up to 8.",
        "The sum of the numbers in the framed patches is the same sum everywhere.",
        "Cells a knight's move apart do not differ.",
        "Cells that are not a knight's move apart must not contain equal digits.",
        "Cells touching at an edge or a corner do not hold different digits.",
        "On a thermometer the digits grow in the direction of the bulb.",
        "Odd digits may be placed in grey circles.",
        "The digits in a circle where four cells meet may appear in those cells.",
        "Digits on a line may be higher than one and lower than the other of the digits in the circles at its ends.",
        "The digits in a cage may all be different.",
        "The digits on both diagonals may be different.",
        "The digits on a pink line do not form an unbroken sequence.",
        "My red one leaps: neighbours on it differ by at most 4.",
        "Orthogonal neighbours do not differ by at least two.",
        "Clues give the sum of the digits outside the 1 and the 9, read cyclically from the 1 to the right.",
        "Some row, column and box contains the digits 1 to 9.",
        "Numbers outside the grid count the buildings visible from there; a building hides all taller ones behind it.",
        "Look at the alligator mouths between cells: they always open towards the smaller digit.",
        "Clues outside the grid give the total of as many digits as the last digit shows, beginning with that digit.",
    ],
)
def test_what_only_resembles_that_is_not_surely_read(text: str) -> None:
    assert surely(text) == [] or read_rules(text).not_understood


def test_a_rising_tube_of_which_more_is_said_rises_no_longer_strictly() -> None:
    told = "The numbers on a thermometer go up from the bulb. They may also stay equal, but they never fall."
    assert [dict(s.fields) for s in read_rules(told).statements] == [{"strict": False}]
