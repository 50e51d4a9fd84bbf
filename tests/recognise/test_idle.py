"""Lines and regions that forbid nothing are asked about."""

from __future__ import annotations

import pytest

from recognise.doubt.idle import idle_lines
from recognise.draft import Draft, Item, Words
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint
from schema.kinds.between_line import BetweenLine
from schema.kinds.box_sum_line import BoxSumLine
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.extra_region import ExtraRegion
from schema.kinds.palindrome import Palindrome

GRID = Grid(rows=6, columns=6, digits=tuple(range(1, 7)))


def asked(*stated: Constraint) -> list[int | None]:
    """The items that are asked about, after one that states the boxes."""
    items = (Boxes.regular(GRID, 2, 3), *stated)
    draft = Draft(GRID, tuple(Item((each,), None, 0.99, "vector") for each in items), Words())
    return [doubt.item for doubt in idle_lines(draft)]


def path(text: str) -> tuple[Cell, ...]:
    return tuple(map(Cell.parse, text.split()))


@pytest.mark.parametrize(
    "line",
    [BetweenLine(path=path("r1c1 r1c2")), BoxSumLine(path=path("r1c1 r2c2 r2c3"))],
)
def test_a_line_that_forbids_nothing_is_asked_about(line):
    assert asked(line) == [1]


@pytest.mark.parametrize(
    "line",
    [
        BetweenLine(path=path("r1c1 r1c2 r1c3")),
        BoxSumLine(path=path("r1c3 r1c4")),
        Palindrome(path=path("r1c1 r2c2")),
    ],
)
def test_a_line_that_forbids_something_is_not(line):
    assert asked(line) == []


@pytest.mark.parametrize("cells", ["r1c1", "r1c1 r2c3", "r1c6 r4c6"])
def test_a_scrap_of_a_region_in_one_box_or_column_is_asked_about(cells: str) -> None:
    assert asked(Columns(), ExtraRegion(cells=path(cells))) == [2]


@pytest.mark.parametrize("cells", ["r2c1 r3c2", "r1c1 r1c4", "r1c6 r2c6 r3c6"])
def test_a_region_that_leaves_its_box_or_is_larger_is_not(cells: str) -> None:
    assert asked(Columns(), ExtraRegion(cells=path(cells))) == []
