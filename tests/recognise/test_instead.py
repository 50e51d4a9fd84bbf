"""How many solutions a puzzle has with something else in an item's place, without solving it for each."""

from __future__ import annotations

import pytest

from checker.prove import is_unique
from checker.search import Effort
from recognise.doubt import instead
from recognise.doubt.instead import Instead, with_values
from recognise.doubt.puzzle import as_puzzle
from recognise.draft import Draft, Given, Item, Value
from recognise.evidence import Words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.all_marked import AllMarked
from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.kinds.cage import Cage
from schema.kinds.columns import Columns
from schema.kinds.extra_region import ExtraRegion
from schema.kinds.rows import Rows
from schema.kinds.sandwich import Sandwich
from schema.kinds.sum_pair import SumPair

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
FULL = ("1234", "3412", "2143", "4321")
WHERE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0))


def cells(*names: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, names))


def _draft(shown: str, *constraints: Constraint) -> Draft:
    """The grid with the digits of `FULL` in the cells named, and constraints, the last of which is in doubt."""
    rules = [Item((rule,), None, 1.0, "text") for rule in (Rows(), Columns(), Boxes.regular(GRID, 2, 2))]
    givens = [
        Item(Given(cell, int(FULL[cell.row - 1][cell.column - 1])), WHERE, 1.0, "shape")
        for cell in cells(*shown.split())
    ]
    marks = [Item((constraint,), WHERE, 0.9, "shape") for constraint in constraints]
    return Draft(GRID, (*rules, *givens, *marks), Words())


def _one_by_one(draft: Draft, values: list[Value]) -> list[float]:
    """What the solver says of each puzzle by itself."""
    puzzles = [as_puzzle(with_values(draft, {len(draft.items) - 1: value})) for value in values]
    return [0.0 if puzzle.problems() or is_unique(puzzle) is False else 1.0 for puzzle in puzzles]


def _at_once(draft: Draft, values: list[Value]) -> list[float]:
    proves = Instead(draft, len(draft.items) - 1, Effort(10.0))
    return [proves(value) for value in values]


CAGE = Cage(cells=cells("r1c1", "r1c2", "r2c1"), value=6, operation="sum")
PAIR = SumPair(cells=(Cell(1, 1), Cell(2, 1)), value=4)
DIAGONAL, BENT = cells("r1c1", "r2c2", "r3c3", "r4c4"), cells("r1c1", "r2c2", "r2c3", "r2c4")


@pytest.mark.parametrize(
    ("draft", "values"),
    [
        (_draft("r1c3 r2c4 r3c2", CAGE), [(CAGE.model_copy(update={"value": n}),) for n in range(3, 13)]),
        (_draft("r4c4", CAGE), [(CAGE.model_copy(update={"value": n}),) for n in range(3, 13)]),
        (
            _draft("r1c3 r3c2", AllMarked(of="sum-pair"), SumPair(cells=(Cell(3, 3), Cell(3, 4)), value=7), PAIR),
            [(PAIR.model_copy(update={"value": n}),) for n in range(2, 9)],
        ),
        (_draft("r1c1 r2c2 r3c3 r4c3"), [Given(Cell(4, 3), digit) for digit in (1, 3, 4)]),
        (
            _draft("r1c1 r1c2 r2c1 r3c3", Sandwich(side="left", index=1, value=5)),
            [(Sandwich(side="left", index=1, value=n),) for n in range(11)],
        ),
        (
            _draft("r1c1 r1c2 r2c1 r3c3", PAIR),
            [(ExtraRegion(cells=DIAGONAL),), (PAIR,), (ExtraRegion(cells=BENT),)],
        ),
    ],
)
def test_the_answers_are_those_that_the_solver_gives_of_each(draft: Draft, values: list[Value]) -> None:
    assert _at_once(draft, values) == _one_by_one(draft, values)


def test_a_puzzle_is_not_solved_for_each_number(monkeypatch: pytest.MonkeyPatch) -> None:
    solved = []
    monkeypatch.setattr(instead, "is_unique", lambda *a: solved.append(a) or is_unique(*a))
    draft = _draft("r1c3 r2c4 r3c2", CAGE)
    values: list[Value] = [(CAGE.model_copy(update={"value": n}),) for n in range(3, 13)]
    found = _at_once(draft, values)
    assert len(solved) == 1 and 0.0 in found


def test_what_is_not_known_lets_a_doubt_pass() -> None:
    draft = _draft("r1c3 r2c4 r3c2", CAGE)
    proves = Instead(draft, len(draft.items) - 1, Effort(0.0))
    assert proves((CAGE.model_copy(update={"value": 3}),)) == 1.0
