"""Questions whether cells are tinted: which of them the solution answers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from recognise.doubt.tinted_cells import without_tints
from recognise.draft import Doubt, Draft, Given, Item
from recognise.evidence import Words
from recognise.rules.reader import read_rules
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.even import Even
from schema.kinds.extra_region import ExtraRegion
from schema.kinds.rows import Rows

GRID = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
ROWS = ("1234", "3412", "2143", "4321")
SOLUTION = {Cell(r, c): int(digit) for r, row in enumerate(ROWS, 1) for c, digit in enumerate(row, 1)}
USUAL = "Each row, column and box holds the digits 1 to 4."
EVENS = f"{USUAL} Shaded cells hold even digits."
REGIONS = f"{USUAL} In a shaded region no digit repeats."


def _cells(text: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, text.split()))


FITTING = ExtraRegion(cells=_cells("r1c3 r2c2 r2c3"))  # 3 4 1


def _asked(rules: str, why: str, *tints: Constraint, givens: str = "") -> bool:
    """Whether a question is left on a page with these tints; all digits are given but those in the cells named."""
    left = set(_cells(givens))
    stated = (Rows(), Columns(), Boxes.regular(GRID, 2, 2), *tints)
    items = [Item((one,), None, 1.0, "shape") for one in stated]
    items += [Item(Given(cell, digit), None, 1.0, "ocr") for cell, digit in SOLUTION.items() if cell not in left]
    draft = Draft(GRID, tuple(items), Words(rules_text=rules), (Doubt(why), Doubt("else")))
    unread = replace(draft, lost=("Something else.",))
    assert without_tints(unread, SOLUTION, read_rules(rules, (1, 4))) == unread
    return len(without_tints(draft, SOLUTION, read_rules(rules, (1, 4))).doubts) == 2


@pytest.mark.parametrize(
    ("cells", "asked"),
    [("r1c1", False), ("r1c2", True), ("r1c1, r1c3", False), ("r1c1, r1c2", True), ("r1c1, r1c3, r2c1, r2c4", True)],
)
def test_a_cell_that_may_be_tinted_is_not_where_its_digit_is_another(cells: str, asked: bool) -> None:
    verb = "are" if "," in cells else "is"
    even = Even(cells=_cells("r2c2 r3c3"))
    assert _asked(EVENS, f"whether {cells} {verb} tinted was hard to tell", even) is asked
    assert _asked(EVENS, f"the ground of {cells} is dark, and was taken for shade", even) is asked


def test_a_tinted_cell_in_doubt_is_tinted_where_the_puzzle_needs_it() -> None:
    swapped = "r1c1 r1c2 r2c1 r2c2 r3c1 r3c2 r4c1 r4c2"
    assert _asked(EVENS, "whether r1c2 is tinted was hard to tell", Even(cells=_cells("r1c2")), givens=swapped) is False
    assert _asked(EVENS, "whether r1c2 is tinted was hard to tell", Even(cells=_cells("r1c2")))


def test_one_cell_more_is_no_part_of_a_region_where_it_repeats_or_stands_alone() -> None:
    assert _asked(REGIONS, "whether r3c3 is tinted was hard to tell", FITTING) is False, "3 4 1 and 4"
    assert _asked(REGIONS, "whether r4c1 is tinted was hard to tell", FITTING) is False
    assert _asked(REGIONS, "whether r2c4 is tinted was hard to tell", FITTING), "3 4 1 and 2"


def test_regions_that_touch_are_not_told_by_where_they_end() -> None:
    beside = ExtraRegion(cells=_cells("r1c4 r2c4"))
    assert _asked(REGIONS, "whether r4c1 is tinted was hard to tell", FITTING, beside)


def test_a_whole_column_that_is_hardly_darker_is_no_tint_and_part_of_one_may_be() -> None:
    words = "the ground of {} is hardly darker than paper, and was taken for shade"
    assert _asked(USUAL, words.format("r1c1, r2c1, r3c1, r4c1")) is False
    assert _asked(USUAL, words.format("r1c1, r2c1, r3c1"))
    assert _asked(USUAL, words.format("r1c2, r2c2")), "both are even"
