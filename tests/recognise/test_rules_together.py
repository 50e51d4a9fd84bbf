"""Rules that several sentences tell together, and rows, columns and boxes by words of their own."""

from __future__ import annotations

import pytest

from recognise.rules.reader import read_rules

WALK = (
    "Place 1-9 once in each row, column and box. Circled clues: find the 1 of that row or column. From there go to the "
    "right (in a row) or down (in a column), adding up the digits until you meet the 9. If you fall off the edge, "
    "carry on from the other end of the same row or column. The 1 and the 9 themselves are not counted."
)


def test_a_walk_told_in_several_sentences_is_one_rule() -> None:
    sheet = read_rules(WALK, (1, 9))
    told = [s for s in sheet.statements if s.kind == "sandwich"]
    assert [s.fields for s in told] == [{"wrap": True}]
    assert sheet.not_understood == ()
    assert sheet.unsure == sheet.together[0], "the person, or the proof, is asked about all of them"
    assert sheet.together[0][0] == told[0].sentence


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (WALK.replace("themselves", "and all but one of the others"), "an exception"),
        (WALK.replace("If you fall", "After 3 cells turn round. If you fall"), "a number that the rule does not have"),
        (WALK.replace("From there go to the right", "From there go to the left"), "another way"),
    ],
)
def test_what_may_turn_the_rule_is_not_put_aside(text: str, why: str) -> None:
    sheet = read_rules(text, (1, 9))
    assert sheet.not_understood or not any(s.kind == "sandwich" and s.fields.get("wrap") for s in sheet.statements), why


def test_a_note_in_which_several_sentences_share_takes_none_of_their_rules() -> None:
    sheet = read_rules(
        "Each row, column and box takes 1 to 9. Whatever figure you write in a ringed square must equal all the "
        "figures under its string added together, right up to the arrowhead. One ring flies two kites at once. The "
        "little bubbles sit between figures that follow each other in counting. We have not blown every bubble we "
        "might have; no bubble, no promise."
    )
    assert {"arrow", "consecutive-pair"} <= {s.kind for s in sheet.statements}


@pytest.mark.parametrize(
    "text",
    [
        "Bring the numbers one to nine home: one of each in every street, every avenue and every quarter.",
        "The nine striped cells hold the digits 1 to 9, all different, just as every row, column and box does.",
        "Rows, columns and nests: 1 to 9.",
        "Nine jigsaw pieces instead of boxes. Each, like the rows and columns, has 1-9.",
    ],
)
def test_units_by_other_words_are_all_stated(text: str) -> None:
    assert {"rows", "columns", "boxes"} <= {s.kind for s in read_rules(text).statements if not s.negated}


@pytest.mark.parametrize(
    "text",
    [
        "Put 1 to 6 once into every row and every column. There are no boxes.",
        "Every row and every column has all of 1 to 6; nobody drew any squares this month, so there are no boxes.",
        "Put 1 to 6 once into every row and every column.",
        "Put 1 to 6 once into every row and every column. No number repeats in a row, column or diagonal.",
        "In no row, column or diagonal does a digit come twice.",
        "No digit may repeat in any row, column or line.",
    ],
)
def test_units_that_are_not_named_are_not_stated(text: str) -> None:
    assert "boxes" not in {s.kind for s in read_rules(text).statements if not s.negated}


def test_houses_explained_first_do_not_hide_what_the_numbers_count() -> None:
    sheet = read_rules(
        "Each number from 1 to 6 goes once into each row, each column and each block. The numbers are the heights of "
        "houses. A number at the edge tells how many houses you see when you look along the row or the column from "
        "there: taller houses hide the smaller ones behind them."
    )
    assert "skyscraper" in {s.kind for s in sheet.statements}
    assert sheet.not_understood == ()


def test_a_ratio_of_one_to_two_is_double() -> None:
    (pair,) = (s for s in read_rules("Digits joined by a black dot are in the ratio one to two.").statements)
    assert pair.fields == {"ratio": 2}
