"""Plain words that make another rule of a sentence: it is asked about, and near misses are not."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules

BASE = "Place the digits 1 to 9 once in every row, column and box."


def _asked(sentence: str) -> bool:
    sheet = read_rules(f"{BASE} {sentence}", (1, 9))
    return bool(sheet.not_understood or sheet.unsure)


@pytest.mark.parametrize("sentence", [
    "Only cells with a grey square contain even digits.",
    "Only shaded cells contain even digits.",
    "Shaded cells contain even digits, and no other cells in the same box do.",
    "Adjacent cells must not contain non-consecutive digits.",
    "Horizontally adjacent cells must not contain consecutive digits.",
    "All horizontal pairs of consecutive digits are marked with a dot.",
    "Cells a knight's move apart must not contain equal digits if they do not touch.",
    "Digits may not repeat on the diagonals of any box.",
    "One main diagonal contains the digits 1 to 9.",
    "Both main diagonals contain the digits 1 to 9 in row 5.",
    "Both diagonals contain every digit, as do the four 3x3 areas around the centre.",
    "Both diagonals contain every digit and have the same digit in the corners.",
    "Place 1 to 9 so that no digit repeats in a row, column, box or along any line of three.",
    "Place 1 to 9 in every row, column and box, and also in each group of cells at the same place of its box.",
    "On the green line neighbouring digits are at least five apart; so are digits two cells apart.",
    "Digits along a pink line form a set of consecutive digits, in order.",
    "Digits joined by a white dot are consecutive, starting with an even digit.",
    "The digits on an arrow sum to the digit in its circle, beginning with a 1.",
    "The digits on an arrow sum to the digit in its circle, and its digit is the number of its cells.",
    "Numbers outside the grid give the sum of the digits between the 2 and the 8 in that row or column.",
    "Numbers outside the grid give the number of digits between the 1 and the 9 in that row or column.",
    "Numbers outside the grid give the largest of the digits between the 1 and the 9 in that row or column.",
    "Numbers outside the grid give the middle digit between the 1 and the 9 in that row or column.",
    "Numbers outside the grid give the sum of every other digit between the 1 and the 9.",
    "Numbers above give the sum of the first X digits, where X is the first digit, from below.",
    "No two cages have the same sum; digits in a cage do not repeat.",
    "The digits in a cage sum to the number in its corner; all have the same total.",
    "The digits in a cage sum to the number in its corner, each different digit counted once.",
    "Digits along an arrow sum to the digit in the circle of another arrow.",
    "On a purple line digits form a consecutive set, and adjacent digits on it are never consecutive.",
    "Palindromes read the same either way; their middle digit is a 5.",
    "A blue line has the same sum in every box it passes through, and all blue lines share that sum.",
    "Corner circles: the digits in the circle appear in the surrounding cells, in the order shown.",
    "Cage totals are given in hundreds.",
    "White dots join consecutive digits, black dots digits in a 1:2 ratio; "
    "not all dots are shown, but all black ones are.",
    "Digits in cages do not repeat. One of them is the number in the corner.",
    "Digits in cages are all different and one of them is the number in the corner.",
    "No digit repeats in a cage, which contains the number in its corner.",
    "Digits in cages do not repeat. The number in the corner is in the cage.",
    "The main diagonals hold each digit at most once, the short ones too.",
    "X joins digits that sum to 10, V joins digits that sum to 5; not all are given, but all V are.",
    "One arrow has lost its head.",
    "Digits joined by a white dot are consecutive. One of them has been left out.",
    "Normal rules apply; the boxes are to be found.",
    "On the diagonal from top left to bottom right, a number is seldom new.",
    "A digit is rarely alone in its row.",
    "Numbers outside the grid give the sum of the digits between the 1 and the 9, counting the 1 and the 9 too.",
    "Numbers outside the grid give the sum of the digits between the 1 and the 9; a number may be off by one.",
    "Palindromes: a grey line reads the same upside down.",
    "The digits in a circle on a corner appear in the four cells around it in the same order.",
    "From the bulb of a thermometer onwards, digits go up or down.",
    "From the bulb, digits grow, but the tip is smaller than the bulb.",
    "Digits rise from the bulb of a thermometer; the digit in the bulb is the length of the thermometer.",
    "A purple line holds consecutive digits in any order; it never starts with 1.",
    "Neighbours are never consecutive in a row.",
    "No two equal digits stand a knight's move apart on grey cells.",
    "The diagonals have three different digits each.",
    "The main diagonal holds the digits 1 to 9, the other only three different ones.",
    "Digits along a thermometer rise from the bulb until the line bends.",
    "The sign opens to the larger digit; two signs are turned.",
    "Sudoku with twins somewhere in a row.",
    "The four corners are all equal.",
    "The number in a cage is the difference of its largest and smallest digits.",
    "Grey lines are near palindromes.",
    "Only grey lines are palindromes; other lines are zippers.",
    "Grey lines are palindromes; the others are zipper lines.",
    "Grey lines are palindromes and red lines are zippers.",
    "Cells a knight's move apart hold no equal digits over 5.",
    "No equal digits stand a knight's move apart. The rule does not hold for 5.",
    "No equal digits stand a knight's move apart. Nines are exempt.",
    "Cells that a king reaches in two steps have different digits.",
    "Place the digits 1 to 9 in every row, column, box and window.",
    "Place the digits 1 to 9 in every row, column, box and position within the boxes.",
    "Place the digits 1 to 9 in every row, column, box and broken diagonal.",
    "Place the digits 1 to 9 in every row and column and, twice, in each pair of boxes.",
    "Place the digits 1 to 8 and a star in every row, column and box.",
    "Seven of the digits 1 to 9 appear in every row, column and box.",
    "The digits in a cage sum to its number; cages without a number have equal sums.",
    "Digits along a thermometer rise from the bulb; the longest one is slow.",
    "White dots join consecutive digits, black dots digits in a 1:2 ratio. All white dots are shown, not black ones.",
    "White dots join consecutive digits. Where there is no dot, digits are not consecutive, except in the middle box.",
    "White dots join consecutive digits. The lower digit is on the left.",
    "The numbers outside tell how many skyscrapers are visible from there. Clues on the left are one too high.",
    "Digits on a line lie between those in its circles. The left end is greater.",
    "The digits in a circle on a corner stand in the four cells around it. The others are larger.",
    "Green lines: neighbours on the line differ by at least 5. Green cells too.",
    "Digits along a thermometer rise from the bulb. Tips are nines.",
    "The digits in a cage sum to its number. Fives are wild.",
    "The digits in a cage sum to the number given in the cage below.",
    "No equal digits stand a knight's move apart. The grid is a torus.",
    "The digits on an arrow sum to the digit in one of its two circles.",
    "Numbers outside the grid give the sum of the digits between the 1 and the 9; 1 stands left of 9.",
    "Palindromes: grey lines read the same from both ends. All grey lines are equal.",
    "Digits in a circle are odd. All odd digits are circled.",
    "Digits in a circle are odd, and every odd digit is in a circle.",
    "The digits in a cage sum to its number. Cages of one colour hold the same digits.",
    "White dots join consecutive digits. Every digit touches a dot.",
    "White dots join consecutive digits, black dots digits in a 1:2 ratio. Black and white dots: either.",
])  # fmt: skip
def test_what_makes_another_rule_of_a_sentence_is_asked_about(sentence: str) -> None:
    assert _asked(sentence)


@pytest.mark.parametrize("sentence", [
    "Horizontally or vertically adjacent cells must not contain consecutive digits.",
    "Both main diagonals contain the digits 1 to 9.",
    "Digits in cages do not repeat and add up to the number in the corner.",
    "Digits along a pink line are consecutive, not necessarily in order.",
    "Grey lines are palindromes: they have the same digits in the same order from both ends.",
    "Neighbours in a row or column are never consecutive.",
    "Equal digits are never a knight's move apart.",
    "Both main diagonals contain nine different digits.",
    "Grey lines are palindromes.",
    "Cells with a grey circle contain odd digits; odd digits may stand in other cells as well.",
    "Cells of one colour contain nine different digits.",
    "Green lines are whispers: neighbours on the line differ by at least 5.",
    "Place the digits 1 to 9 in every row, column, box and both diagonals.",
    "White dots join consecutive digits, black dots digits in a 1:2 ratio. Not all dots are given.",
    "On slow thermometers, digits stay the same or grow from one cell to the next, starting at the bulb.",
    "Numbers outside the grid give the sum of the digits between the 1 and the 9, not including the 1 and the 9.",
    "Numbers outside the grid give the sum of the digits between the 1 and the 9 in that row or column.",
    "Box borders divide a blue line into parts; the digits in each part have the same sum.",
    "The signs of inequality are right, as are the numbers of visible buildings outside.",
    "A number outside is the sum of the digits from the 1 to the 9 going right or down, round the edge and on from the "
    "other side.",
    "A number outside is the sum of the digits from the 1 to the 9 going right or down, leaving the grid and coming in "
    "from the opposite side.",
])  # fmt: skip
def test_what_only_looks_like_it_is_not(sentence: str) -> None:
    assert not _asked(sentence)


@pytest.mark.parametrize(
    "sentence",
    ["Each cage has the same total.", "Cages of one colour have the same sum.", "The cages share one total."],
)
def test_that_totals_of_cages_are_equal_is_asked_about_and_never_talk(sentence: str) -> None:
    sheet = read_rules(f"{BASE} In a cage no digit repeats, and the number is its sum. {sentence}", (1, 9))
    assert sentence in sheet.not_understood and sentence not in sheet.idle
