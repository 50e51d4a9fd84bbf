"""What papers print beside rules: prizes, dates, ways to begin, legends, one clue for all of them."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules
from tests.recognise.rules_score import kinds, surely

USUAL = "Place the digits 1 to 9 once in every row, column and box. "
ROWS = ["rows", "columns", "boxes"]


@pytest.mark.parametrize("sentence", [
    "To enter, text the word GRID with the two digits in the marked cells to 5520; calls cost 40p.",
    "The grey squares, read from left to right, are your competition number.",
    "Employees may not take part.",
    "Send the digits of the middle row to the Press by 15 March 1931.",
    "Look at the short diagonals first: a 3 on two cells is 1 and 2.",
    "Start with the long arrow in box 2: it can only hold small digits.",
    "Symbols used.",
    "All the possible sums are not given.",
    "Some cages have kept their totals secret.",
    "Nothing herein shall be construed to forbid the repetition of digits upon an arrow.",
    "Is that all? No.",
    "Subscriptions are now due.",
    "Answers upside down at the bottom.",
    "4. Time allowed: 30 minutes.",
    "Copies of back numbers can be had from the librarian.",
    "Bring the raffle tickets to our next meeting.",
])  # fmt: skip
def test_what_a_paper_says_beside_its_rules_is_no_question(sentence: str) -> None:
    sheet = read_rules(USUAL + sentence)
    assert surely(USUAL + sentence) == ROWS
    assert not (sheet.unsure or sheet.not_understood)


@pytest.mark.parametrize("sentence", [
    "Start with the smallest digit of each line: it is odd.",
    "The prize squares are odd.",
    "The digits on an arrow sum to the circle. None comes twice.",
    "Start with the 1 of each line: it is never at an end.",
    "Nothing forbids the repetition of digits in a box.",
    "A 17 outside means that the digits between 1 and 9 do not have the sum 17.",
])  # fmt: skip
def test_what_may_bind_something_beside_them_is_one(sentence: str) -> None:
    sheet = read_rules(USUAL + sentence)
    assert sheet.unsure or sheet.not_understood


@pytest.mark.parametrize(("sentence", "told"), [
    ("A 17 outside means that the digits between 1 and 9 have the sum 17, say 8, 7 and 2.", ["sandwich"]),
    ("The margin names the sum of all digits that are included by the 1 and the 9.", ["sandwich"]),
    ("Let n be the first digit; then the first n cells sum to the number outside.", ["x-sum"]),
    ("A tag outside the grid points at a row or column. It counts the towers seen.", ["skyscraper"]),
    ("An arrow's digits make the digit at its root.", ["arrow"]),
    ("A red sign opens towards the larger of its two digits.", ["greater"]),
    ("Lines have a diamond at either end: what stands on the line lies between the diamonds.", ["between-line"]),
    ("And the yellow lines? Their digits are consecutive in any order. None comes twice.", ["run-line"]),
    ("In the whole grid, two neighbours are never consecutive: beside a 4 there is neither a 3 nor a 5.",
     ["neighbours-not-consecutive"]),
    ("Black dots: double. The compositor has put in all such dots, so where there is none, neither figure doubles its "
     "neighbour.", ["ratio-pair", "all-marked"]),
    ("○ consecutive. ● double.", ["consecutive-pair", "ratio-pair"]),
    ("● White dots are consecutive. ○ Black dots are double.", ["consecutive-pair", "ratio-pair"]),
])  # fmt: skip
def test_what_strangers_tell_in_their_own_way(sentence: str, told: list[str]) -> None:
    sheet = read_rules(USUAL + sentence)
    assert surely(USUAL + sentence) == [*ROWS, *told]
    assert not (sheet.unsure or sheet.not_understood)


@pytest.mark.parametrize(("sentence", "kind"), [
    ("The anchor cells contain only even digits.", "even"),
    ("A cell with a star in it holds an even digit.", "even"),
    ("Where a cell has a cross in it, the digit is even.", "even"),
    ("Cells with rounded corners hold odd digits.", "odd"),
    ("Hexagons hold even digits.", "even"),
    ("A tick in a cell stands for an odd digit.", "odd"),
    ("The digits in a diamond must all appear among the four cells around it.", "corner-digits"),
    ("The digits along a blue line add up to the number in the flag at its start.", "sum-line"),
])  # fmt: skip
def test_marks_of_a_setters_own(sentence: str, kind: str) -> None:
    assert surely(USUAL + sentence) == [*ROWS, kind]


@pytest.mark.parametrize("sentence", [
    "The corner cells contain only even digits.",
    "A cell with a star in it holds an even digit or a 9.",
    "Hexagons hold even digits, triangles odd ones or 2.",
    "A star in a cell stands for a neighbour that is odd.",
])  # fmt: skip
def test_the_same_a_word_away_is_asked_about(sentence: str) -> None:
    sheet = read_rules(USUAL + sentence)
    assert sheet.unsure or sheet.not_understood


def test_the_colour_of_what_stands_between_cells_is_no_tint() -> None:
    sheet = read_rules(
        USUAL + "A number in a hexagon is the sum of the two digits beside it. A black triangle between two cells: one "
        "digit is double the other. Not all hexagons and triangles are given."
    )
    assert not (sheet.unsure or sheet.not_understood)
    assert [s.mark.shape for s in sheet.statements if s.kind == "ratio-pair"] == [""]


def test_a_tinted_region_is_one_beside_diagonals_too() -> None:
    assert kinds("1–9 once in rows, columns, boxes, grey regions and on both diagonals.") == [
        *ROWS,
        "extra-region",
        "diagonal",
    ]


def test_the_number_of_a_puzzle_goes_on_with_its_sentence() -> None:
    assert "knight-apart" not in surely(USUAL + "Puzzle no. 5 is a knight puzzle.")


@pytest.mark.parametrize("sentence", [
    "Arrow digits sum to twice the circle.",
    "Every cage sums to the same total.",
    "A white dot means the digits are consecutive and the left one is larger.",
    "The two circles of a line hold the same digit, and the digits between are smaller.",
    "Blue lines: the digits in each box are the same.",
    "Neighbours differ by at least 2 in rows.",
    "Neighbours in a column are not consecutive.",
    "The diagonal has three equal digits.",
    "No row equals a column.",
    "The same cell in each box never holds the same digit.",
    "Each digit stands once in the top left of a box.",
    "A letter stands for the same digit everywhere.",
    "Digits grow along a thermometer, then stay.",
    "A cage's number is the sum of its corners.",
    "The line is the same as another one backwards.",
    "Whispering lines: the sum of two neighbours is at least 5.",
    "Outside: the sum of digits next to the 1 and the 9.",
    "Outside: the number of digits that are larger than the one before.",
    "Corner digits: each occurs exactly once in the four cells.",
    "Circles are odd in columns.",
    "A circle is odd if its row is.",
    "In grey areas all digits are equal.",
    "Where two lines cross stands a 9.",
    "In the corner of a patch is a sum. With + the numbers in the patch and around it add up to it.",
    "Beside a 4 there is always a 3 or a 5.",
    "Each sign opens towards the cell with more neighbours.",
    "Let n be the last digit; then the first n cells sum to the number outside.",
    "Lines have a diamond at either end: digits on the line are larger than the diamonds.",
    "Red 2: one digit is two more than the other.",
])  # fmt: skip
def test_a_rule_of_no_kind_is_never_taken_for_one_of_ours_nor_for_talk(sentence: str) -> None:
    sheet = read_rules(USUAL + sentence)
    assert sheet.unsure or sheet.not_understood


@pytest.mark.parametrize(("sentence", "kind"), [
    ("Neighbours in a row or column are not consecutive.", "neighbours-not-consecutive"),
    ("In each box that a blue line crosses its digits have the same sum.", "box-sum-line"),
    ("A number in the top left of a cage is the sum of its digits.", "cage"),
    ("From the bulb on each digit is larger than the one before.", "thermometer"),
    ("A circle is odd.", "odd"),
])  # fmt: skip
def test_ours_in_nearly_the_same_words_is_understood(sentence: str, kind: str) -> None:
    assert surely(USUAL + sentence) == [*ROWS, kind]


PATCHES = (
    "In the corner of a patch is a result and a sign. With + the numbers in the patch add up to the result; with × "
    "they multiply to it; with − (two cells) the larger minus the smaller is the result. A patch may hold the same "
    "number more than once as long as Task 1 allows it. White cells belong to no patch."
)


@pytest.mark.parametrize(("text", "fields"), [
    (PATCHES, {"operation": "printed", "repeats": True}),
    ("Broken lines enclose groups of cells. The boxed figure is the group's total. Within a group all digits differ.",
     {"operation": "sum", "repeats": False}),
])  # fmt: skip
def test_cages_by_the_word_that_a_text_has_for_them(text: str, fields: dict[str, object]) -> None:
    sheet = read_rules(USUAL + text)
    assert not (sheet.unsure or sheet.not_understood)
    assert [s.fields for s in sheet.statements if s.kind == "cage"] == [fields]


def test_a_sign_by_itself_that_is_told_the_wrong_way_is_asked_about() -> None:
    sheet = read_rules(USUAL + PATCHES.replace("the larger minus the smaller", "the smaller minus the larger"))
    assert sheet.unsure or sheet.not_understood


@pytest.mark.parametrize(("text", "told"), [
    ("A lozenge marked 8 on the wall between two cells: the pair amount to eight. Other pairs may amount to eight "
     "without any lozenge to proclaim it.", ["sum-pair"]),
    ("Red 2: one digit is twice the other.", ["ratio-pair"]),
    ("A dark bead: twice. Beads are not obligatory.", ["ratio-pair"]),
    ("Every cage is a small calculation: the sign tells which, the number tells the answer.", ["cage"]),
    ("The thick borders chop each blue ribbon up; add up the pieces one by one and the answer is the same each time.",
     ["box-sum-line"]),
    ("The digits of a label are in the four cells around it. If a digit is listed twice, it appears at least twice.",
     ["corner-digits"]),
    ("Side tags: let N be the digit in the cell next to the tag. The N cells nearest the tag sum to the tag.",
     ["x-sum"]),
    ("The digits of a line are a run of numbers, jumbled, such as 5-3-6-4. None comes twice.", ["run-line"]),
])  # fmt: skip
def test_what_other_strangers_tell(text: str, told: list[str]) -> None:
    sheet = read_rules(USUAL + text)
    assert [s.kind for s in sheet.statements if not s.negated] == [*ROWS, *told]
    assert not (sheet.unsure or sheet.not_understood)


@pytest.mark.parametrize("sentence", [
    "A cage sums to its number. If a digit is listed twice, it appears at most once.",
    "Other pairs may not amount to eight without a lozenge.",
])  # fmt: skip
def test_what_takes_more_than_it_gives_is_asked_about(sentence: str) -> None:
    sheet = read_rules(USUAL + sentence)
    assert sheet.unsure or sheet.not_understood


def test_rows_columns_and_boxes_that_only_a_region_is_like_are_told() -> None:
    told = "The grey region has the digits 1 to 9, like every row, column and box."
    assert sorted(surely(told)) == sorted([*ROWS, "extra-region"])
    sheet = read_rules("The grey region has the digits 1 to 9, unlike every row.")
    assert sheet.unsure or sheet.not_understood


@pytest.mark.parametrize("mark", ["Black diamond", "Black dot"])
def test_a_sentence_that_its_neighbour_takes_in_is_not_lost(mark: str) -> None:
    # The pattern of the one mark lets lines, squares and digits stand beside it, and so took the other rule in.
    sheet = read_rules(
        f"{USUAL}A line between two squares: every digit on it lies strictly between the digits in the squares. "
        f"{mark}: one digit is twice the other."
    )
    assert sheet.unsure or sheet.not_understood or "between-line" in [s.kind for s in sheet.statements]


def test_lines_may_end_in_squares() -> None:
    told = "On a line between two squares, every digit lies strictly between the digits in the squares."
    assert surely(USUAL + told) == [*ROWS, "between-line"]


def test_tall_boxes_are_boxes() -> None:
    assert (
        surely("Members will place the digits 1 to 9 so that no row, no column and no tall box repeats a digit.")
        == ROWS
    )
