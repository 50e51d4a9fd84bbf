"""Rules told to the solver, base rules in any words, words that stand for a mark, guesses that two readers share."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules
from recognise.rules.repair import mended
from recognise.rules.words import sentences
from tests.recognise.rules_score import kinds, surely

USUAL = "Each row, column and box holds the digits 1 to 9. "
ROWS = ["rows", "columns", "boxes"]


@pytest.mark.parametrize(
    "text",
    [
        "Can you put the numbers 1 to 9 into every row, column and box?",
        "Write the numbers 1 to 9 so that you can find each in every row, column and box.",
        "You have to see to it that no row, no column and no box contains a digit twice.",
        "None of the digits 1 to 9 is allowed to be missing from any row, column or box.",
        "In no row, no column and no box may any digit be absent or doubled.",
        "It goes without saying that rows, columns and boxes contain 1 to 9.",
        "Same old story: one of each digit, one to nine, across, down and in the boxes.",
        "Let every row contain the figures 1 to 9, let every column do so likewise, and let no box be an exception.",
        "Every row has the digits 1-9, and the same is true of every column and box.",
        "The usual restrictions on rows, columns and boxes apply.",
        "The digits 1 to 6 appear in all six rows, all six columns and all six outlined blocks.",
    ],
)
def test_base_rules_in_any_words(text: str) -> None:
    assert sorted(surely(text)) == sorted(ROWS)


@pytest.mark.parametrize(
    "text",
    [
        "In some rows, columns and boxes a digit is missing.",
        "Each row, each column and each box has one digit twice.",
        "No row, no column and no box contains all the digits 1 to 9.",
        "No row, column or box must not contain a digit twice.",
        "Not all rows, columns and boxes are without a repeat.",
        "A digit may be missing from any row, column or box.",
    ],
)
def test_other_rules_of_rows_are_not_the_base_rules(text: str) -> None:
    assert surely(text) == []


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Digits that are equal do not like to be a king's move apart.", "king-apart"),
        ("Now think of the knight. If he can jump from one cell to another, their digits differ.", "knight-apart"),
        ("A number does not want to touch its twin. Not at the side, and not at the corner.", "king-apart"),
        ("When you times all the numbers in a dotted cage together, you get the small number.", "cage"),
        ("A shaded square always hides an even number: 2, 4, 6 or 8.", "even"),
        ("Round grey spot: an odd digit.", "odd"),
        ("Side-by-side digits on a green line are never closer than five to one another.", "gap-line"),
        ("The digits on a violet line form a sequence of directly successive numbers in any order.", "run-line"),
        ("The blue number in a small box at the edge is the sum of the numbers between the 1 and the 9 in that line.",
         "sandwich"),
        ("Digits in a little pad at a crossing must all be used in the four squares round it.", "corner-digits"),
        ("Green lozenges sit on even numbers.", "even"),
        ("The sign < means \"is less than\" and > means \"is more than\".", "greater"),
        ("Along a worm the numbers get bigger and bigger, starting from its round head!", "thermometer"),
        ("The hungry beaks between the squares always open towards the bigger number.", "greater"),
        ("Squares at a king's move from one another, a diagonal step included, never hold the same numeral.",
         "king-apart"),
        ("The numbers on a snake can be put in an order without a gap, but they may be lying about in a muddle.",
         "run-line"),
        ("A number in the margin is a sum. Suppose that the square nearest to it holds N; then the first N squares of "
         "that row or column, counted from the margin and the nearest included, sum to the number given.", "x-sum"),
        ("GREY thermometers: from the bulb on digits never get smaller (equal is allowed when the row/col/box rules "
         "permit).", "thermometer"),
        ("A smaller grid for the tea break: digits joined by a white dot are consecutive.", "consecutive-pair"),
        ("Grey tubes with a blob at one end get bigger and bigger the further you go from the blob.", "thermometer"),
    ],
)  # fmt: skip
def test_what_a_friendly_writer_says_is_a_rule(text: str, kind: str) -> None:
    assert surely(USUAL + text) == [*ROWS, kind]


def test_what_a_writer_says_happens_sometimes_is_read_and_may_be_asked_about() -> None:
    seen = "Sometimes you will see small numbers where four squares meet."
    assert kinds(f"{USUAL} {seen} Each of them must go in one of those four squares.") == [*ROWS, "corner-digits"]


def test_ones_are_the_marks_named_before() -> None:
    text = "Grey lines read the same forwards and backwards. On orange ones, neighbours have a difference of 4 or more."
    assert surely(text) == ["palindrome", "gap-line"]
    two = "Grey lines join blue dots. On orange ones, neighbours have a difference of 4 or more."
    assert "gap-line" not in surely(two)


@pytest.mark.parametrize(
    ("text", "negated"),
    [
        ("A bar joins consecutive digits. Not one of the pairs is missing.", False),
        ("A bar joins consecutive digits. I've drawn every last one of them, so no bar means no neighbours.", False),
        ("A bar joins consecutive digits. I've put in every possible bar, so if there's none, they aren't.", False),
        ("A bar joins consecutive digits. Further such pairs may go unmarked.", True),
    ],
)
def test_whether_marks_are_all_there(text: str, negated: bool) -> None:
    read = read_rules(text)
    assert [s.negated for s in read.statements if s.kind == "all-marked"] == [negated]
    assert read.not_understood == () and read.unsure == ()


@pytest.mark.parametrize(
    "talk",
    [
        "The arrows are the fun bit.",
        "Pretend your digits are tower blocks.",
        "Off the lines, anything goes.",
        "A dotted fence goes around some of the squares.",
        "Remember, small houses hide behind big ones!",
        "A nought means that the two are neighbours.",
    ],
)
def test_what_states_nothing_is_not_asked_about(talk: str) -> None:
    text = (
        f"{USUAL}The number outside is the sum of the digits between the 1 and the 9. Seen from a number at the edge, "
        f"taller buildings hide lower ones; it counts those in view. Digits in a dotted fence add up to its number. "
        f"{talk}"
    )
    read = read_rules(text)
    assert read.not_understood == () and read.unsure == ()


@pytest.mark.parametrize(
    "text",
    [
        "Bars between two squares mean that the digits come one after another or are equal.",
        "The digits on a purple strip do not follow one another without a gap when sorted.",
        "Add the digits between the 1 and the 9 and you never get the number outside.",
        "Digits on a line between two circles lie between them or equal them.",
        "Each digit on a line joining two balls is not between the digits at its ends.",
        "In exactly one place, cells with a grey square contain even digits.",
        "The digits on a thermometer increase from the bulb to the tip if the first of them is odd.",
    ],
)
def test_a_guess_with_something_left_over_is_asked_about(text: str) -> None:
    assert surely(text) == []


def test_a_guess_of_which_the_opinion_is_certain_is_not_asked_about() -> None:
    text = "All digits on the blue strand squiggle upwards, increasing as they flee the bulb of the thermometer."
    assert surely(USUAL + text) == [*ROWS, "thermometer"]
    assert kinds(USUAL + text) == [*ROWS, "thermometer"]


def test_a_ratio_that_lost_its_colon_is_no_twelve() -> None:
    (ratio,) = read_rules("Cells joined by a black dot hold digits in the ratio 12.").statements
    assert ratio.fields == {"ratio": 2}


def test_a_number_in_a_disc_is_a_case_of_its_ratio() -> None:
    plain = "A plain black disc: one digit is twice the other. "
    read = read_rules(plain + "A black disc with a 3 in it: one digit is three times the other.")
    assert [s.fields for s in read.statements] == [{"ratio": 2}]
    assert read.not_understood == () and read.unsure == ()
    other = read_rules(plain + "A black disc with a 3 in it: one digit is four times the other.")
    assert other.not_understood or other.unsure


@pytest.mark.parametrize(
    "text",
    [
        "Along a worm the numbers get bigger and bigger, until its round head!",
        "The numbers on a snake cannot be put in an order without a gap.",
        "A smaller grid without boxes: digits joined by a white dot are consecutive.",
        "Think of the knight. If he cannot jump from one cell to another, their digits differ.",
    ],
)
def test_near_misses_are_asked_about(text: str) -> None:
    assert surely(text) == []


@pytest.mark.parametrize(
    ("printed", "word"),
    [
        ("not even at a comer", "corner"),
        ("not even at a commer", "corner"),
        ("each rom, column", "row"),
        ("along each bive line", "blue"),
        ("start at the 1 and go on until the g", "9"),
        ("every emply cell", "empty"),
        ("a comet", "comet"),
    ],
)
def test_damaged_words_are_sooner_words_of_rules(printed: str, word: str) -> None:
    assert word in mended(printed).replace(",", "").split()


def test_a_comma_before_the_start_of_a_sentence_was_a_stop() -> None:
    text = "Each row, column and box holds 1 to 9, each once, The digits on an arrow sum to the number in its circle."
    assert [s.text for s in sentences(text)] == [
        "Each row, column and box holds 1 to 9, each once.",
        "The digits on an arrow sum to the number in its circle.",
    ]
