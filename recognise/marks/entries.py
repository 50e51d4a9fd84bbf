"""How arrows go into the capsules in which they begin: once, into whichever of its cells."""

from __future__ import annotations

from collections.abc import Sequence

from recognise.marks.lines import DRAWN, Course
from recognise.marks.network import Chances
from recognise.marks.steps import Step
from schema.cells import Cell


def entered_once(steps: Sequence[Step], chances: Chances) -> list[Step]:
    """The steps, of those from one cell into several cells of one capsule the one with most ink on its way alone: a
    shaft enters a capsule once, and its outline looks like another."""

    def is_beaten(step: Step) -> bool:
        return any(
            chances.node(cell, "CAPSULE") > DRAWN
            and chances.link(*sorted((cell, near.other(outside))))["CAPSULE"] > DRAWN
            and near.stroke.open > step.stroke.open
            for cell in (step.first, step.second)
            for outside in (step.other(cell),)
            for near in steps
            if near is not step and outside in (near.first, near.second) and near.other(outside).touches(cell)
        )

    return [step for step in steps if not is_beaten(step)]


def enters_again(cell: Cell, pair: frozenset[Cell], course: Course, chances: Chances) -> bool:
    """Whether a step out of a cell of an arrow goes into another cell of the capsule into which one does already: that
    states the same."""
    (beyond,) = pair - {cell}
    inside = (step.other(cell) for step in course.steps if cell in (step.first, step.second))
    return course.kind == "SHAFT" and any(
        near != beyond and near.touches(beyond) and chances.link(*sorted((near, beyond)))["CAPSULE"] > DRAWN
        for near in inside
    )
