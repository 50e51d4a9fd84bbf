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
    "Grey lines are palindromes. Use 0-8 instead of 1-9 on the lines.",
    "Digits in cages sum to the number shown, where 1 is worth 11.",
    "Digits in cages sum to the number shown in Roman figures.",
    "All 5s stand on tinted cells.",
    "Tinted cells hold every odd digit.",
    "White dots join consecutive digits. 1 and 9 are consecutive too.",
    "White dots join consecutive digits. 9 is consecutive to 1.",
    "Grey squares hold the same digit.",
    "The tinted cells hold the same digit as one another.",
    "Arrows: digits sum to the circle. All circles hold the same digit.",
    "Digits rise from the bulb. The digits in the bulbs are consecutive.",
    "Digits in cages sum to the number shown. The cages' numbers are all different.",
    "Cages without a number hold different digits; those with one may repeat digits and sum to it.",
    "Blue lines: box borders divide the line into parts with the same digits.",
    "Pink lines: the digits can be put into order so that each differs from the next by two.",
    "Along a green line neighbours differ by at least five, and so do its ends.",
    "Red thermometers rise, blue thermometers fall from the bulb.",
    "A dot means consecutive if white, double if black, and either if grey.",
    "Number outside: the sum of digits between 1 and 9 in either the row or the one below.",
    "Number outside: the sum of the diagonal it points along or of the other one.",
    "Number outside: the sum of the digits from the 1 on to the 9, wrapping round, the longer way.",
    "Number outside: the sum of digits between 1 and 9; a zero means nothing is known.",
    "X: sum over 10. V: sum under 5.",
    "X between two cells means they sum to 10 together with the next one.",
    "The number in the corner of a cage is the sum of the digits around the cage.",
    "Black dot: one digit is double the other, or 3 times.",
    "Black dots join digits in the ratio 1:2, the double always below or to the right.",
    "The number in a cage is what its sign makes of its digits. With - take the larger from the smaller.",
    "The wide end of a sign is where the smaller digit is.",
    "The digits in a circle at a corner all appear in the four cells around it, in opposite corners.",
    "Grey lines read the same both ways, in pairs.",
    "Green lines: neighbours differ by 5 or more, alternating up and down.",
    "Neighbours across a thick border never hold consecutive digits.",
    "Both diagonals hold the digits 1 to 9 in order.",
    "Every 2x2 square holds an even digit.",
    "The centre box is free.",
    "Box 5 holds only eight of them.",
    "From bulb to tip digits grow or stay the same, at most once.",
    "An arrow's circle is the sum of what the arrow points at.",
    "On a line with circles the digits in the circles are between the others.",
    "Cage: digits sum to the number, or it is their product.",
    "Cage: no digit of it repeats in another cage.",
    "Cage: the number gives the sum of its corner cells.",
    "Cage: digits sum to the number and must contain its first digit.",
    "A black dot: one is the double of the other or its square.",
    "A black dot: both are even.",
    "Letters: X is ten, V is five, L is fifteen.",
    "Corner circles: its digits are in exactly two of the four cells.",
    "Towers: numbers outside count those hidden, taller ones hide lower ones.",
    "Between the 1 and the 9 lies the sum told outside, and the 5 too.",
    "Neighbours in a row are never consecutive, but in columns they may.",
    "Blanks allowed.",
    "Rows are all different from each other.",
    "Each row is a permutation of the row above.",
    "Arrow circles equal the sum of digits on all arrows.",
    "The arrow's digits sum to the units digit of the circle.",
    "Two cells in an oval: their sum is the sum of the arrow.",
    "Dashed cages with the same number hold different digits.",
    "White circle between cells: 1 apart. Half of them are given.",
    "V: sum is 5, X: sum is 10, both: sum is 15.",
    "Wedges open towards the larger digit in rows and towards the smaller in columns.",
    "Shaded squares: even, each different in its column.",
    "Shaded squares are even in total.",
    "Coloured areas: the digits are all different or all equal.",
    "Coloured areas: two of each digit.",
    "Outside: how many houses can be seen from left; from right, how many cannot.",
    "Outside with arrow: sum of the diagonal and of the one beside it.",
    "No digit meets itself by a knight's leap over a border.",
    "No digit meets itself by a king's step in the tinted area.",
    "Tint: cells of one tint hold equal digits.",
    "Thermo: read from the bulb, every other digit rises.",
    "Line: two cells next to one another are at least three apart, measured round the clock.",
    "Line with two rings: digits between them are larger than both.",
    "Dots: white is 1 apart with the larger on the right.",
    "Dots: white is 1 apart, black is anything else.",
    "Number on an edge: sum of the two cells on its left.",
    "Grey square: the digit is even or its cell is.",
    "Grey square: every even digit of the middle box.",
    "Round cell: its digit is odd and unlike that in any other round cell.",
    "Margin: towers seen from there, where equal heights hide one another.",
    "Margin: towers seen from there; a tower also hides those on its left.",
    "Arrow: shaft digits add up to the circle, where circles hold the digit doubled.",
    "Arrow: shaft digits add up to the circle's neighbour.",
    "Diagonal: each digit once on one of them.",
    "The digits along an arrow are added in pairs and give the digit in its circle.",
])  # fmt: skip
def test_rules_a_word_away_from_ours_are_asked_about(sentence: str) -> None:
    assert _asked(sentence)


