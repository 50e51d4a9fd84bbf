"""Rules as people put them who write no rules every day: signs one by one, permissions, figures of speech."""

from __future__ import annotations

import pytest

from recognise.rules.moot import without_moot
from recognise.rules.reader import read_rules

USUAL = "Normal sudoku rules apply. "


def _told(text: str) -> list[tuple[str, dict[str, object]]]:
    """What a text states besides the usual rules; nothing may be asked."""
    sheet = read_rules(USUAL + text, (1, 9))
    assert not {*sheet.not_understood, *sheet.unsure}
    usual = {"rows", "columns", "boxes"}
    return [(s.kind, dict(s.fields)) for s in sheet.statements if s.kind not in usual and not s.negated]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            "The digits of a cage give, by the sign shown, the number in its corner. With − take the smaller from the "
            "larger, with ÷ divide the larger by the smaller.",
            [("cage", {"operation": "printed"})],
        ),
        (
            "A black spot on the wall between two cells: the two make six together. All such spots are shown.",
            [("sum-pair", {"value": 6}), ("all-marked", {"of": "sum-pair"})],
        ),
        ("ARROW: the three or four digits along it come to the digit in the ring.", [("arrow", {})]),
        ("Digits along a tube increase from the square reservoir.", [("thermometer", {"strict": True})]),
        ("Grey thermometers: go up and up, starting from the bulb end.", [("thermometer", {"strict": True})]),
        ("Mauve band: its digits, sorted, would count up without a hole, such as 3-4-5-6.", [("run-line", {})]),
        ("A buff band: digits read the same from either end, after the manner of the word NOON.", [("palindrome", {})]),
        (
            "Number on a knob between two cells = how many times the smaller digit goes into the larger: at a 2 one "
            "digit is double the other, at a 3 treble.",
            [("ratio-pair", {"ratio": "printed"})],
        ),
        (
            "A black spot between two cells: they make six together. If there is no spot on a wall, the two cells "
            "beside it do not make six.",
            [("sum-pair", {"value": 6}), ("all-marked", {"of": "sum-pair"})],
        ),
        (
            "A number beside a row is the sum of those digits in it which lie between the lowest digit, the 1, and the "
            "highest, the 9. The 1 and the 9 may come in either order and are not counted; 0 means that they touch.",
            [("sandwich", {})],
        ),
        (
            "The ticket on the end of a rope gives the sum of the numbers in all the holds that the rope goes through, "
            "the ticketed one with them.",
            [("sum-line", {})],
        ),
        ("A figure in a capsule on a border is the total of the two cells it joins.", [("sum-pair", {})]),
        ("A number on a disc between two cells is the sum of those two.", [("sum-pair", {})]),
        (
            "Where a black bar stands between two compartments, their numbers follow one upon the other, as 3 and 4. "
            "The printer has left out none of the bars: where there is none, the two numbers do NOT follow one upon "
            "the other.",
            [("consecutive-pair", {}), ("all-marked", {"of": "consecutive-pair"})],
        ),
        ("Cells with a square in them hold an even digit. The others can be even too!", [("even", {})]),
        ("The boxes are the grey and white squares.", []),
        ("Each of the white and tinted blocks holds the digits 1 to 9.", []),
        ("The striped cells form a tenth region.", [("extra-region", {})]),
        ("Figures that touch, sideways, up and down or by a corner, are never alike.", [("king-apart", {})]),
        ("Two cells that touch (corners count) always hold different digits.", [("king-apart", {})]),
        (
            "Numbers that follow each other (like 3 and 4) never sit side by side, nor one right above the other.",
            [("neighbours-not-consecutive", {})],
        ),
        ("Round cells contain odd digits; square cells may contain odd or even digits.", [("odd", {})]),
        ("Digits in rings leave one over when divided by two.", [("odd", {})]),
        ("If a cell is grey you may be sure its digit divides by two.", [("even", {})]),
        ("The cells shown in yellow take even values only (B is odd, A and C are even).", [("even", {})]),
        ("Neighbouring digits on a heavy line must differ by at least 4.", [("gap-line", {"gap": 4})]),
        (
            "The digits on a line have values strictly between those of the two digits in the lozenges at its ends.",
            [("between-line", {})],
        ),
        (
            "The number beside a row, or over a column, is the total of all figures lying between the 1 and the 9 in "
            "that row or column. A nought, for instance, tells you that the two stand next to each other.",
            [("sandwich", {})],
        ),
        (
            "Numbers in the outer cells: if the first digit seen from there is X, then the number is the sum of the "
            "first X digits in that direction.",
            [("x-sum", {})],
        ),
        (
            "The clue beside a row or above a column is the sum of the first so many digits from that side, so many "
            "being the first digit itself.",
            [("x-sum", {})],
        ),
        ("From the bulb on, the digits of a tube only ever rise.", [("thermometer", {"strict": True})]),
        ("Going along an arrow's shaft, the digits you pass sum to the digit in its round start.", [("arrow", {})]),
        ("A small ring encloses an odd digit.", [("odd", {})]),
        (
            "Two digits with an X between them sum to ten, two with a V sum to five.",
            [("sum-pair", {"value": 10}), ("sum-pair", {"value": 5})],
        ),
        ("Open circles mark cells with even digits (not every even cell is marked).", [("even", {})]),
        ("Cells with a wobbly circle in them want an odd digit.", [("odd", {})]),
        ("An open mouth always faces the larger number.", [("greater", {})]),
        ("The digits in a cage sum to its total. The total stands outside.", [("cage", {"operation": "sum"})]),
        (
            "The framed pieces bear a result and a sign. Combine all the digits of a piece with that sign to reach the "
            "result.",
            [("cage", {"operation": "printed"})],
        ),
        (
            "Digits on a thermometer rise from the bulb. One thermometer has two tips: both arms start at the same "
            "bulb and part company further up.",
            [("thermometer", {"strict": True})],
        ),
        (
            "A number outside is the sum of the digits from the 1 forward (right or down) to the 9, both left out. "
            "Should you run off the edge before, carry on from the other end of the same line.",
            [("sandwich", {"wrap": True})],
        ),
    ],
)
def test_what_strangers_say_of_marks_is_understood(text: str, told: list[tuple[str, dict[str, object]]]) -> None:
    assert _told(text) == told


