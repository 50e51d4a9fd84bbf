"""How arrows go into the capsules in which they begin: once, into whichever of its cells."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from recognise.marks.beside import drawn_chance, links_at
from recognise.marks.lines import DRAWN, MIDDLING, Course
from recognise.marks.looks import is_shown
from recognise.marks.network import Chances
from recognise.marks.steps import Step
from recognise.marks.strokes import Stroke
from schema.cells import Cell


def entered_once(steps: Sequence[Step], chances: Chances, measure: Callable[[Cell, Cell], Stroke]) -> list[Step]:
    """The steps, of those from one cell into several cells of one capsule the one with most ink on its way alone: a
    shaft enters a capsule once, and its outline looks like another. Which of its cells that is the network hardly sees:
    the way in that ink shows may be one that it took for none."""
    steps = [*steps, *_other_ways_in(steps, chances, measure)]

    def is_beaten(step: Step) -> bool:
        return any(
            _is_of_capsule(cell, near.other(outside), chances) and near.stroke.open > step.stroke.open
            for cell in (step.first, step.second)
            for outside in (step.other(cell),)
            for near in steps
            if near is not step and outside in (near.first, near.second) and near.other(outside).touches(cell)
        )

    return [step for step in steps if not is_beaten(step)]


def _other_ways_in(steps: Sequence[Step], chances: Chances, measure: Callable[[Cell, Cell], Stroke]) -> Iterator[Step]:
    """The links in doubt into other cells of the capsules that steps go into, which ink shows better than these."""
    tried = {frozenset((step.first, step.second)) for step in steps}
    ways = [(step, inside) for step in steps for inside in (step.first, step.second)]
    for step, inside in ways:
        for pair, chance in links_at(step.other(inside), chances):
            beyond = next(iter(pair - {step.other(inside)}))
            if pair in tried or drawn_chance(chance) <= MIDDLING[0] or not beyond.touches(inside):
                continue
            if _is_of_capsule(inside, beyond, chances):
                tried.add(pair)
                one, other = sorted(pair)
                way = Step(one, other, chance, measure(one, other))
                if way.stroke.open > step.stroke.open and is_shown(way, steps):
                    yield way


def _is_of_capsule(inside: Cell, beyond: Cell, chances: Chances) -> bool:
    """Whether two cells that touch are of one capsule."""
    return chances.node(inside, "CAPSULE") > DRAWN and chances.link(*sorted((inside, beyond)))["CAPSULE"] > DRAWN


def enters_again(cell: Cell, pair: frozenset[Cell], course: Course, chances: Chances) -> bool:
    """Whether a step out of a cell of an arrow goes into another cell of the capsule into which one does already: that
    states the same."""
    (beyond,) = pair - {cell}
    inside = (step.other(cell) for step in course.steps if cell in (step.first, step.second))
    return course.kind == "SHAFT" and any(
        near != beyond and near.touches(beyond) and chances.link(*sorted((near, beyond)))["CAPSULE"] > DRAWN
        for near in inside
    )
