"""Rules as other people put them: in a word or two, by what marks make of their cells, by what may be lost."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules
from tests.recognise.rules_score import kinds, surely

USUAL = "Each row, column and box holds the digits 1 to 9. "
ROWS = ["rows", "columns", "boxes"]


@pytest.mark.parametrize("text", [
    "Ground rules are unchanged (1 to 9 in row, column, box).",
    "As always one to nine.",
    "1-9 in each house.",
    "Each of 1, 2, 3, 4, 5, 6, 7, 8, 9 shows up in each row. Ditto columns. Ditto boxes.",
])  # fmt: skip
def test_usual_rules_in_a_word_or_two(text: str) -> None:
    assert sorted(surely(text)) == sorted(ROWS)


@pytest.mark.parametrize(("sentence", "kind"), [
    ("New this week: the anti-knight condition.", "knight-apart"),
    ("A pearl between cells makes them successive.", "consecutive-pair"),
    ("A knight's jump leads to another number.", "knight-apart"),
    ("Numbers between cells are sums.", "sum-pair"),
    ("If cells hold a black dot between them then their digits are as 1 to 2.", "ratio-pair"),
    ("Cages are labelled with their sums.", "cage"),
    ("Numbers at the head or the left give the sum from 1 to 9, the two themselves excluded.", "sandwich"),
    ("Arrows sum to their bulbs. A bulb of two cells gives a number with two parts.", "arrow"),
    ("Brown ropes sum to their ticket.", "sum-line"),
    ("Rope: the ticket is the sum of its cells.", "sum-line"),
    ("Tags: X-sums.", "x-sum"),
    ("Grey ribbon: turn it round and it spells the same.", "palindrome"),
])  # fmt: skip
def test_what_marks_make_of_their_cells(sentence: str, kind: str) -> None:
    assert surely(USUAL + sentence) == [*ROWS, kind]


@pytest.mark.parametrize("sentence", [
    "Nine numerals in each row, column and square.",
    "Plum lines have digits lying between the bookends.",
    "Strings with a ring at either end: beads in between have values between the two rings'.",
])  # fmt: skip
def test_what_only_seems_to_present_marks_may_state_what_they_mean(sentence: str) -> None:
    sheet = read_rules(sentence, (1, 9))
    assert sheet.statements and sheet.unsure and not sheet.not_understood


def test_clues_that_run_past_the_edge_are_never_taken_for_straight_ones() -> None:
    between = "A margin number is the sum of the digits between the 1 and the 9"
    (*_, wrapped) = read_rules(f"{USUAL}{between}, reading on from the 1 and round the end if need be.").statements
    assert wrapped.fields["wrap"] is True
    assert "sandwich" not in surely(f"{USUAL}{between}, reading on round the end if need be.")
    assert "sandwich" in surely(f"{USUAL}{between}.")


@pytest.mark.parametrize("sentence", [
    "Frames tolerate repeats.", "Repeats in frames are all right.", "A frame may have the same digit twice.",
])  # fmt: skip
def test_cages_that_tolerate_repeats_have_them(sentence: str) -> None:
    (*_, cage) = read_rules(f"{USUAL}The digits in a dashed frame add up to the small number. {sentence}").statements
    assert cage.fields["repeats"] is True


@pytest.mark.parametrize("sentence", [
    "Twins are banned in cages as well.", "Inside a cage a digit is used once only.",
])  # fmt: skip
def test_cages_in_which_twins_are_banned_have_none(sentence: str) -> None:
    (*_, cage) = read_rules(f"{USUAL}The digits in a dashed cage add up to the small number. {sentence}").statements
    assert cage.fields["repeats"] is False


@pytest.mark.parametrize(
    "sentence", ["(Missing dots are no clue.)", "Not all sums have dots.", "Missing dots prove nothing."]
)
def test_marks_that_are_missing_prove_nothing(sentence: str) -> None:
    sheet = read_rules(f"{USUAL}Digits joined by a white dot add up to 7. {sentence}", (1, 9))
    assert [s.negated for s in sheet.statements if s.kind == "all-marked"] == [True]


def test_totals_that_are_lost_are_no_rule() -> None:
    text = f"{USUAL}In a dashed loop the digits differ and add up to the small number. One loop lost its total."
    assert not read_rules(text, (1, 9)).not_understood


def test_repeats_that_nothing_forbids_are_no_question() -> None:
    line = "Green line: its digits add up to the number in the green tab at its beginning."
    assert not read_rules(f"{USUAL}{line} They may repeat.", (1, 9)).not_understood


def test_regions_of_other_shapes_stand_in_for_boxes() -> None:
    text = "There are no boxes here; instead the crooked regions each take 1-9, as does every row and column."
    assert kinds(text) == ROWS
    assert kinds("There are no boxes here. Every row and column takes 1-9.") == ["not boxes", "rows", "columns"]


@pytest.mark.parametrize("sentence", ["In a yellow area nothing is repeated.", "Lilac fields: all digits different."])
def test_regions_without_repeats_need_not_be_full(sentence: str) -> None:
    (*_, region) = read_rules(USUAL + sentence).statements
    assert region.kind == "extra-region" and region.fields["partial"] is True


def test_numbers_in_discs_are_their_ratios() -> None:
    text = "A disc bearing the figure 2 or 3 means that one digit is two times, or three times respectively, the other."
    (*_, ratio) = read_rules(USUAL + text).statements
    assert ratio.fields == {"ratio": "printed"}


def test_what_more_than_presents_marks_stays_surely_heard() -> None:
    line = "Two circles on a line - the digits on the line have values between (and not equal to) those in the circles."
    assert surely(USUAL + line) == [*ROWS, "between-line"]


@pytest.mark.parametrize("rest", ["as in puzzle 3", "as for the first grid", "from the page before"])
def test_rules_that_are_those_of_another_puzzle_are_never_surely_the_usual_ones(rest: str) -> None:
    assert surely("The ground rules remain the same.") != []
    assert surely(f"The ground rules remain the same {rest}.") == []


def test_double_rings_are_of_two_cells_only_where_a_number_is_in_them() -> None:
    (*_, even) = read_rules(f"{USUAL}A double ring holds an even digit.").statements
    assert (even.kind, even.mark.shape) == ("even", "circle")
    arrow = "The digits along an arrow add up to the number in its ring. A double ring holds a two-digit number."
    assert read_rules(USUAL + arrow).statements[-1].fields["pill"] is True


@pytest.mark.parametrize(("text", "stated"), [
    ("Two cells joined by a ×2 hold digits of which one is twice the other.", "ratio-pair"),
    ("A red number is the sum of the two cells beside it.", "sum-pair"),
    ("The number in a kite is the two numbers next to it, added together.", "sum-pair"),
    ("Where you see a red 6 or 9, the cells sum to that.", "sum-pair"),
    ("A black spot: twice.", "ratio-pair"),
    ("Numbers on a grey line are inside the range given by its discs.", "between-line"),
    ("Green snakes are made of neighbouring values, which need not stand in order.", "run-line"),
    ("Add the digits on each purple line to get its total, which is in the first cell.", "sum-line"),
    ("The flag on a worm is the sum of all the squares that the worm lies in, its head and its tail too.", "sum-line"),
    ("Arrows add to their circle. In a two-cell circle the left one is the tens and the right one the units.", "arrow"),
    ("A figure outside is the sum of everything between the one and the nine of that row or column.", "sandwich"),
    ("The outlined area has every digit once.", "extra-region"),
    ("I have drawn a dashed green pantry of nine cells. It too has every digit from 1 to 9.", "extra-region"),
    ("Grey cells hold even digits, and 0 counts as even.", "even"),
])  # fmt: skip
def test_what_marks_say_by_numbers_flags_and_fields(text: str, stated: str) -> None:
    sheet = read_rules(USUAL + text)
    assert surely(USUAL + text) == [*ROWS, stated] and not sheet.not_understood


@pytest.mark.parametrize("text", [
    "Two cells joined by a ×2 never hold digits of which one is twice the other.",
    "A red number is one more than the sum of its two neighbours.",
    "A red number is the sum of its four neighbours.",
    "Digits on a grey line are outside the range given by its discs.",
    "Blue sausages hold digits that follow one another with a hole, shuffled any way you like.",
    "The flag on a worm is the sum of all the squares that the worm lies in, without its head.",
    "The outlined area has every digit twice.",
    "Grey cells hold even digits, and 0 counts as odd.",
])  # fmt: skip
def test_the_same_a_word_away_is_asked_about(text: str) -> None:
    sheet = read_rules(USUAL + text)
    assert sheet.unsure or sheet.not_understood


@pytest.mark.parametrize("sentence", [
    "If no dot is there, they may or may not be.",
    "Where no dot stands, the digits can be consecutive or not.",
    "Pairs of this kind without a dot exist, too.",
    "There are other such neighbours that have not been joined.",
    "A border without a dot states nothing.",
    "We did not put in every dot there is.",
])  # fmt: skip
def test_where_no_mark_is_anything_may_be(sentence: str) -> None:
    text = f"{USUAL}Cells with a white dot between them hold consecutive digits. {sentence}"
    told = read_rules(text)
    assert not told.unsure and not told.not_understood
    assert [s.negated for s in told.statements if s.kind == "all-marked"] == [True]


@pytest.mark.parametrize(("sentence", "binds"), [
    ("One pen has no number: different digits, any total.", False),
    ("Where the small number is missing, the total is for you to find out.", False),
    ("Where no number stands in the corner, nobody counted.", False),
    ("One cage keeps its sum to itself.", False),
    ("Some squares are in no pen.", False),
    ("One cage has no number: that sum is 10.", True),
    ("Where the small number is missing, the total is 15.", True),
    ("Some squares are in two pens.", True),
])  # fmt: skip
def test_cages_without_a_number(sentence: str, binds: bool) -> None:
    sheet = read_rules(f"{USUAL}In a cage all digits differ and sum to the small number. {sentence}")
    assert bool(sheet.unsure or sheet.not_understood) is binds


SIGNS = "+ means: add all the numbers in the frame. − means: take the smaller from the larger."


@pytest.mark.parametrize("permission", [
    "A number can be used twice in one frame when the rules above allow it.",
    "In a frame the same digit may be used more than once if it isn't in the same row, column, box or diagonal.",
    "4. A number can be used twice in one frame when the rules above allow it.",
])  # fmt: skip
def test_signs_told_one_by_one_and_repeats_in_frames(permission: str) -> None:
    sheet = read_rules(f"{USUAL}A thick dark frame is a little sum. {SIGNS} {permission}")
    (cage,) = [s for s in sheet.statements if s.kind == "cage"]
    assert cage.fields == {"operation": "printed", "repeats": True} and not sheet.unsure and not sheet.not_understood


def test_what_is_worked_out_in_it_is_a_cage_whatever_it_is_called() -> None:
    text = "Numbers in the accounts: result of the calculation with the sign shown. Numbers may repeat in an account."
    (cage,) = [s for s in read_rules(USUAL + text).statements if s.kind == "cage"]
    assert cage.fields["repeats"] is True


@pytest.mark.parametrize(("before", "asked"), [
    ("Numbers outside add up the diagonal at which the arrow points.", False),
    ("Equal digits are never a knight's move apart.", True),
])  # fmt: skip
def test_they_may_repeat_takes_back_what_is_told_of_cells(before: str, asked: bool) -> None:
    sheet = read_rules(f"{USUAL}{before} They may repeat.")
    assert bool(sheet.not_understood) is asked
    line = read_rules(f"{USUAL}Digits on a purple line add up to the number at its start. They may repeat if "
                      "nothing else forbids it. In a cage digits differ and sum to the small number.")  # fmt: skip
    assert not line.not_understood and not line.unsure


@pytest.mark.parametrize("text", [
    "Grey thermometers increase from the bulb. Some bulbs are missing.",
    "Arrows: the digits sum to the circle. Few allow repeats.",
    "Arrows: the digits sum to the circle. Arrow tips are odd.",
    "Cages sum to their number and have no repeats. The blue cages may repeat digits.",
    "Cages sum to their number; equal sums have the same digits.",
    "Green lines: neighbours differ by 5 or more, also across the ends.",
    "Signs point to the smaller digit in white cells and to the larger one in grey ones.",
    "No digit repeats in a yellow area. The yellow areas have the same digits.",
    "The main diagonal has all digits; the other one has only four different ones.",
    "The usual rules apply in eight of the nine boxes.",
    'A "×2" on a border: the left number is double the right.',
])  # fmt: skip
def test_what_takes_something_back_is_never_silent(text: str) -> None:
    sheet = read_rules(USUAL + text)
    assert sheet.unsure or sheet.not_understood
