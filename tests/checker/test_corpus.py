"""The stored corpus: a sample of its puzzles is proved, each of them without the solver in mind."""

from __future__ import annotations

import pytest

from checker.items import Items
from checker.prove import prove
from fixtures.generator.corpus import CORPUS, stored
from schema.kinds import KINDS

PUZZLES = stored()
SAMPLE = [n for n, puzzle in enumerate(PUZZLES) if puzzle.grid.rows < 25][::12]


def test_the_corpus_is_large_and_holds_every_kind():
    assert sum(puzzle.grid.rows == 9 for puzzle in PUZZLES) >= 300
    assert {puzzle.grid.rows for puzzle in PUZZLES} >= {4, 6, 9, 16, 25}
    kinds = {constraint.kind for puzzle in PUZZLES for constraint in puzzle.constraints}
    assert kinds == {kind.model_fields["kind"].default for kind in KINDS} - {"unread-mark"}
    assert CORPUS.stat().st_size < 400_000


def test_every_puzzle_is_sound():
    assert [puzzle.problems() for puzzle in PUZZLES] == [[]] * len(PUZZLES)


@pytest.mark.parametrize("number", SAMPLE)
def test_puzzles_have_one_solution(number):
    puzzle = PUZZLES[number]
    proof = prove(puzzle)
    assert proof.outcome == "one"
    assert Items.of(puzzle).faults(proof.solution) == []


@pytest.mark.parametrize("number", SAMPLE[::6])
def test_a_given_against_the_solution_is_found(number):
    """A given that is not the solution's leaves none: the rest of the puzzle has one solution, or several; where it has
    several, the changed puzzle may have one, but never the same."""
    puzzle = PUZZLES[number]
    before = prove(puzzle).solution
    for cell, digit in list(puzzle.givens.items())[:1]:
        other = next(d for d in puzzle.grid.digits if d != digit)
        proof = prove(puzzle.model_copy(update={"givens": {**puzzle.givens, cell: other}}))
        assert proof.outcome in ("none", "one", "several")
        assert proof.solution != before