@pytest.mark.parametrize("text", [
    "Rows hold 1-9. Columns are free.",
    "Place 1 to 9 in every row, column and box, but use 0 for 9.",
    "Place the digits 2 to 9 and 1 extra digit in each row, column and box.",
    "Fill in 1 to 9 once in every row, column and box, reading 6 as 9 where you like.",
    "Each row and column: 1-9 each. Each box has one digit only once.",
    "Each row, column, box: 1-9 but in row 1 a letter.",
])  # fmt: skip
def test_usual_rules_a_word_away_from_ours_are_asked_about(text: str) -> None:
    sheet = read_rules(text, (1, 9))
    assert sheet.not_understood or sheet.unsure


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


@pytest.mark.parametrize("condition", [
    "as long as they do not share a row, column or diagonal",
    "as long as they do not share a row, column, box or cage",
    "if they do not share a row, column or box and do not touch",
    "provided they never stand in one row, one column or one box next to each other",
    "where the cage is grey",
    "provided that the cage is tinted",
])  # fmt: skip
def test_repeats_with_a_condition_of_their_own_are_asked_about(condition: str) -> None:
    assert _asked(f"Digits in a cage sum to its number. Digits may repeat in a cage {condition}.")
    assert not _asked("Digits in a cage sum to its number. Digits may repeat in a cage if the rows allow it.")


@pytest.mark.parametrize(
    "sentence",
    ["Each cage has the same total.", "Cages of one colour have the same sum.", "The cages share one total."],
)
def test_that_totals_of_cages_are_equal_is_asked_about_and_never_talk(sentence: str) -> None:
    sheet = read_rules(f"{BASE} In a cage no digit repeats, and the number is its sum. {sentence}", (1, 9))
    assert sentence in sheet.not_understood and sentence not in sheet.idle


@pytest.mark.parametrize("sentence", [
    "Digits rise from the bulb, one by one.",
    "Digits rise along a thermometer, first slowly, then fast.",
    "Digits rise along a thermometer by the bulb digit each step.",
    "Reading from the bulb, digits increase; reading back they do too.",
    "Digits in a cage add up to the number given, in either of two ways.",
    "Digits in a cage are different, or they sum to the number.",
    "Digits in a cage are different, and so are digits in cages that touch.",
    "The number in a cage is the product of its digits; ones are left out.",
    "Digits along the arrow add up to the digit in the circle, counting the circle.",
    "Two cells joined by a black dot are in ratio 2:3.",
    "Two cells with an X between sum to ten together with the cell to the right.",
    "X: sum 10. V: sum 5. Other neighbours never sum to 5, but may sum to 10.",
    "Shaded cells hold even digits, later odd ones.",
    "Both long diagonals hold 1 to 9, together.",
    "A number outside is the sum of the digits between 1 and 9, in either the row or the column.",
    "A palindrome line reads the same in both directions, and so do all rows.",
    "A palindrome line has equal digits at its ends.",
    "Along a green line neighbours differ by at least 5 in total.",
    "A blue line sums to the same in every box as the number of its cells.",
    "A circle on a corner holds digits that appear around it, in any but the upper left cell.",
    "A number between two cells is the sum of all digits between them.",
])  # fmt: skip
def test_how_often_how_fast_and_with_what_besides_make_another_rule(sentence: str) -> None:
    assert _asked(sentence)


@pytest.mark.parametrize("places", [
    "most rows, columns and boxes",
    "every other row, column and box",
    "each row, column and box in order",
    "every row, column and box, 5 only in rows",
    "every row, column and box, using each twice",
    "every row, column and box, and each row of boxes adds up to 135",
])  # fmt: skip
def test_usual_rules_in_other_places_are_asked_about(places: str) -> None:
    sheet = read_rules(f"Place the digits 1 to 9 in {places}.", (1, 9))
    assert sheet.not_understood or sheet.unsure


@pytest.mark.parametrize("sentence", [
    "Both long diagonals hold no digit twice, and so does every row, column and box.",
    "Digits rise from the bulb, each digit being used once in its row.",
    "A blue line has the same sum in every box as in every other box that it passes through.",
])  # fmt: skip
def test_what_is_said_of_how_often_and_what_besides_is_heard_where_it_is_ours(sentence: str) -> None:
    assert not _asked(sentence)


