"""Sentences whose marks were not found, and marks of which no sentence speaks: what belongs together."""

import pytest

from recognise.evidence import Disc
from recognise.rules import MarkHint, Statement
from schema.cells import Cell
from tests.recognise.ideal_evidence import BLACK
from tests.recognise.meanings import drafted, reasons, stated

GREY = (170, 170, 170)
CIRCLES = (Disc((0.5, 0.5), 0.3, GREY, None, "vector"), Disc((2.5, 1.5), 0.3, GREY, None, "vector"))
DOTS = (Disc((1, 0.5), 0.12, None, BLACK, "vector"), Disc((1, 2.5), 0.12, None, BLACK, "vector"))
SAID = "Ringed cells are odd (A, B, C)."


def test_a_mark_is_what_the_one_sentence_speaks_of_that_calls_it_otherwise() -> None:
    draft = drafted(Statement("odd", {}, MarkHint("square"), SAID), discs=CIRCLES)
    assert {c.cells for c in stated(draft, "odd")} in ({(Cell(1, 1),), (Cell(2, 3),)}, {(Cell(1, 1), Cell(2, 3))})
    assert stated(draft, "unread-mark") == []
    assert any(SAID in why for why in reasons(draft))


def test_where_two_sentences_may_mean_a_mark_none_is_chosen() -> None:
    two = (Statement("odd", {}, MarkHint("letter"), "One."), Statement("even", {}, MarkHint("letter"), "Other."))
    draft = drafted(*two, discs=CIRCLES)
    assert stated(draft, "odd") == stated(draft, "even") == []
    assert stated(draft, "unread-mark") != []


def test_each_mark_goes_with_the_sentence_that_it_fits_better() -> None:
    odd = Statement("odd", {}, MarkHint("dot", "blue"), "Blue spots are odd.")
    even = Statement("even", {}, MarkHint("square", "red"), "Red squares are even.")
    draft = drafted(odd, even, discs=CIRCLES)
    assert stated(draft, "odd") != []
    assert stated(draft, "even") == []


@pytest.mark.parametrize("hint", [MarkHint("number", place="outside"), MarkHint("letter", letter="X", place="edge")])
def test_a_sentence_about_another_place_or_letter_is_not_taken(hint: MarkHint) -> None:
    draft = drafted(Statement("sum-pair", {"value": 10}, hint, "X is ten."), discs=DOTS)
    assert stated(draft, "sum-pair") == []


def test_a_sentence_whose_marks_are_there_takes_no_others() -> None:
    found = (*CIRCLES, Disc((1, 0.5), 0.12, None, BLACK, "vector"))
    draft = drafted(Statement("odd", {}, MarkHint("circle"), "Circles are odd."), discs=found)
    assert stated(draft, "odd") != []
    assert len(stated(draft, "unread-mark")) == 1
