"""How much of the doubt about the way of a diagonal clue the proof of a page lets through."""

import pytest

from recognise.doubt.directions import REFUTED, escape_of_direction
from recognise.draft import Draft, Item
from recognise.evidence import Words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.diagonal_sum import DiagonalSum
from schema.kinds.sandwich import Sandwich

GRID = Grid(rows=9, columns=9, digits=tuple(range(1, 10)))


def _draft(*values) -> Draft:
    return Draft(GRID, tuple(Item((value,), None, 0.98, "ocr", extent=0.99) for value in values), Words())


def _clue(start: str, direction: str) -> DiagonalSum:
    return DiagonalSum(start=Cell.parse(start), direction=direction, value=17)


@pytest.mark.parametrize(
    ("start", "direction", "others"),
    [
        ("r1c5", "down-right", [("r1c3", "down-left")]),
        ("r6c9", "up-left", [("r8c9", "down-left")]),
        ("r1c2", "down-right", []),
        ("r9c4", "up-left", [("r9c6", "up-right")]),
    ],
)
def test_another_way_starts_from_the_same_place_beside_the_grid(start, direction, others) -> None:
    tried = []

    def proves(value) -> float:
        tried.append((str(value[0].start), value[0].direction))
        return 0.0

    assert escape_of_direction(_draft(_clue(start, direction)), 0, proves) == REFUTED
    assert tried == others


def test_a_way_that_leaves_one_solution_too_keeps_its_doubt() -> None:
    assert escape_of_direction(_draft(_clue("r1c5", "down-right")), 0, lambda value: 1.0) is None


def test_other_clues_have_no_way() -> None:
    assert escape_of_direction(_draft(Sandwich(side="left", index=1, value=7)), 0, lambda value: 0.0) is None