@pytest.mark.parametrize("sentence", [
    # Several marks together, and other pairs than neighbours.
    "Where several arrows leave one circle, together they sum to it.",
    "The long diagonals together hold every digit twice.",
    "Any two digits on a green line differ by at least two.",
    "On a green line digits two cells from each other differ by at least five.",
    "Two up and two across from a digit you will not find it again.",
    "The digits in a cage must be different from each other and from those in the touching cages.",
    "Purple lines read from left to right as the blue lines read from right to left.",
    "The digits of a purple line mirror those of the green line.",
    # Which of two it is, and where.
    "Black dots: the digit on the left is twice that on the right.",
    "Tubes have a bulb at the higher end.",
    "Thermometers rise from the bulb. Which end is the bulb is for you to discover.",
    "The round ends have been left off the thermometers; digits rise from one end to the other.",
    "Thermometers rise from the bulb. Cold ones (blue) work the other way.",
    "Somewhere along a green line the digit changes by five at the least.",
    "The total of an arrow is in the circle at the end it points to.",
    "What stands in the rings at the ends of a line is between the digits on it.",
    "An arrowhead in a cell points to all cells with greater digits.",
    # What is added, and to what.
    "The numbers beside the grid tell the sum of the 1 and the 9 and all between them.",
    "The number beside a line is the sum of X digits somewhere in it, X being the first.",
    "A number outside is the sum of the first X digits, X being the first. The X itself is not added.",
    "Two-cell circles hold a number read from right to left, which the arrow's digits sum to.",
    "In circles of two cells, the two digits are added, and the arrow's digits sum to the result.",
    "The blue line sums to the same as the rest of each box.",
    "Blue lines sum to the same in each box. This sum is the same for all of them.",
    "Every cage has either the sum or the product given.",
    "The small number is the sum of the digits in the cage, each digit taken only once.",
    "The digits on an arrow sum to the digit in the circle plus the digit in the tip.",
    "The digits on an arrow sum to a digit next to the circle.",
    "Outside numbers are the sums of digits between 1 and 9, or of those outside them.",
    "Blue lines have the same sum in every other box.",
    # Two ways at once.
    "Thermometers rise from their bulbs in the columns and fall in the rows.",
    "The bulb of one thermometer is the tip of the next.",
    "Purple lines are palindromes or thermometers; you decide.",
    "X for a sum of ten, V for a sum of five, and both letters together for fifteen.",
    "Black dots: one digit is double the other. Doubling takes you down or right.",
    "The diagonals contain each digit once between their ends.",
    "Outside numbers count the digits that are larger than their left neighbour.",
    # How far, and how many.
    "Digits on a thermometer are all greater than its bulb.",
    "The mercury never drops by more than one from the bulb to the tip.",
    "Cells with a grey square are even, and all even digits have a grey square.",
    "Shaded cells are even. No two of them in a row are equal.",
    "Where a ring with digits stands on a crossing, look for these digits round it: one of them is there.",
    "Pink lines hold consecutive digits. They turn up in order on one of them.",
])  # fmt: skip
def test_of_which_marks_cells_and_sums_a_rule_speaks_makes_another_of_it(sentence: str) -> None:
    assert _asked(sentence)


@pytest.mark.parametrize("sentence", [
    "Digits in a cage together sum to the number in its corner.",
    "Any two neighbouring digits on a green line differ by at least five.",
    "Black dots join two cells of which one is twice the other.",
    "Along an arrow, digits sum to the number in the circle, read from left to right.",
    "Purple lines read the same from right to left as from left to right.",
    "Numbers beside the grid tell the sum of the digits between the 1 and the 9.",
    "Blue lines: the sum is the same in every box that the line passes through.",
    "Every cage has a sum or a product, as the sign beside its number says.",
    "Digits in a cage sum to its number, each digit used only once.",
    "Digits rise from the bulb of a thermometer to its other end.",
    "Thermometers: starting from the bulb, every digit has to be larger than the preceding one.",
    "Slow thermometers: from the bulb on, digits rise or stay the same, but never fall.",
    "Blue lines: the part of the line in one box has the same sum as its part in every other box.",
    "Cells with a grey square are even.",
])  # fmt: skip
def test_what_only_looks_like_another_mark_cell_or_sum_is_not(sentence: str) -> None:
    assert not _asked(sentence)


@pytest.mark.parametrize("sentence", [
    "Inside a grey cage digits may repeat.",
    "In each blue cage digits may be repeated.",
])  # fmt: skip
def test_repeats_in_cages_of_one_colour_after_cages_of_any_are_asked_about(sentence: str) -> None:
    assert _asked(f"Digits in a cage sum to the number in its corner. {sentence}")


def test_repeats_in_cages_of_the_colour_that_all_have_are_not() -> None:
    assert not _asked("Digits in a grey cage sum to the number in its corner. Digits may repeat in a grey cage.")