@pytest.mark.parametrize(
    ("text", "repeats"),
    [
        (
            "Where cells are fenced off by a broken line, the small number in the top corner is the sum of the figures "
            "inside, and no figure may be used twice within one fence.",
            False,
        ),
        (
            "Add up the numbers in a pond and you get the little number. A number can't be in the same pond twice.",
            False,
        ),
        ("A dashed pen holds sheep that total its number. No two sheep in a pen have the same number.", False),
        ("Inside a dotted fence nobody is the same as anybody else, and all together make the little number.", False),
        (
            "Inside a dotted fence the numbers make the little number together; twins are welcome where the sudoku "
            "lets them.",
            True,
        ),
        (
            "Total the values in a cage and you get its number; nothing is repeated within a cage, whether it has a "
            "label or not.",
            False,
        ),
    ],
)
def test_repeats_in_cages_are_told_in_many_ways(text: str, repeats: bool) -> None:
    assert _told(text) == [("cage", {"operation": "sum", "repeats": repeats})]


@pytest.mark.parametrize(
    "text",
    [
        "White dots are consecutive, black dots are 1:2. Where there is no dot, neither relation holds.",
        "White dots are consecutive, black dots are 1:2. The absence of a dot rules out either relation.",
        "V: sum 5. X: sum 10. Where neither letter is printed, the two digits make neither 5 nor 10.",
        "V is five, X is ten, and where neither is printed neither is meant.",
    ],
)
def test_neither_relation_holds_where_neither_mark_is_printed(text: str) -> None:
    assert "all-marked" in {kind for kind, _ in _told(text)}


def test_nothing_is_told_of_pairs_that_may_make_anything() -> None:
    text = "V: sum 5. X: sum 10. Where neither letter is printed, the two digits may make anything."
    assert "all-marked" not in {kind for kind, _ in _told(text)}


def test_as_many_tinted_regions_as_rows_are_the_boxes() -> None:
    sheet = read_rules("Place 1 to 8 in each row, each column and each of the eight tinted regions.")
    assert {s.kind for s in sheet.statements} == {"rows", "columns", "boxes"}
    assert not {*sheet.not_understood, *sheet.unsure}


