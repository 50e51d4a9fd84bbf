"""Rules that were misread: told otherwise the puzzle has one solution, and a person is asked."""

from dataclasses import replace
from random import Random

import pytest

from fixtures.bench.same import differences
from fixtures.generator import make_puzzle
from recognise.doubt.policy import is_clean
from recognise.doubt.proof import proven
from recognise.doubt.puzzle import as_puzzle
from recognise.draft import Draft, Given, Item
from recognise.evidence import Words
from schema.kinds.king_apart import KingApart
from schema.puzzle import Puzzle


def _draft(puzzle: Puzzle, *more: Item) -> Draft:
    givens = (Item(Given(cell, digit), None, 1.0, "vector") for cell, digit in puzzle.givens.items())
    marks = (Item((constraint,), None, 1.0, "vector") for constraint in puzzle.constraints)
    return Draft(puzzle.grid, (*givens, *marks, *more), Words())


@pytest.mark.parametrize(("flavour", "field"), [("sandwich", "wrap"), ("thermometer", "strict")])
def test_a_field_that_all_marks_share_is_told_otherwise_and_asked_about(flavour: str, field: str) -> None:
    puzzle = make_puzzle(Random(f"told-otherwise-{flavour}"), (flavour,), digits="usual")
    misread = tuple(
        c.model_copy(update={field: not getattr(c, field)}) if c.kind == flavour else c for c in puzzle.constraints
    )
    result = proven(_draft(puzzle.model_copy(update={"constraints": misread})))
    assert differences(as_puzzle(result.draft), puzzle) == []
    (doubt,) = result.draft.doubts
    assert field in doubt.why
    assert len(doubt.also) == sum(c.kind == flavour for c in puzzle.constraints) - 1
    assert result.proof is not None
    assert not is_clean(result.draft, result.proof.outcome)


def test_a_rule_that_the_text_alone_states_is_left_out_where_nothing_else_helps() -> None:
    puzzle = make_puzzle(Random("told-otherwise-none"), (), digits="usual")
    result = proven(_draft(puzzle, Item((KingApart(),), None, 1.0, "text")))
    assert differences(as_puzzle(result.draft), puzzle) == []
    assert [doubt.why for doubt in result.draft.doubts] == [
        "no digit twice a king's move apart: there is exactly one solution only without this rule"
    ]


def test_what_a_person_has_settled_stays() -> None:
    puzzle = make_puzzle(Random("told-otherwise-none"), (), digits="usual")
    draft = _draft(puzzle, Item((KingApart(),), None, 1.0, "house-style"))
    result = proven(draft)
    assert replace(result.draft, doubts=()) == draft
    assert result.draft.doubts != ()
