"""Where a person is sent who reads that not all of a page can be right."""

from __future__ import annotations

import pytest

from recognise.doubt.proof import proven
from recognise.draft import Draft, Given, Item, box_polygon
from recognise.evidence import Words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))


def _given(name: str, digit: int, sure: float) -> Item:
    cell = Cell.parse(name)
    return Item(Given(cell, digit), box_polygon((cell.column - 1, cell.row - 1, cell.column, cell.row)), sure, "ocr")


def test_all_items_of_a_conflict_and_each_conflict_are_pointed_at() -> None:
    """Two 1s in row 1, and two 2s in column 4: whoever mends the one has still to find the other."""
    rules = [Item((kind,), None, 0.5, "text") for kind in (Rows(), Columns())]
    givens = [_given(*read) for read in (("r1c1", 1, 0.99), ("r1c3", 1, 0.999), ("r3c4", 2, 0.99), ("r4c4", 2, 0.9))]
    right = _given("r2c2", 3, 0.5)
    told = proven(Draft(GRID, (*rules, right, *givens), Words())).draft
    doubts = [doubt for doubt in told.doubts if "no grid obeys" in doubt.why]
    named = [{doubt.where, *(told.items[index].where for index in doubt.also)} for doubt in doubts]
    assert sorted(named, key=str) == sorted([{g.where for g in givens[:2]}, {g.where for g in givens[2:]}], key=str)


@pytest.mark.parametrize("least", ["r1c1", "r1c3"])
def test_a_conflict_points_at_its_least_sure_item(least: str) -> None:
    rules = [Item((kind,), None, 0.5, "text") for kind in (Rows(), Columns())]
    givens = [_given(name, 1, 0.999 if name == least else 0.9999) for name in ("r1c1", "r1c3")]
    other = _given("r3c4", 2, 0.9)
    told = proven(Draft(GRID, (*rules, other, *givens), Words()))
    (doubt,) = (doubt for doubt in told.draft.doubts if "no grid obeys" in doubt.why)
    assert doubt.where == next(given.where for given in givens if str(given.value.cell) == least)