@pytest.mark.parametrize(
    "text",
    [
        "Please bring solutions to the October meeting.",
        "Nothing in the diagram marks this, and the solver is asked to keep it in mind throughout.",
        "Four glass thermometers have been hung on the wall.",
    ],
)
def test_what_is_said_to_the_reader_binds_nothing(text: str) -> None:
    assert _told(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "The small number is what the outside cells of the cage add up to.",
        "Multiply the biggest and the smallest number in a dashed box and out comes the tiny number.",
        "In a dashed box of two, the tiny number is what the two numbers make side by side.",
        "Nobody in a cage is the same as anybody in its neighbouring cage; digits in a cage sum to its number.",
        "White dots mark consecutive digits. Exactly three dots are missing.",
        "Digits on each thermometer increase from either the bulb or the tip.",
        "Digits in a cage sum to the same as the digits in the cage of its colour.",
        "Neighbouring digits on a green line differ by at least 5 in every other step.",
        "Numbers outside sum the first X digits, X being the last digit.",
        "Each shaded region holds the digits 1 to 9 in order.",
        "Shaded cells hold even numbers of dots.",
        "Add the contents of a cage and its neighbours: you get what is printed in its corner.",
        "Using any two digits of a cage, the operation after its number gives that number.",
        "Thermometers are warmer at the bulb, colder with every step away from it.",
        "A figure at the side: so many houses cannot be seen from it.",
        "Odd digits live in the ringed squares only.",
        "On the green line, whoever stands two steps from you is at least five away from you in value.",
        "Along each arrow the digits sum to the two digits in the pill added together.",
        "The digits in the middle of a line are bigger than both of its end circles.",
        "On thermometers with a black bulb digits decrease, on those with a white bulb they increase.",
        "Read the first digit from the clue: the digit that many cells on is the clue.",
        "Consecutive digits may not stand beside each other, but may stand above one another.",
        "Each row, each column and three of the four shaded regions hold the digits 1 to 9.",
        "V: sum 5. X: sum 10. Where neither letter is printed, the two digits make neither 5 nor 9.",
        "A black dot joins digits of which one is twice the other. A number in a black dot adds to the factor.",
        "The digits in column 4 from top to bottom are the year of the first fair.",
        "The grey cells, eleven in all, hold every digit.",
        "Cells with a ring are odd. Cells with a ring are even.",
        "The shaded cells form a connected region.",
        "The digits on an arrow add up to the number in the circle, or to twice the circle.",
        "Digits in a cage multiply to a number ending in the digit shown.",
        "Numbers outside give the sum of the digits between the lowest and the highest given.",
        "Numbers outside count the digits that can be seen, smaller ones hiding larger ones.",
        "Digits on a green line differ by at least 5 from every other digit on it.",
    ],
)
def test_what_strangers_say_of_no_kind_is_asked_about(text: str) -> None:
    sheet = read_rules(USUAL + text, (1, 9))
    assert {*sheet.not_understood, *sheet.unsure}


@pytest.mark.parametrize("named", ["1, 2, 3, 4, 3", "1, 2, 4, 5, 7 and 8", "1, 1, 2, 3, 4"])
def test_a_list_that_does_not_count_on_names_no_digits_and_is_asked_about(named: str) -> None:
    sheet = read_rules(f"Place the digits {named} in every row and column.")
    assert sheet.digits is None
    assert {*sheet.unsure, *sheet.not_understood}


@pytest.mark.parametrize(
    ("named", "last"),
    [
        ("1, 2, 3, 4, 5", 5),
        ("1,2,3,4,5,6,7,8,9,10", 10),
        ("1, 2, 3, ..., 9", 9),
        ("1 to 9 then A, B, C", "C"),
        ("1-9, followed by A and B,", "B"),
        ("1 to 9 and the letters A, B, C, D, E, F and G", "G"),
        ("1 to 9 and the letter A for ten", "A"),
        ("1 to 12 (A, B and C stand for 10, 11 and 12)", "C"),
    ],
)
def test_digits_are_listed_one_by_one_with_the_letters_that_go_on_from_nine(named: str, last: int | str) -> None:
    sheet = read_rules(f"Place {named} once in every row, column and box.")
    assert sheet.digits is not None
    assert sheet.digits.labels.get(sheet.digits.high, sheet.digits.high) == last
    letters = len(sheet.digits.labels)
    assert not letters or sheet.digits.high == 9 + letters
    assert not {*sheet.not_understood, *sheet.unsure}


