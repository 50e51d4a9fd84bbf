"""Areas of fewer cells than there are digits: when it is plain that none of their cells was missed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from recognise.doubt.partial import without_partial
from recognise.draft import Doubt, Draft, Item
from recognise.evidence import Flat, Words
from recognise.interpret.making import lacks_cells
from recognise.rules import RuleSheet, Statement
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.extra_region import ExtraRegion

CELL, SIZE = 32, 4
AREA = (Cell(2, 2), Cell(2, 3))
BESIDE = Cell(3, 3)
SOLUTION = {
    Cell(row, column): digit
    for row, digits in enumerate(((1, 2, 3, 4), (3, 4, 1, 2), (4, 1, 2, 3), (2, 3, 4, 1)), start=1)
    for column, digit in enumerate(digits, start=1)
}
DIFFER = RuleSheet((Statement("extra-region", {"partial": True}),))
DRAFT = Draft(
    Grid(rows=SIZE, columns=SIZE, digits=(1, 2, 3, 4)),
    (Item((ExtraRegion(cells=AREA),), None, 1.0, "shape"),),
    Words(),
).doubting(Doubt(lacks_cells(2, 4), item=0, meaning=True), Doubt("another", item=0))


def _flat(greys: dict[Cell, int]) -> Flat:
    page = np.full(((SIZE + 2) * CELL, (SIZE + 2) * CELL, 3), 240, np.uint8)
    for cell, grey in greys.items():
        page[cell.row * CELL : (cell.row + 1) * CELL, cell.column * CELL : (cell.column + 1) * CELL] = grey
    nowhere = np.zeros(page.shape[:2], np.float32)
    return Flat(page, SIZE, SIZE, CELL, 1, nowhere, nowhere)


def _asked(greys: dict[Cell, int], sheet: RuleSheet = DIFFER, draft: Draft = DRAFT) -> list[str]:
    shown = dict.fromkeys(AREA, 200) | greys
    return [doubt.why for doubt in without_partial(draft, SOLUTION, sheet, set(AREA), _flat(shown)).doubts]


def test_an_area_with_plain_cells_around_it_is_whole() -> None:
    assert _asked({}) == ["another"]


def test_a_cell_beside_it_that_is_not_quite_plain_may_be_of_it_unless_its_digit_is_there_already() -> None:
    assert _asked({BESIDE: 220}) == [lacks_cells(2, 4), "another"]
    assert SOLUTION[Cell(1, 4)] == SOLUTION[AREA[0]]
    assert _asked({Cell(1, 4): 200}) == ["another"]


def test_of_a_pale_tint_nobody_knows() -> None:
    assert lacks_cells(2, 4) in _asked(dict.fromkeys(AREA, 236))


def test_areas_that_hold_all_digits_are_asked_about() -> None:
    assert lacks_cells(2, 4) in _asked({}, RuleSheet((Statement("extra-region"),)))
    assert lacks_cells(2, 4) in _asked({}, RuleSheet(()))


def test_cells_of_another_area_are_accounted_for() -> None:
    corner = Cell(3, 4)
    other = Item((ExtraRegion(cells=(corner, Cell(4, 4))),), None, 1.0, "shape")
    draft = replace(DRAFT, items=(*DRAFT.items, other))
    assert _asked({corner: 200}) == [lacks_cells(2, 4), "another"]
    assert _asked({corner: 200}, draft=draft) == ["another"]
