"""Constraints in words: each kind can be pointed at, and says what would tell it from its neighbour."""

from __future__ import annotations

import pytest

from schema.cells import Cell
from schema.kinds import KINDS
from schema.kinds.base import Constraint
from schema.kinds.cage import Cage
from schema.kinds.sandwich import Sandwich
from schema.kinds.thermometer import Thermometer
from schema.naming import cells_words, name_of, stated_by


def cells(text: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, text.split()))


@pytest.mark.parametrize(
    ("constraint", "words"),
    [
        (Thermometer(path=cells("r7c1 r6c1 r5c2")), "thermometer from r7c1 to r5c2"),
        (Thermometer(path=cells("r7c1 r6c1"), strict=False), "thermometer from r7c1 to r6c1 (not strict)"),
        (Cage(cells=cells("r1c2 r1c1"), value=12), "cage 12 at r1c1 and r1c2"),
        (
            Cage(cells=cells("r1c1 r1c2"), value=6, operation="product", repeats=True),
            "cage 6 at r1c1 and r1c2 (product, repeats)",
        ),
        (Sandwich(side="left", index=2, value=22), "sandwich clue 22 left of row 2"),
        (Sandwich(side="top", index=3, value=5, wrap=True), "sandwich clue 5 above column 3 (wrap)"),
    ],
)
def test_what_is_said_of_a_constraint(constraint: Constraint, words: str) -> None:
    assert stated_by(constraint) == words


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_every_kind_is_named_in_words_of_the_trade(kind: type[Constraint]) -> None:
    words = name_of(kind.sample().constraint)
    assert words.startswith(kind.name)
    assert "=" not in words and "None" not in words and "Cell" not in words


def test_many_cells_are_counted() -> None:
    assert cells_words(cells("r1c1 r1c2 r1c3 r1c4 r1c5")) == "at r1c1 (5 cells)"
    assert cells_words(cells("r2c1 r1c2")) == "at r1c2 and r2c1"
