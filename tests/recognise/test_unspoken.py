"""Marks of which no sentence of the rules speaks, and that mean the same wherever they are printed."""

from functools import cache
from random import Random

import pytest

from checker.prove import prove
from fixtures.generator import make_puzzle
from recognise.doubt.unspoken import without_unspoken
from recognise.draft import Doubt, Draft, Given, Item, only_constraint
from recognise.evidence import Words
from recognise.interpret.making import unspoken
from schema.puzzle import Puzzle

HARD = "it was hard to read"


@cache
def made(kind: str) -> Puzzle:
    return make_puzzle(Random(f"{kind}0"), [kind], 6, digits="usual")


def asked(puzzle: Puzzle, kind: str, *doubts: Doubt) -> set[str]:
    """What is still asked of marks of a kind that each are asked about as unspoken and hard to read."""
    items = [Item(Given(cell, digit), None, 1.0, "vector") for cell, digit in puzzle.givens.items()]
    items += [Item((c,), None, 1.0, "vector") for c in puzzle.constraints]
    marks = [(at, c) for at, item in enumerate(items) if (c := only_constraint(item.value)) and c.kind == kind]
    doubts += tuple(Doubt(why, item=at, meaning=True) for at, c in marks for why in (unspoken(c), HARD))
    solution = prove(puzzle).solution
    assert solution is not None
    left = without_unspoken(Draft(puzzle.grid, tuple(items), Words(), doubts), solution).doubts
    return {doubt.why for doubt in left}


def test_signs_between_cells_need_no_sentence_where_nothing_else_leaves_one_solution() -> None:
    assert asked(made("greater"), "greater") == {HARD}


def test_a_sentence_without_its_marks_may_be_that_of_marks_without_a_sentence() -> None:
    lost = "this sentence of the rules is not understood: “Mind the signs.”"
    assert asked(made("greater"), "greater", Doubt(lost)) >= {lost, unspoken(made("greater").constraints[-1])}


@pytest.mark.parametrize("kind", ["greater", "thermometer"])
def test_marks_that_the_puzzle_does_not_need_may_say_something_else(kind: str) -> None:
    puzzle = made(kind)
    solved = puzzle.model_copy(update={"givens": prove(puzzle).solution})
    assert len(asked(solved, kind)) == 2


def test_marks_that_may_state_something_else_of_their_sort_are_asked_about() -> None:
    assert len(asked(made("thermometer"), "thermometer")) == 2
