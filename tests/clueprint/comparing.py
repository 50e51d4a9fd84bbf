"""Marks and puzzles that the tests of `compare` share, and its answer where nothing is in doubt."""

from __future__ import annotations

from clueprint.compare import compare
from schema.cells import Cell
from schema.kinds import kind_named
from schema.puzzle import Puzzle
from tests.clueprint.proofs import proof_of, read_as
from tests.clueprint.reading_pages import small


def cells(text: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, text.split()))


def with_constraints(*more, **fields) -> Puzzle:
    puzzle = small()
    return puzzle.model_copy(update={"constraints": (*puzzle.constraints, *more), **fields})


THERMOMETER = kind_named("thermometer")(path=cells("r4c1 r3c1 r2c2 r1c3"))
SHORT = THERMOMETER.model_copy(update={"path": THERMOMETER.path[:-1]})
PALINDROME = kind_named("palindrome")(path=cells("r4c1 r3c1 r2c2"))
CAGE = kind_named("cage")(cells=cells("r1c1 r1c2"), value=3)
CLUE = kind_named("sandwich")(side="top", index=3, value=2)
DOT = kind_named("consecutive-pair")(cells=cells("r1c1 r1c2"))


def differences(source: Puzzle, printed: Puzzle):
    found = compare(proof_of(read_as(printed)), source)
    assert found.queries == ()
    return found.differences


def only(source: Puzzle, printed: Puzzle):
    (one,) = differences(source, printed)
    return one