@pytest.mark.parametrize(
    "text",
    [
        "Round pillars carry odd values and square pillars even ones.",
        "Circled cells are odd, boxed cells even.",
        "Cells with a ring are odd, cells with an open square are even.",
    ],
)
def test_two_shapes_tell_odd_from_even(text: str) -> None:
    sheet = read_rules(USUAL + text, (1, 9))
    assert not {*sheet.not_understood, *sheet.unsure}
    assert {(s.kind, s.mark.shape) for s in sheet.statements} >= {("odd", "circle"), ("even", "square")}
    assert len([s for s in sheet.statements if s.kind in ("odd", "even")]) == 2


@pytest.mark.parametrize(("named", "last"), [("1, 2, 3 or 4", 4), ("a 1, 2, 3, 4, 5, 6, 7, 8 or 9", 9)])
def test_the_last_digit_after_an_or_is_of_the_list(named: str, last: int) -> None:
    sheet = read_rules(f"Write {named} in each cell, so that every row, column and box has each digit once.")
    assert sheet.digits is not None
    assert (sheet.digits.low, sheet.digits.high) == (1, last)


def test_other_digits_than_usual_are_told_beside_the_usual_ones() -> None:
    sheet = read_rules("Use 0-8 instead of 1-9. Each occurs in each row, column and 3x3 box.", (1, 9))
    assert sheet.digits is not None
    assert (sheet.digits.low, sheet.digits.high) == (0, 8)
    assert not sheet.not_understood


def test_the_diagonal_is_one_place_more_where_no_digit_comes_twice() -> None:
    rules = "No digit may be repeated in a row, a column, a bold 3×3 block, nor on the long grey diagonal."
    assert {s.kind for s in read_rules(rules).statements} == {"rows", "columns", "boxes", "diagonal"}
    assert not read_rules(rules).unsure


def test_pairs_without_a_mark_are_told_of_after_a_mark_that_is_always_there() -> None:
    rules = "A bar between cells: consecutive. All bars are printed: where there is none, they are not consecutive."
    assert _told(rules) == [("consecutive-pair", {}), ("all-marked", {"of": "consecutive-pair"})]


def test_the_sum_of_two_less_one_is_no_sum() -> None:
    sheet = read_rules(USUAL + "A number on a disc between two cells is the sum of those two less one.")
    assert sheet.not_understood or sheet.unsure


def test_a_sign_that_is_told_the_other_way_round_is_asked_about() -> None:
    sheet = read_rules(USUAL + "A cage holds a sign and a result. With − take the larger from the smaller.")
    assert sheet.not_understood or sheet.unsure


def test_a_broken_line_from_corner_to_corner_is_no_cage() -> None:
    sheet = read_rules(USUAL + "Along the broken line from corner to corner no number comes twice.")
    assert [s.mark.shape for s in sheet.statements if s.kind == "diagonal"] == ["diagonal"]


def test_areas_in_which_no_digit_comes_more_than_once_need_not_have_all() -> None:
    sheet = read_rules(USUAL + "Blue areas: each area of blue tint has no digit more than once.")
    assert [s.fields for s in sheet.statements if s.kind == "extra-region"] == [{"partial": True}]


@pytest.mark.parametrize(
    ("sentence", "binds"),
    [
        ("A zero says that the two slices touch.", False),
        ("The 1 and the 9 may come in either order and are not counted;", False),
        ("it is never equal to either.", False),
        ("a digit listed there twice is found at least twice.", False),
        ("A slant may meet a number twice.", False),
        ("One pen has lost its number;", False),
        ("its figures still must differ.", False),
        ("a digit listed there twice is found at least once.", True),
        ("A cage may not hold a number twice.", True),
        ("it is never equal to either neighbour of the bulb.", True),
        ("Blue frames are sums waiting to be done.", False),
        ("Digits can repeat along an arm.", False),
        ("Digits can repeat in a cage.", True),
        ("One pen has lost its number, 12.", True),
    ],
)
def test_a_sentence_that_only_follows_binds_nothing(sentence: str, binds: bool) -> None:
    assert (without_moot(sentence) == sentence) is binds


def test_digits_that_bound_a_sum_and_count_are_asked_about() -> None:
    sheet = read_rules(
        USUAL + "A number outside is the sum of the digits between the 1 and the 9. The 1 and the 9 may come in either "
        "order but are counted."
    )
    assert sheet.not_understood or sheet.unsure
