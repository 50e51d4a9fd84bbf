"""Words that mean what stands around them lets them mean, and what only looks like them."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules

RISING = "Digits on a thermometer rise from the bulb."


def _told(text: str) -> tuple[list[tuple[str, dict[str, object]]], bool]:
    """What a text states, and whether anything is asked."""
    sheet = read_rules(text)
    told = [(s.kind, dict(s.fields)) for s in sheet.statements if not s.negated]
    return told, bool(sheet.unsure or sheet.not_understood)


@pytest.mark.parametrize(
    ("text", "kind", "fields"),
    [
        (
            "An orange ball between two squares means that those digits are neighbours when you count.",
            "consecutive-pair",
            {},
        ),
        ("The digits on a blue line add up to the number at its start; digits may come back on it.", "sum-line", {}),
        (
            "A white lozenge with a 3 in it sits between two cells when one holds three times the other.",
            "ratio-pair",
            {"ratio": 3},
        ),
        ("Along a beaded grey line stands a run of consecutive digits, shuffled as you please.", "run-line", {}),
        ("The hatched lines are looking-glass lines: they read the same from either end.", "palindrome", {}),
        ("A pink disc marks an odd value (A = 10 is even, B = 11 is odd and so forth).", "odd", {}),
        ("Squares with a grey circle are uneven.", "odd", {}),
        ("A tinted ribbon reads alike from both of its ends.", "palindrome", {}),
        ("3. What is in the circle is the sum of what the arrow passes over, its last cell included.", "arrow", {}),
        (
            "The teal shapes are thermometers: from the wide bulb to the narrow tip the digits go up.",
            "thermometer",
            {"strict": True},
        ),
        ("The nine cells on the gold diagonal must all be different as well.", "diagonal", {}),
        ("The cells of the grey diagonal also contain each digit.", "diagonal", {}),
        ("A square with a tinted disc takes an odd number; a square without one may take either sort.", "odd", {}),
        ("Equal digits do not even meet at a corner.", "king-apart", {}),
        ("A bar on an edge says that one digit beyond it is the successor of the other.", "consecutive-pair", {}),
        ("Digits on the two sides of a black dot are in the ratio 1 to 3.", "ratio-pair", {"ratio": 3}),
        (
            "With a black dot between two cells, multiplying one digit by three gives the other.",
            "ratio-pair",
            {"ratio": 3},
        ),
        ("A purple line contains a block of successive digits, in no particular order.", "run-line", {}),
        ("Neighbours on a teal band may never be nearer in value than 3.", "gap-line", {"gap": 3}),
        ("Along a slow tube digits climb or hold their level from the bulb on.", "thermometer", {"strict": False}),
        ("Along each thin line the digits make the number beside its first cell.", "sum-line", {}),
        ("An outside clue is the number of digits that exceed everything between them and the clue.", "skyscraper", {}),
        (
            "Where four cells meet, small digits may be printed: each of them goes in one of these cells.",
            "corner-digits",
            {},
        ),
        (
            "The dash-and-dot pens give a result with its sign: + for the sum of the cells, x for their "
            "product, - for the "
            "larger less the smaller.",
            "cage",
            {"operation": "printed"},
        ),
        (
            "In a dash-and-dot pen the digits are all different; where a figure stands in its corner, they add "
            "up to it.",
            "cage",
            {"repeats": False, "operation": "sum"},
        ),
        (
            "Each coloured patch adds up to the little number in its corner, and you may not repeat a digit "
            "inside a patch. A "
            "patch with no number still has no repeats, but you must find its total yourself.",
            "cage",
            {"repeats": False, "operation": "sum"},
        ),
        (
            "The margin numbers, each with a wedge, count the towers one sees from that wedge looking along the "
            "row or column: "
            "a figure is seen when every figure in front of it is lower.",
            "skyscraper",
            {},
        ),
        (
            "Clues outside: begin at the 1 in that row or column and travel right (or down) until you reach the "
            "9, jumping from "
            "the far edge back to the near one if you run out of cells. The clue is the sum of all the digits "
            "you pass on the "
            "way, not counting the 1 and the 9.",
            "sandwich",
            {"wrap": True, "ends": (1, 9)},
        ),
        ("It is forbidden for cells sharing an edge to contain consecutive digits.", "neighbours-not-consecutive", {}),
        ("Cells marked with a grey circle are restricted to odd digits.", "odd", {}),
        ("The green snake reads the same from head to tail as from tail to head.", "palindrome", {}),
        (
            "Digits on a line with circles at both extremities lie between the digits in those circles.",
            "between-line",
            {},
        ),
        ("The sign < indicates that the digit on its left is inferior to the digit on its right.", "greater", {}),
        ("X = sum of 10.", "sum-pair", {"value": 10}),
        ("The sum of the digits on an arrow corresponds to the digit in the circle at its beginning.", "arrow", {}),
        (f"{RISING} Where a tube forks, this is true of each branch.", "thermometer", {"strict": True}),
        (
            "A green line has a diamond at both ends: the digits under the line must be larger than one of the "
            "diamond digits "
            "and smaller than the other.",
            "between-line",
            {},
        ),
    ],
)
def test_what_words_mean_by_what_stands_around_them(text: str, kind: str, fields: dict[str, object]) -> None:
    assert _told(text) == ([(kind, fields)], False)


@pytest.mark.parametrize(
    "text",
    [
        "A white dot means that those digits are neighbours when you count by twos.",
        "A white lozenge with a 3 in it sits between two cells when one holds twice the other.",
        "Cells in a grey circle are not even in one row.",
        "The cages give a result with its sign: - for the sum of the cells, + for their product.",
        "In a dashed cage the digits differ; where a figure stands in its corner, they add up to twice it.",
        "The digits in a cage add up to the number in its corner. A cage with no number may repeat digits.",
        "The margin numbers count the towers one sees from there: a figure is seen when every figure in front "
        "of it is higher.",
        "It is forbidden for cells sharing an edge to contain odd digits.",
        "The sign < indicates that the digit on its left is superior to the digit on its right.",
        f"{RISING} Where a tube forks, this is true of one branch.",
        f"{RISING} Where a tube forks, this is not true of each branch.",
        "The sum of the digits on an arrow corresponds to twice the digit in the circle.",
        "Digits on the blue line are the same when you read the even ones.",
    ],
)
def test_what_says_another_thing_is_asked_about(text: str) -> None:
    assert _told(text)[1]


def test_marks_that_carry_their_ratio_are_told_apart_by_it() -> None:
    plain = "A black disc: one digit is twice the other."
    carried = "A black disc with a 3 in it: one digit is three times the other."
    assert _told(f"{plain} {carried}") == ([("ratio-pair", {"ratio": 2})], False)
    told, _ = _told(plain.replace("black", "white") + " " + carried)
    assert told == [("ratio-pair", {"ratio": 2}), ("ratio-pair", {"ratio": 3})]


@pytest.mark.parametrize(
    ("text", "kind", "fields"),
    [
        ("A cage shows its total. Digits in a cage do not all have to be different.", "cage", {"repeats": True}),
        ("A cage shows its total. Same digit twice in a cage? Allowed.", "cage", {"repeats": True}),
        ("Neighbours in the ratio 1:2 are always marked with a black dot.", "all-marked", {"of": "ratio-pair"}),
        ("Cells in the ratio 1:2 are joined by a black dot, in all cases.", "all-marked", {"of": "ratio-pair"}),
    ],
)
def test_what_a_few_words_more_state(text, kind, fields):
    told, asked = _told(text)
    assert any(name == kind and fields.items() <= found.items() for name, found in told)
    assert not asked


def test_pairs_not_always_marked_are_not_all_marked():
    told, _ = _told("Neighbours in the ratio 1:2 are not always marked with a black dot.")
    assert "all-marked" not in dict(told)


def test_each_of_two_tubes_that_leave_a_bulb_rises():
    text = "Digits on a tube rise from the bulb; where two tubes leave the same bulb, each of them climbs on its own."
    assert _told(text) == ([("thermometer", {"strict": True})], False)


def test_heights_are_digits():
    text = (
        "Each cell is a building plot, and the number entered in it, from 1 to 6, is the height of the house in "
        "storeys. No height is repeated in a row or in a column. A number in the margin says how many houses can be "
        "seen from there, a taller house hiding every lower one behind it."
    )
    told, asked = _told(text)
    assert [kind for kind, _ in told] == ["rows", "columns", "skyscraper"]
    assert not asked


def test_a_dining_room_is_no_box():
    assert _told(f"{RISING} This week in the dining room") == ([("thermometer", {"strict": True})], False)


@pytest.mark.parametrize("dirt", ["Thisweekinthediningroom > Be", "Cells <"])
def test_a_sign_by_itself_is_dirt(dirt):
    assert _told(f"{RISING} {dirt}") == ([("thermometer", {"strict": True})], False)


@pytest.mark.parametrize(
    "text",
    [
        "A white dot: one digit is one more than the other, or its double.",
        "A white dot: the digits are consecutive, or one is double the other.",
        "Where four cells meet, small digits are printed: each of them stays out of these cells.",
        "A white dot joins consecutive digits. Where there is none, neither digit is odd.",
        "An outside clue is the number of digits that exceed everything behind them.",
        "Neighbours in the ratio 1:2 are always marked with a black dot or a star.",
    ],
)
def test_what_says_something_else_is_asked_about(text):
    assert _told(text)[1]


def test_a_speck_before_a_verb_is_no_stop():
    text = "The sum of the digits in every dotted area. equals the number in its comer."
    assert _told(text) == ([("cage", {"operation": "sum"})], False)


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("Once more 1 to 9 in each row and column.", ["columns", "rows"]),
        ("Every row, column and block contains 1, 2, 3, 4, 5, 6, 7, 8, 9 in some order.", ["boxes", "columns", "rows"]),
        ("Every step away from a thermometer's bulb means a bigger digit.", ["thermometer"]),
    ],
)
def test_guesses_that_hold_nothing_else_are_certain(text, kinds):
    told, asked = _told(text)
    assert sorted(kind for kind, _ in told) == kinds
    assert not asked


def test_what_is_in_exactly_one_mark_is_asked_about():
    assert _told("The digits in exactly one circle where four cells meet stand in those cells.")[1]


SIGNED = "Each fence tells you what its numbers make:"


@pytest.mark.parametrize("text", [
    f"{SIGNED} with + they add up to it, with × they multiply to it, with − it is the bigger one take away the "
    "smaller, with ÷ the bigger divided by the smaller.",
    "Take the digits inside the frame and do with them what the sign says: plus means their sum, the cross means their "
    "product, the minus the larger less the smaller.",
])  # fmt: skip
def test_signs_by_themselves_or_by_name_are_told_one_by_one(text: str) -> None:
    told, asked = _told(f"What are the cages? {text}")
    assert ("cage", {"operation": "printed"}) in told
    assert not asked


@pytest.mark.parametrize("text", [
    f"{SIGNED} with + they add up to it, with - take the larger from the smaller.",
    "Plus means the sum of all, the cross the product of two.",
    f"{SIGNED} + add up and add one, × multiply.",
    f"{SIGNED} + the sum of the first two, × the product.",
    f"{SIGNED} + for the product, × for the sum.",
    "Thermometers rise: plus means their sum, the cross their product.",
])  # fmt: skip
def test_signs_that_stand_for_more_or_for_something_else_are_asked_about(text: str) -> None:
    assert _told(text)[1]


@pytest.mark.parametrize(("answer", "repeats"), [
    ("It may, as long as the two do not share a row, a column or a box.", True),
    ("Yes! As long as the two are not in the same row, column or block.", True),
    ("No.", False),
])  # fmt: skip
def test_a_frame_may_have_a_digit_twice_where_the_usual_rules_let_it(answer: str, repeats: bool) -> None:
    told, asked = _told(f"Cages add up to their number. May a frame have the same digit twice? {answer}")
    assert told == [("cage", {"operation": "sum", "repeats": repeats})]
    assert not asked


@pytest.mark.parametrize("ring", [
    "A ring over two cells holds a number of two digits, tens above units.",
    "The long dish is a bowl for a number of two figures, the tens above and the units below.",
])  # fmt: skip
def test_the_tens_of_a_long_ring_stand_first(ring: str) -> None:
    arrows = "The digits on an arrow leaving the ring are added up and give the number in the ring."
    told, asked = _told(f"{arrows} {ring}")
    assert [kind for kind, _ in told] == ["arrow"]
    assert not asked
    assert _told(f"{arrows} A ring over two cells holds a number of two digits, units above tens.")[1]


def test_those_who_speak_are_no_part_of_what_they_say() -> None:
    said = (
        "HOST. And the figures outside the frame? GUEST. Start from such a figure and look into the grid. The first "
        "cell you meet holds a digit, call it X; the first X cells, that one included, add up to the figure. HOST. I "
        "see grey lines with a ring at either end. GUEST. Every digit on the line lies strictly between the two digits "
        "in the rings."
    )
    told, asked = _told(said)
    assert [kind for kind, _ in told] == ["x-sum", "between-line"]
    assert not asked


def test_marks_that_head_their_rules_are_nobody_who_speaks() -> None:
    said = "CAGES. Digits sum to the number. DIAGONALS. Digits differ. CAGES. Digits may repeat. DIAGONALS. Both count."
    told, _ = _told(said)
    assert ("cage", {"operation": "sum", "repeats": True}) in told


def test_one_to_two_is_a_ratio_beside_what_is_one_apart() -> None:
    told, asked = _told("Dots: white is 1 apart, black is 1 to 2.")
    assert told == [("consecutive-pair", {}), ("ratio-pair", {"ratio": 2})]
    assert not asked


@pytest.mark.parametrize(("text", "kinds"), [
    ("Orange lines: digits must be at least 4 apart from their neighbours on the line.", {"gap-line"}),
    ("Two cells sharing an edge with a number on it contain digits that sum to that number.", {"sum-pair"}),
    (
        "Fill in 1 to 9 in the usual manner, no repeats across, down, or in the nine little squares.",
        {"rows", "columns", "boxes"},
    ),
    ("Rows, columns, boxes as usual.", {"rows", "columns", "boxes"}),
    ("Write in every empty field a digit from 1 to 9, so that no row, no column and no block contains a digit doubly.",
     {"rows", "columns", "boxes"}),
    ("Thermometers go up from the bulb end (no ties!).", {"thermometer"}),
    ("6x6, digits 1-6, usual rules, 2x3 boxes.", {"rows", "columns", "boxes"}),
    ("Green lines: neighbours 3+ apart.", {"gap-line"}),
    ("Normal sudoku rules. Same digit twice in a cage? Not allowed.", {"rows", "columns", "boxes", "cage"}),
    (
        "All instances in which two adjacent cells contain consecutive digits are marked by a bar between them.",
        {"consecutive-pair", "all-marked"},
    ),
])  # fmt: skip
def test_measures_edges_and_places_in_other_words(text: str, kinds: set[str]) -> None:
    told, asked = _told(text)
    assert {kind for kind, _ in told} == kinds
    assert not asked


def test_entries_are_digits() -> None:
    digits = read_rules("Every row and column holds each digit once. The entries are 1 to 6.").digits
    assert digits is not None
    assert (digits.low, digits.high) == (1, 6)
