"""Lines that forbid nothing: nobody prints one, and no proof tells whether one is there.

A between line that is all ends, or a box-sum line that never leaves its box, says nothing about any digit. The mark
that was taken for it is likely another, or a part of one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from recognise.draft import Doubt, Draft, only_constraint
from schema.cells import Cell
from schema.kinds.base import Constraint
from schema.kinds.between_line import BetweenLine
from schema.kinds.box_sum_line import BoxSumLine
from schema.kinds.boxes import Boxes

ONLY_ENDS = 2
"""Cells of a between line that has none between its ends."""


def idle_lines(draft: Draft) -> Iterator[Doubt]:
    """A doubt for each line of the draft that no digits can break."""
    boxes = boxes_of(draft)
    for index, item in enumerate(draft.items):
        line = only_constraint(item.value)
        if line is not None and forbids_nothing(line, boxes):
            yield Doubt(f"this {line.name} would forbid nothing: is it one?", item=index)


def boxes_of(draft: Draft) -> list[set[Cell]]:
    """The cells of each box."""
    return [set(box) for rule in draft.constraints if isinstance(rule, Boxes) for box in rule.cells]


def forbids_nothing(line: Constraint, boxes: Sequence[set[Cell]]) -> bool:
    """Whether no digits can break a line, on a grid with these boxes."""
    if isinstance(line, BetweenLine):
        return len(line.path) == ONLY_ENDS
    return isinstance(line, BoxSumLine) and any(box.issuperset(line.path) for box in boxes)
