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


def test_a_tinted_region_is_one_beside_diagonals_too() -> None:
    assert kinds("1–9 once in rows, columns, boxes, grey regions and on both diagonals.") == [
        *ROWS,
        "extra-region",
        "diagonal",
    ]


def test_the_number_of_a_puzzle_goes_on_with_its_sentence() -> None:
    assert "knight-apart" not in surely(USUAL + "Puzzle no. 5 is a knight puzzle.")
