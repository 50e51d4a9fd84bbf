"""Steps of a line that the network hardly sees and ink shows: between two drawn steps of one look, from one to the
circle or head at which it has to end, or from where the network is sure that it does not end.

On about 300 worn samples of the training half (numbers from 4,000,000 on, which no network was trained on) there were
ten such links at 0.2 to 0.5, of which nine are drawn, and four at 0.1 to 0.2, of which one is."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.looks import CAPSULE, is_shown
from recognise.marks.network import Chances
from recognise.marks.spoken import Spoken
from recognise.marks.steps import KINDS, Step
from recognise.marks.strokes import Stroke
from schema.cells import Cell

POSSIBLE = 0.2
"""From this probability on a step may be one."""
STOPS = ("CIRCLE", "BULB", "HEAD")
"""Where a line ends."""
SOME_INK = 0.25
"""A step has ink on at least this part of its way: dots and short dashes cover no more where they are far apart."""


def bridges(steps: Sequence[Step], chances: Chances, measure: Callable[[Cell, Cell], Stroke]) -> Iterator[Step]:
    """The links in doubt, of those not drawn, on which ink stands all along, of the look of a drawn step that they meet
    at one end, with another such step or what ends a line at the other. What is doubtful of them stays so."""
    ends = {cell for step in steps for cell in (step.first, step.second)}
    for one, other, chance in chances.links():
        if POSSIBLE < sum(chance[name] for name in KINDS) <= DRAWN and ends & {one, other}:
            step = Step(one, other, chance, measure(one, other))
            if is_shown(step, steps) and all(_goes_on(cell, step, steps, chances) for cell in (one, other)):
                yield step


def going_on(
    steps: Sequence[Step], chances: Chances, measure: Callable[[Cell, Cell], Stroke], spoken: Spoken
) -> list[Step]:
    """The links in doubt by which lines go on whose last drawn step leads to a cell in which the network is sure that
    none ends, or where none can by the rules: pale lines under digits fade step by step. Of each only the one way that
    ink shows all along, in the look of the step before it, as far as that goes on. What is doubtful of them stays
    so."""
    found: list[Step] = []
    cells = [cell for step in steps for cell in (step.first, step.second)]
    reached = [cell for cell in dict.fromkeys(cells) if cells.count(cell) == 1]
    while reached:
        cell = reached.pop()
        step = _only_way_on(cell, [*steps, *found], chances, measure, spoken)
        if step is not None:
            found.append(step)
            reached.append(step.other(cell))
    return found


def _only_way_on(
    cell: Cell, steps: Sequence[Step], chances: Chances, measure: Callable[[Cell, Cell], Stroke], spoken: Spoken
) -> Step | None:
    """The only step in doubt out of a cell in which one drawn step and no line ends; an arrow ends in its head, and
    begins in a circle."""
    before = [step for step in steps if cell in (step.first, step.second)]
    ends = (*STOPS, "CAPSULE") if spoken.one_line == "SHAFT" else (*STOPS, "CAPSULE", "END")
    ended = max(chances.node(cell, name) for name in ends) > MIDDLING[0]
    if ended or len(before) != 1:
        return None
    ways = [
        Step(one, other, chance, measure(one, other))
        for one, other, chance in chances.links()
        if cell in (one, other) and MIDDLING[0] < sum(chance[name] for name in KINDS) <= DRAWN
        if {one, other} != {before[0].first, before[0].second}
    ]
    shown = [step for step in ways if is_shown(step, before) or _is_dotted_on(step, before[0])]
    return shown[0] if len(shown) == 1 else None


def _is_dotted_on(step: Step, before: Step) -> bool:
    """Whether a step goes on as a dotted line does: with dots no farther apart, of one look."""
    dotted = all(one.is_dotted and one.stroke.strong for one in (step, before))
    return dotted and step.looks_like(before)


def to_circles(
    steps: Sequence[Step], chances: Chances, measure: Callable[[Cell, Cell], Stroke], spoken: Spoken
) -> Iterator[Step]:
    """The links in doubt between the end of a line that has no circle and a circle that no line has, where the rules
    know only lines that end in circles, and there is one way only: dotted lines are hard to see. What is doubtful of
    them stays so."""
    met = [cell for step in steps for cell in (step.first, step.second)]
    loose = {cell for cell in met if met.count(cell) == 1 and chances.node(cell, "CIRCLE") < DRAWN}
    alone = {cell for cell in chances.cells() if cell not in met and chances.node(cell, "CIRCLE") > DRAWN}
    if not (spoken.ringed_only and spoken.one_line):
        return
    ways = [
        (one, other, chance)
        for one, other, chance in chances.links()
        if (one in loose and other in alone) or (one in alone and other in loose)
        if MIDDLING[0] < sum(chance[name] for name in KINDS) <= DRAWN
    ]
    for one, other, chance in ways:
        step = Step(one, other, chance, measure(one, other))
        shared = sum(bool({one, other} & {first, second}) for first, second, _ in ways)
        if shared == 1 and step.stroke.inked > SOME_INK:
            yield step


def _goes_on(cell: Cell, step: Step, steps: Sequence[Step], chances: Chances) -> bool:
    """Whether the line of a step goes on from one of its ends, or ends there in something, or upon a line of another
    look, which hides whether it does."""
    if chances.node(cell, "CAPSULE") > CAPSULE or any(chances.node(cell, name) > DRAWN for name in STOPS):
        return True
    met = [near for near in steps if cell in (near.first, near.second)]
    return is_shown(step, met) or (len(met) > 1 and all(near.clashes(step) for near in met))
