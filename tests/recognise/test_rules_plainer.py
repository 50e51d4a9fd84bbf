"""Turns of phrase of ordinary rules texts, cases in figures, and notes that are no rules."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules
from tests.recognise.rules_score import kinds, surely

USUAL = "Normal sudoku rules apply. "
ROWS = ["rows", "columns", "boxes"]


@pytest.mark.parametrize(
    "case",
    [
        "If a row begins 2, 7, 4, the clue beside it is 9.",
        "A cage marked 12 might contain 3, 4 and 5.",
        "So if a column starts with a 3 followed by 6 and 1, its clue would be 10.",
    ],
)
def test_a_case_in_figures_states_nothing(case: str) -> None:
    read = read_rules(USUAL + case)
    assert [s.kind for s in read.statements] == ROWS
    assert read.not_understood == () and read.unsure == ()


@pytest.mark.parametrize(
    "text",
    [
        "Neighbours on a green line differ by at least 5, so a 2 may stand beside a 7 but not beside a 6.",
        "Neighbours on a green line differ by at least 5, which means that 1 and 6 may meet, 1 and 5 not.",
    ],
)
def test_what_follows_in_figures_states_nothing(text: str) -> None:
    assert surely(text) == ["gap-line"]


def test_what_follows_with_a_word_of_other_marks_is_a_rule_of_its_own() -> None:
    text = "Digits with a V between them sum to 5, so pairs without a letter never sum to 5 or 10."
    assert surely(text) != ["sum-pair"]


@pytest.mark.parametrize(
    "note",
    [
        "I made this one on the train, so forgive the bumps.",
        "After last week's giant, something softer.",
        "Good luck to all our solvers this weekend!",
    ],
)
def test_a_note_of_persons_and_days_is_no_rule(note: str) -> None:
    assert read_rules(USUAL + note).not_understood == ()


@pytest.mark.parametrize(
    "rule",
    [
        "This week, neighbours never wuggle.",
        "I have put zorgs on the purple lines.",
        "Today the digits of the tinted cells blorg.",
        "My digits never meet their like.",
    ],
)
def test_a_rule_told_by_a_person_is_not_passed_over(rule: str) -> None:
    read = read_rules(USUAL + rule)
    assert read.not_understood or read.unsure or len(read.statements) > len(ROWS)


@pytest.mark.parametrize(
    ("text", "negated"),
    [
        ("A bar joins consecutive digits. No bar, not consecutive.", False),
        ("A bar joins consecutive digits. We have drawn every bar we could.", False),
        ("A bar joins consecutive digits, and every consecutive pair of neighbours has its bar.", False),
        ("A bar joins consecutive digits; all of them are there.", False),
        ("A bar joins consecutive digits. Some such pairs have no bar.", True),
        ("A bar joins consecutive digits. (There are more such pairs than bars.)", True),
        ("A bar joins consecutive digits; edges without a bar promise nothing.", True),
        ("A bar joins consecutive digits. Not every such pair has a bar.", True),
    ],
)
def test_whether_all_marks_are_given(text: str, negated: bool) -> None:
    told = read_rules(text)
    assert [(s.fields["of"], s.negated) for s in told.statements if s.kind == "all-marked"] == [
        ("consecutive-pair", negated)
    ]
    assert not told.unsure and not told.not_understood


def test_every_such_pair_is_of_the_sort_just_told() -> None:
    text = "Digits with an X between them sum to 10; a dot joins consecutive digits, and each consecutive pair has one."
    all_marked = [s.fields["of"] for s in read_rules(text).statements if s.kind == "all-marked"]
    assert all_marked in (["consecutive-pair"], [])
    assert all_marked or read_rules(text).not_understood


@pytest.mark.parametrize(
    ("text", "fields"),
    [
        ("The digits in a cage sum to its number. The same digit may be used more than once in a cage.", True),
        ("In a cage digits may repeat as long as no row or column holds them twice. The cage's sum is printed.", True),
        ("The digits in a cage sum to its number. The same digit cannot be used twice in a cage.", False),
        ("The digits in a cage sum to its number. Unlike last week, digits may repeat in a cage.", True),
    ],
)
def test_a_digit_may_come_again_or_not(text: str, fields: bool) -> None:
    assert [s.fields.get("repeats") for s in read_rules(text).statements if s.kind == "cage"] == [fields]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("What's more, no two cells separated by a knight's move in chess may hold the same digit.", ["knight-apart"]),
        ("Signs between squares tell you which of the two numbers is the larger.", ["greater"]),
        ("The numbers with arrows around the edge are the sums of the diagonals they point along.", ["diagonal-sum"]),
        ("On a red line with a knob at each end, the digits lie between those in the knobs.", ["between-line"]),
        ("From the bulb, each digit on a thermometer is equal to the one before or higher.", ["thermometer"]),
        ("A white lozenge joins consecutive digits.", ["consecutive-pair"]),
        ("A grey disc hides an odd digit.", ["odd"]),
        ("DEEP WATER Each row, column and box holds 1 to 9.", ROWS),
        ("On a line, a digit differs by 5 or more from the digit before it and the digit after it.", ["gap-line"]),
        ("The digits on a pink line can be arranged to make a run of consecutive digits.", ["run-line"]),
    ],
)
def test_ordinary_turns_of_phrase_are_sure(text: str, told: list[str]) -> None:
    assert surely(text) == told


def test_a_ring_over_two_cells_holds_one_number() -> None:
    ring = "The digits on an arrow add up to the number in its ring. "
    for told in (
        "Where a ring covers two cells, they make one number of two digits.",
        "A ring of two cells holds one number of two digits, tens first, then units.",
    ):
        assert [s.fields for s in read_rules(ring + told).statements] == [{"pill": True}]


def test_not_steeply_is_slow_only_where_equals_are_allowed() -> None:
    may = "Digits on a thermometer go up from the bulb, but not always: a digit may also be equal to the previous one."
    assert [s.fields for s in read_rules(may).statements] == [{"strict": False}]
    assert surely("Digits on a thermometer go up from the bulb, but not always.") == []
    assert kinds("Digits on a thermometer go up from the bulb.") == ["thermometer"]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            "In a cage, digits sum to the number and do not repeat, and no two cells a knight's move apart agree.",
            {"cage", "knight-apart"},
        ),
        ("Thin pens hold different digits and add up to their number, and rings with arrows are sums.", {"cage"}),
    ],
)
def test_what_goes_on_about_a_mark_is_not_lost_in_the_next_clause(text: str, told: set[str]) -> None:
    read = read_rules(text)
    cages = [s.fields for s in read.statements if s.kind == "cage"]
    assert told <= {s.kind for s in read.statements} or read.not_understood
    assert read.not_understood or cages == [{"operation": "sum", "repeats": False}]


@pytest.mark.parametrize("second", ["They don't touch either.", "If two cells touch, they are different."])
def test_a_second_rule_of_cells_is_not_lost_in_the_first(second: str) -> None:
    read = read_rules(f"Cells a knight's move apart are different. {second}")
    assert [s.kind for s in read.statements] == ["knight-apart", "king-apart"] or read.not_understood or read.unsure


@pytest.mark.parametrize("told", ["Where none is drawn, they do not.", "If there's none, then they don't."])
def test_what_no_mark_says_is_not_lost(told: str) -> None:
    text = f"Where a bar is drawn between two cells, their digits differ by 1. {told}"
    assert [s.kind for s in read_rules(text).statements] == ["consecutive-pair", "all-marked"]


def test_a_diagonal_that_starts_at_a_corner_is_the_one_through_it() -> None:
    (told,) = read_rules("The diagonal starting at the bottom left corner has no repeats.").statements
    assert told.fields == {"direction": "up"}


def test_a_rule_of_tinted_cells_is_not_lost_between_its_neighbours() -> None:
    text = (
        "Digits 1-9 in every row, column and thick box (3 wide, 3 high). No repeats. "
        "Inside one colour no digit twice either. In dashed outlines all digits differ."
    )
    read = read_rules(text)
    assert [s.kind for s in read.statements][:3] == ROWS
    assert read.unsure or read.not_understood or "extra-region" in [s.kind for s in read.statements]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Write a digit in every cell. Twins never touch, not even cornerwise.", ["king-apart"]),
        ("Digits on a line between two discs lie strictly between the digits in the discs.", ["between-line"]),
        ("Where a small triangle lies between two cells, it points to the smaller digit.", ["greater"]),
        ("Cells side by side or above one another never hold consecutive digits.", ["neighbours-not-consecutive"]),
    ],
)
def test_more_turns_of_phrase(text: str, told: list[str]) -> None:
    assert kinds(text) == told
    assert read_rules(text).not_understood == ()


def test_a_solid_line_is_not_black() -> None:
    (told,) = read_rules("Digits along a solid grey line are consecutive, in any order.").statements
    assert (told.kind, told.mark.colour) == ("run-line", "grey")


def test_usual_rules_named_beside_a_permission_are_stated() -> None:
    text = "Digits in a cage sum to its total. They may repeat, provided that the usual sudoku rules are obeyed."
    assert surely(text.replace("They", "A digit")) == ["cage", *ROWS]


def test_what_may_repeat_in_a_region_is_a_cage_s() -> None:
    cage = "The digits in a dotted region multiply to its number. "
    assert [s.fields for s in read_rules(cage + "A digit may occur more than once in a region.").statements] == [
        {"operation": "product", "repeats": True}
    ]
    alone = "A digit may occur more than once in a region."
    assert read_rules(alone).not_understood == (alone,)


@pytest.mark.parametrize(
    ("whole", "all_there"),
    [
        ("Not one of the black dots is missing.", True),
        ("None of the dots has been left out.", True),
        ("No dot was forgotten.", True),
        ("The dots are complete.", True),
        ("A dot may be missing.", False),
        ("Some of the dots are missing.", False),
    ],
)
def test_no_mark_is_missing(whole: str, all_there: bool) -> None:
    read = read_rules("A black dot between two cells: one digit is double the other. " + whole)
    (told,) = [s for s in read.statements if s.kind == "all-marked"]
    assert told.negated is not all_there


def test_no_two_cells_of_the_same_row_are_no_two_of_any() -> None:
    assert surely("No two cells in the same row, column or box may contain the same digit.") == ROWS
