"""Single rules in many wordings to statements."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules
from tests.recognise.rules_score import kinds, surely, without_unsure


def test_marks_that_are_only_said_to_be_there_need_a_meaning_elsewhere() -> None:
    there = "There are some grey lines in the grid."
    assert read_rules(f"{there} Each of them reads the same forwards and backwards.").not_understood == ()
    assert read_rules(f"{there} Digits along a thermometer increase from the bulb.").not_understood == (there,)


def test_lines_that_cut_the_grid_into_cages_divide_no_digits() -> None:
    assert kinds("The dotted lines divide the grid into cages. The digits in a cage sum to its number.") == ["cage"]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("No row, column or box may lack one of the digits 1 to 9 or hold it twice.", ["rows", "columns", "boxes"]),
        ("Equal digits are never neighbours, nor do they touch at a corner or an edge.", ["king-apart"]),
        ("No digit attacks its twin as a chess knight would.", ["knight-apart"]),
        ("Digits in dotted cells all differ.", ["extra-region"]),
        ("No repeats on the drawn lines from corner to corner.", ["diagonal"]),
        ("Follow a grey line forwards or backwards: it makes no difference to what you read.", ["palindrome"]),
        ("Lazy thermometers: leaving the bulb, the next digit may be the same or higher.", ["thermometer"]),
        ("Letters between cells are Roman numerals and give their sum (V is 5, X is 10).", ["sum-pair", "sum-pair"]),
        ("The first n digits of the row add up to the clue outside, n being the first of them.", ["x-sum"]),
    ],
)
def test_rules_in_unusual_wording(text: str, told: list[str]) -> None:
    assert kinds(text) == told
    assert read_rules(text).not_understood == ()


def test_cells_that_all_differ_are_not_lost_beside_rows_and_columns() -> None:
    rows = "Each line across, each line down and each bold-lined box has the numbers 1 to 9."
    assert "extra-region" in kinds(f"{rows} All dotted cells differ from each other.")
    odd = "All zorgy cells differ from each other."
    assert read_rules(f"{rows} {odd}").not_understood == (odd,)


def test_signs_with_their_usual_meaning_are_no_usual_rules() -> None:
    assert kinds("Between some cells you see a < or a >. These signs have their usual meaning.") == ["greater"]
    assert kinds("No line, column or box may contain a digit from 1 to 9 twice.") == ["rows", "columns", "boxes"]


def test_areas_that_are_more_regions_are_no_cages() -> None:
    assert kinds("Dotted areas are extra areas: no digit twice in one of them.") == ["extra-region"]
    assert kinds("In the dotted areas no digit may repeat.") == ["cage"]


def test_wrapped_sandwich_runs_forward_from_the_lowest_digit() -> None:
    forward = (
        "Outside clues are the sum of the digits from the 1 rightwards or downwards to the 9, wrapping round the edge."
    )
    assert read_rules(forward).statements[0].fields == {"wrap": True, "ends": (1, 9)}
    counted = "Outside numbers total the digits from the 1 to the 9, both counted, going right and round the edge."
    assert read_rules(counted).statements == ()
    backward = forward.replace("from the 1", "from the 9").replace("to the 9,", "to the 1,")
    assert read_rules(backward).statements == ()


def test_wrapped_sandwich_may_be_told_over_several_sentences() -> None:
    told = (
        "These sandwiches wrap. From the 1 count forward (right or down) to the 9; the digits between sum to the clue."
    )
    assert read_rules(told).statements[0].fields == {"wrap": True, "ends": (1, 9)}
    one_way = "Clues outside give the sum of the digits between the 1 and the 9, going forward from the 1."
    assert surely(one_way) == []


def test_digits_that_bound_a_wrapped_sandwich_may_be_left_out_without_naming_them_again() -> None:
    told = (
        "Numbers outside give the sum of the digits from the 1 forward to the 9, {}: go right or down, past the edge."
    )
    for left_out in ("not counting these two", "excluding those two digits", "without counting these two digits"):
        assert read_rules(told.format(left_out)).statements[0].fields == {"wrap": True, "ends": (1, 9)}


def test_highest_digit_named_first_is_a_plain_sandwich_and_no_wrapped_one() -> None:
    plain = "Numbers outside give the sum of the digits between the highest and the lowest digit of that row or column."
    assert read_rules(plain).statements[0].fields == {}
    wrapped = (
        "Outside numbers: go forward from the highest digit to the lowest, round the edge, and sum what is between."
    )
    assert read_rules(wrapped).statements == ()


def test_which_way_a_thermometer_runs() -> None:
    assert read_rules("Digits on a thermometer increase from the bulb.").statements[0].fields == {"strict": True}
    assert read_rules("Digits on a thermometer decrease towards the bulb.").statements[0].fields == {"strict": True}
    assert read_rules("Digits on a thermometer increase towards the bulb.").statements == ()
    assert read_rules("Digits on a thermometer decrease from the bulb.").statements == ()


def test_colours_tell_lines_apart() -> None:
    sheet = read_rules("Grey lines are palindromes. Adjacent digits on a green line differ by at least 5.")
    assert [(s.kind, s.mark.shape, s.mark.colour) for s in sheet.statements] == [
        ("palindrome", "line", "grey"),
        ("gap-line", "line", "green"),
    ]


@pytest.mark.parametrize(
    ("text", "sides"),
    [
        (
            "Numbers above the grid and at its left total the first N digits, N being the first digit. "
            "Those at the bottom and the right: the sum of the digits between the 1 and the 9.",
            {"x-sum": ("top", "left"), "sandwich": ("bottom", "right")},
        ),
        (
            "Numbers left of rows give the sum of the digits between 1 and 9, read from left to right. "
            "Numbers above columns count the towers seen from top to bottom, higher ones hiding lower ones.",
            {"sandwich": ("left",), "skyscraper": ("top",)},
        ),
        (
            "Numbers beside the grid give the sum of the digits between 1 and 9. "
            "Numbers above columns count the towers seen from there, higher ones hiding lower ones.",
            {"sandwich": (), "skyscraper": ()},
        ),
        ("Numbers above and at the left give the sum of the digits between 1 and 9.", {"sandwich": ()}),
    ],
)
def test_sides_tell_numbers_beside_the_grid_apart_where_each_rule_names_its_own(
    text: str, sides: dict[str, tuple[str, ...]]
) -> None:
    assert {s.kind: s.mark.sides for s in read_rules(text).statements} == sides


def test_what_follows_a_denial_of_other_pairs_is_not_denied() -> None:
    text = "Bars stand between consecutive digits. There are no other such pairs: all bars have been drawn."
    assert kinds(text) == ["consecutive-pair", "all-marked"]


def test_both_bounds_of_a_line_may_be_denied_at_once() -> None:
    line = "On a line between two rings no digit is "
    assert kinds(line + "as low as the lower ring or as high as the higher.") == ["between-line"]
    assert read_rules(line + "as low as the lower ring or as high as the higher.").unsure == ()
    crossed = read_rules(line + "as high as the lower ring or as low as the higher.")
    assert crossed.unsure or not crossed.statements


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Two cells joined by a grey diamond add up to 10.", ("diamond", {"value": 10})),
        ("Numbers in small squares between cells are the sum of the two cells.", ("number", {})),
        ("Digits in cells with a square sum to 20.", None),
        ("Two cells with a bar between them do not add up to 10.", None),
        ("Numbers in squares between cells are the product of the two cells.", None),
    ],
)
def test_sums_go_with_marks_of_any_look(text: str, told: tuple[str, dict[str, int]] | None) -> None:
    sheet = read_rules(text)
    assert [(s.mark.shape, dict(s.fields)) for s in sheet.statements] == ([told] if told else [])
    assert not sheet.unsure


def test_every_such_pair_marked_and_not_every_such_pair_marked() -> None:
    dots = "White dots join consecutive digits. "
    assert kinds(dots + "Every such pair has been marked.") == ["consecutive-pair", "all-marked"]
    assert kinds(dots + "Not every such pair has been marked.") == ["consecutive-pair", "not all-marked"]


@pytest.mark.parametrize("ends", ["Tubes read differently from both ends.", "A line has equal digits at both ends."])
def test_ends_that_are_equal_or_differ_make_no_palindrome(ends: str) -> None:
    assert surely(ends) == []


def test_double_lines_are_named_so() -> None:
    sheet = read_rules("Double lines are palindromes. Adjacent digits on other double lines differ by at least 5.")
    assert sheet.statements[0].mark.style == "double"


def test_all_marked_takes_its_kinds_from_the_marks_named() -> None:
    text = "White dots join consecutive digits, black dots digits in a ratio of 1:2. All possible white dots are given."
    marked = [s for s in read_rules(text).statements if s.kind == "all-marked"]
    assert [s.fields["of"] for s in marked] == ["consecutive-pair"]
    assert kinds(text.replace("All", "Not all"))[-1] == "not all-marked"
    assert (
        kinds("White dots join consecutive digits. There may be consecutive pairs without a dot.")[-1]
        == "not all-marked"
    )
    for nothing in ("A missing dot doesn't tell you anything.", "No dot does not mean that they are not consecutive."):
        assert kinds(f"White dots join consecutive digits. {nothing}")[-1] == "not all-marked"
    assert read_rules("All dots are given.").not_understood == ("All dots are given.",)


def test_neighbours_without_one_have_none_of_the_marks_just_named() -> None:
    text = (
        "White dots join consecutive digits, black dots digits in a ratio of 1:2. "
        "Every possible white dot has been marked, so neighbours without one do not have that property."
    )
    told = [(s.fields["of"], s.negated) for s in read_rules(text).statements if s.kind == "all-marked"]
    assert told == [("consecutive-pair", False)]


@pytest.mark.parametrize(
    ("text", "low", "high", "labels"),
    [
        ("Place 1 to 9 once in each row.", 1, 9, {}),
        ("Place the digits 0-8 once in each row.", 0, 8, {}),
        ("Fill in one to six, once in each row.", 1, 6, {}),
        ("Every row has the numbers 1 to 9 and the letters A to G.", 1, 16, {10: "A", 16: "G"}),
        ("Each row contains the letters A to I once.", 1, 9, {1: "A", 9: "I"}),
        ("Use the figures 1 to 9 and the letters A to G, which stand for 10 to 16.", 1, 16, {10: "A", 16: "G"}),
    ],
)
def test_digits(text: str, low: int, high: int, labels: dict[int, str]) -> None:
    digits = read_rules(text).digits
    assert digits is not None
    assert (digits.low, digits.high) == (low, high)
    assert labels.items() <= digits.labels.items()


def test_what_letters_stand_for_are_not_all_digits_where_the_figures_were_not_made_out() -> None:
    assert (
        read_rules("The sixteen signs are the figures and the letters A to G, which stand for 10 to 16.").digits is None
    )


def test_every_such_pair_is_marked_when_the_relation_brings_the_mark() -> None:
    told = "Whenever the digits in two adjacent cells are consecutive, a bar is printed between the cells."
    assert kinds(told) == ["consecutive-pair", "all-marked"]
    added = "If you add the digits along an arrow, the result is the digit in the circle it starts from."
    assert kinds(added) == ["arrow"]


def test_a_sentence_that_all_pairs_are_marked_is_not_lost_in_the_one_before() -> None:
    text = "The number between two cells is the sum of the two digits. All pairs with these sums have been marked."
    sheet = read_rules(text, (1, 9))
    stated = {statement.kind for statement in sheet.statements}
    assert "all-marked" in stated or sheet.not_understood or sheet.unsure


def test_marks_of_two_colours_in_two_sentences_keep_their_own() -> None:
    stated = read_rules("White dots: consecutive. Black: ratio 3.").statements
    assert [(s.kind, s.mark.colour) for s in stated] == [("consecutive-pair", "white"), ("ratio-pair", "black")]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("An X on the edge of two squares says that they make a sum of ten.", ["sum-pair"]),
        ("Repeats a king's move away are forbidden.", ["king-apart"]),
        ("As well as rows, columns and boxes, the two long diagonals have no repeats.", ["rows", "columns", "boxes"]),
        ("Each row, each column and each bold-edged square has the digits 1 to 9.", ["rows", "columns", "boxes"]),
        ("A tiny v between squares makes their sum five.", ["sum-pair"]),
        ("V: these two cells have sum 5. X: these two have sum 10.", ["sum-pair", "sum-pair"]),
    ],
)
def test_more_ordinary_wordings_are_sure(text: str, told: list[str]) -> None:
    assert surely(text)[: len(told)] == told


def test_a_direction_in_brackets_is_the_diagonal_s() -> None:
    (stated,) = read_rules("No repeats on the diagonal (bottom left to top right).").statements
    assert stated.fields == {"direction": "up"}


def test_equal_neighbours_make_a_thermometer_slow() -> None:
    (stated,) = read_rules("Each tube goes up from the bulb, though equal neighbours are allowed.").statements
    assert stated.fields == {"strict": False}


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            "Equal digits never touch at a corner, and they are never a knight's move apart.",
            ["king-apart", "knight-apart"],
        ),
        (
            "Identical numbers are never a knight's move apart. Nor may they touch at a corner.",
            ["knight-apart", "king-apart"],
        ),
        ("The tinted areas count as additional regions.", ["extra-region"]),
    ],
)
def test_they_are_the_equal_digits_just_named(text: str, told: list[str]) -> None:
    assert surely(text) == told


def test_marks_of_the_sort_just_named_in_another_colour() -> None:
    text = "Cells joined by a white circle have consecutive digits; if by a black one, one is twice the other."
    assert [(s.kind, s.mark.colour) for s in without_unsure(read_rules(text)).statements] == [
        ("consecutive-pair", "white"),
        ("ratio-pair", "black"),
    ]


def test_a_sentence_not_understood_leaves_its_neighbours_as_they_are() -> None:
    usual = "Put the digits 1 to 6 in every row, column and box."
    assert surely(f"{usual} Wherever a brown line goes, the frumious digits of it gyre.") == [
        "rows",
        "columns",
        "boxes",
    ]


@pytest.mark.parametrize(
    "name",
    [
        "Salt Marsh Lane\n",
        "12. Salt Marsh (40 points)\n",
        "Salt Marsh (puzzle 4). ",
        "Gentle Marsh: ",
        "SALT AND MARSH\n",
        "Marsh Non-Consecutive\n",
        "Marsh Diagonals 6x6: ",
    ],
)
def test_a_name_before_the_rules_is_none_of_them(name: str) -> None:
    rules = "Digits: 1-6 once in each row, column and box. Side-adjacent cells: never consecutive."
    read = read_rules(name + rules)
    assert surely(name + rules) == ["rows", "columns", "boxes", "neighbours-not-consecutive"]
    assert read.not_understood == () and read.unsure == ()


def test_a_name_that_may_hide_a_rule_is_asked_about() -> None:
    read = read_rules("Marsh Non-Consecutive\nDigits: 1-6 once in each row, column and box.")
    assert read.not_understood or read.unsure or "neighbours-not-consecutive" in kinds("Marsh Non-Consecutive")


def test_operations_by_their_signs() -> None:
    two = (
        "A cage with a plus sign gives the sum of its digits. A cage with a times sign gives the product of its digits."
    )
    assert [s.fields for s in read_rules(two).statements] == [{"operation": "printed"}]
    one = "A cage with a minus sign gives the difference of its two digits."
    assert [s.fields for s in read_rules(one).statements] == [{"operation": "difference"}]
    assert surely("A cage with a minus sign gives the sum of its digits.") == []


def test_operations_in_a_list() -> None:
    text = "Each cage shows its answer and how to get it: adding, subtracting, multiplying or dividing."
    assert [s.fields for s in read_rules(text).statements] == [{"operation": "printed"}]


def test_sandwiches_that_do_not_wrap() -> None:
    text = "Sandwich clues give the total of the digits between the 1 and the 9. The sums do not wrap round."
    assert [s.fields["wrap"] for s in read_rules(text, (1, 9)).statements] == [False]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("As you would any sudoku, solve this one.", ["rows", "columns", "boxes"]),
        ("The four digits surrounding a ring include the small digits in it.", ["corner-digits"]),
        ("Read from one end a pink line gives the same digits as read from the other.", ["palindrome"]),
        ("A violet path crosses two or more boxes and has the same sum in each of those boxes.", ["box-sum-line"]),
        ("Two cells with a small circled number between them add up to that number.", ["sum-pair"]),
        ("On the diagonal, climbing from bottom left to top right, each digit stands once.", ["diagonal"]),
    ],
)
def test_plain_wordings_of_magazines(text: str, wanted: list[str]) -> None:
    assert surely(text) == wanted


def test_a_permission_is_about_the_marks_just_named() -> None:
    text = "From the bulb of a thermometer digits never fall; two neighbouring cells may hold the same digit."
    assert [s.fields for s in read_rules(text).statements] == [{"strict": False}]


def test_how_far_an_arrow_goes_is_no_measure() -> None:
    arrow = "The digit in the circle at the foot of an arrow equals the sum of the digits that its shaft passes through"
    sheet = read_rules(f"{arrow}, up to the arrowhead.")
    assert [s.kind for s in sheet.statements] == ["arrow"]
    assert sheet.not_understood == sheet.unsure == ()
