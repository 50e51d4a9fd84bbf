"""Lines that run through a circle in which others end: they have ink within it, where those stop at its rim."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from recognise.grouping import chained
from recognise.marks.lines import DRAWN, Course
from recognise.marks.network import Chances
from recognise.marks.steps import Step
from schema.cells import Cell

RUNS_IN, STOPS = 0.9, 0.2
"""A line runs into a circle with ink on at least so much of the way from its rim to its middle, and one that ends there
has it on no more than this."""
TWO = 2


def parted(lines: Iterable[Course], chances: Chances, within: Callable[[Cell, Cell], float | None]) -> list[Course]:
    """The lines, those that meet in a circle through which one of them plainly runs taken apart there. `within` says
    on how much of the way from the middle of a cell to the rim of its circle, towards another, ink stands; None where a
    digit stands in it."""
    return [part for line in lines for part in _parted(line, chances, within)]


def _parted(line: Course, chances: Chances, within: Callable[[Cell, Cell], float | None]) -> list[Course]:
    crossed = {
        cell: through
        for cell in line.cells
        if line.kind == "LINE" and line.degree(cell) > TWO and chances.node(cell, "CIRCLE") > DRAWN
        if (through := _through(cell, line, within))
    }

    def joined(one: Step, other: Step) -> bool:
        return _is_joined(one, other, crossed)

    groups = chained(line.steps, joined) if crossed else [line.steps]
    return [replace(line, steps=tuple(group)) for group in groups]


def _is_joined(one: Step, other: Step, crossed: dict[Cell, list[Step]]) -> bool:
    """Whether two steps of a line meet, and do so outside of the circles that are `crossed`, or both run through."""
    cells = {one.first, one.second} & {other.first, other.second}
    return any(cell not in crossed or (one in crossed[cell] and other in crossed[cell]) for cell in cells)


def _through(cell: Cell, line: Course, within: Callable[[Cell, Cell], float | None]) -> list[Step]:
    """The two steps that run through the circle of a cell, all others ending at its rim; none where ink does not say
    so plainly."""
    meeting = [step for step in line.steps if cell in (step.first, step.second)]
    inked = [within(cell, step.other(cell)) for step in meeting]
    if any(part is None or STOPS < part < RUNS_IN for part in inked):
        return []
    through = [step for step, part in zip(meeting, inked, strict=True) if part is not None and part >= RUNS_IN]
    return through if len(through) == TWO else []
