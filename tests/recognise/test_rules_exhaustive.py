"""Whether all marks are there, in any words for how many, of what, and there or not."""

from __future__ import annotations

import pytest

from recognise.rules.exhaustive import told_of_all
from recognise.rules.reader import read_rules

WHITE = "A white dot between two cells means that their digits are consecutive."
BLACK = "A black dot between two cells means that one digit is twice the other."
CROSS = "Two cells with an X between them add up to 10."


def _told(text: str) -> tuple[set[tuple[str, bool]], bool]:
    """What a text says of all marks of which kinds (False: not all are there), and whether anything is asked."""
    sheet = read_rules(text)
    told = {(str(s.fields["of"]), not s.negated) for s in sheet.statements if s.kind == "all-marked"}
    return told, bool(sheet.unsure or sheet.not_understood)


@pytest.mark.parametrize(
    "sentence",
    [
        "All of these have been marked.",
        "All consecutive neighbours are marked.",
        "None of the dots is missing.",
        "Dots have been drawn in all possible places.",
        "Every place where a dot could go has one.",
        "Whenever this happens a dot is drawn.",
        "Where it applies, it is marked.",
        "There are no other consecutive neighbours.",
        "There are no consecutive neighbours other than those marked.",
        "Only the marked pairs are consecutive.",
        "The absence of a dot means that the two digits are not consecutive.",
        "No white dot? Then they don't.",
        "Dots stand at all such places.",
        "There is a dot at each such border.",
        "You may assume that all dots are shown.",
        "The printer has drawn all such dots.",
    ],
)
def test_all_are_marked(sentence: str) -> None:
    assert _told(f"{WHITE} {sentence}") == ({("consecutive-pair", True)}, False)


def test_a_denial_denied_is_read_right_and_may_be_asked_about() -> None:
    assert _told(f"{WHITE} Not a single dot has been left out.")[0] == {("consecutive-pair", True)}


@pytest.mark.parametrize(
    "sentence",
    [
        "Not all points are drawn in.",
        "Only some are given.",
        "Just a few of these are shown.",
        "Some of them have been left out.",
        "Such pairs need not be marked.",
        "Other consecutive pairs may be unmarked.",
        "The absence of a dot means nothing.",
        "If there is no dot, nothing is known.",
        "Cells without a dot may or may not be consecutive.",
        "Consecutive neighbours do not always have a dot.",
        "Only a selection of the dots is given.",
        "Careful: a missing dot tells you nothing.",
        "There may be such neighbours without a dot.",
        "There may be further such pairs without a dot.",
        "Do not suppose that all such pairs have been so adorned.",
        "It would be wrong to assume that every dot is shown.",
        "The setter has drawn only some of them.",
        "Other edges may also fulfil this relation.",
    ],
)
def test_not_all_are_marked(sentence: str) -> None:
    assert _told(f"{WHITE} {sentence}") == ({("consecutive-pair", False)}, False)


@pytest.mark.parametrize(
    "sentence",
    [
        "All dots but one are given.",
        "One dot is missing.",
        "Some dots are wrong.",
        "Not all dots mean the same.",
        "Cells without a dot may be consecutive only in the first row.",
    ],
)
def test_what_says_something_else_is_asked_about(sentence: str) -> None:
    told, asked = _told(f"{WHITE} {sentence}")
    assert asked
    assert ("consecutive-pair", True) not in told


def test_marks_called_those_are_those_of_the_sentence_before() -> None:
    told, asked = _told(f"{WHITE} All white dots are given. {BLACK} Only some of those are given.")
    assert told == {("consecutive-pair", True), ("ratio-pair", False)}
    assert not asked


def test_both_colours_are_all_there() -> None:
    told, asked = _told(f"{WHITE} {BLACK} All dots of both colours are shown.")
    assert told == {("consecutive-pair", True), ("ratio-pair", True)}
    assert not asked


def test_without_a_letter_they_do_not_make_ten() -> None:
    assert _told(f"{CROSS} If there is no X, together they never make 10.") == ({("sum-pair", True)}, False)
    assert not _told("There are a few X, at each of which two neighbours make 10.")[0]


def test_that_not_all_numbers_outside_are_given_changes_nothing() -> None:
    text = (
        "Each row, column and box holds 1 to 9. A number outside the grid gives the sum of the digits between the 1 "
        f"and the 9. {BLACK} All black dots are given. Not every possible clue is given."
    )
    assert _told(text) == ({("ratio-pair", True)}, False)


def test_other_sentences_are_left_as_they_are() -> None:
    for sentence in (
        WHITE,
        "All digits are given in the grid.",
        "All pairs of consecutive digits are marked with a dot.",
    ):
        assert told_of_all(sentence, "") == sentence


def test_where_none_is_neither_is_double() -> None:
    told, asked = _told(f"{BLACK} Where there is none, neither digit is the double of its neighbour.")
    assert told == {("ratio-pair", True)}
    assert not asked


def test_where_none_is_neither_holds() -> None:
    told, asked = _told(f"{WHITE} {BLACK} Everywhere where no dot is given, neither of the two holds.")
    assert told == {("consecutive-pair", True), ("ratio-pair", True)}
    assert not asked


def test_signs_may_be_missing_too() -> None:
    sign = "Little arrowheads on the edges point at the smaller digit."
    assert _told(f"{sign} Missing arrowheads tell you nothing.") == ({("greater", False)}, False)
