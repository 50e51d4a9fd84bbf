"""Lines and regions that forbid nothing: nobody prints one, and no proof tells whether one is there.

A between line that is all ends, or a box-sum line that never leaves its box, says nothing about any digit; nor does a
region of one or two cells all in one row, column or box. The mark that was taken for it is likely another, or a part of
one: of a region with a cell that is hardly printed, such a part is left. Setters do lay larger regions into one box."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from recognise.draft import Doubt, Draft, only_constraint
from schema.cells import Cell
from schema.kinds.base import Constraint
from schema.kinds.between_line import BetweenLine
from schema.kinds.box_sum_line import BoxSumLine
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.extra_region import ExtraRegion
from schema.kinds.rows import Rows

ONLY_ENDS = 2
"""Cells of a between line that has none between its ends."""
SMALLEST = 3
"""Cells of the smallest region that is printed, though it may forbid nothing: so it is on each of 90 pages."""


def idle_lines(draft: Draft) -> Iterator[Doubt]:
    """A doubt for each line or region of the draft that no digits can break."""
    boxes = boxes_of(draft)
    for index, item in enumerate(draft.items):
        rule = only_constraint(item.value)
        if rule is not None and (forbids_nothing(rule, boxes) or is_scrap(rule, draft, boxes)):
            yield Doubt(f"this {rule.name} would forbid nothing: is it one?", item=index)


def boxes_of(draft: Draft) -> list[set[Cell]]:
    """The cells of each box."""
    return [set(box) for rule in draft.constraints if isinstance(rule, Boxes) for box in rule.cells]


def forbids_nothing(line: Constraint, boxes: Sequence[set[Cell]]) -> bool:
    """Whether no digits can break a line, on a grid with these boxes."""
    if isinstance(line, BetweenLine):
        return len(line.path) == ONLY_ENDS
    return isinstance(line, BoxSumLine) and any(box.issuperset(line.path) for box in boxes)


def is_scrap(region: Constraint, draft: Draft, boxes: Sequence[set[Cell]]) -> bool:
    """Whether a region is so small that it is a part of one, and lies in a row, column or box without repeats."""
    if not isinstance(region, ExtraRegion) or len(region.cells) >= SMALLEST:
        return False
    rules = set(map(type, draft.constraints))
    in_row = Rows in rules and len({cell.row for cell in region.cells}) == 1
    in_column = Columns in rules and len({cell.column for cell in region.cells}) == 1
    return in_row or in_column or any(box.issuperset(region.cells) for box in boxes)
