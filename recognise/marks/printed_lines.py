"""Which steps of lines are printed: what the network hardly sees is added, what shows through is left out."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from recognise.marks.bridges import bridges, going_on, to_circles
from recognise.marks.entries import entered_once
from recognise.marks.fine_lines import with_fine
from recognise.marks.ghosts import Looks, branches, is_ghost
from recognise.marks.line_looks import told_apart
from recognise.marks.lines import MIDDLING, Course, courses, drawn_steps
from recognise.marks.network import Chances
from recognise.marks.shown_through import (
    hardly_printed,
    is_bare,
    is_none_of_them,
    is_unwalled,
    lacks_walls,
    palest_printed,
    printed_looks,
    shows_through,
)
from recognise.marks.spoken import Spoken
from recognise.marks.steps import Step
from recognise.marks.strokes import Stroke
from schema.cells import Cell

INKLESS = 0.98
"""A step on whose way no ink stands at all is in doubt unless the network is so sure: print of the other side, too pale
to count as ink, looks to it like one."""


def printed_steps(
    chances: Chances,
    measure: Callable[[Cell, Cell], Stroke],
    spoken: Spoken,
    fine: Callable[[Cell, Cell], Stroke],
) -> tuple[list[Step], list[Course], list[Step]]:
    """The steps of lines that are rather drawn than not; the lines that are hardly printed, and the steps that have
    no ink."""
    steps = drawn_steps(chances, measure)
    looks = printed_looks(steps, spoken.lines)
    palest = palest_printed(looks)
    steps = with_fine(steps, fine, palest) if spoken.links else steps
    steps += bridges(steps, chances, measure)
    steps += to_circles(steps, chances, measure, spoken)
    steps += going_on(steps, chances, measure, spoken)
    steps = entered_once(steps, chances, measure)
    hung = branches(steps, looks, chances, ringed=spoken.ringed_only)
    lines = courses([step for step in steps if step not in hung], chances, spoken) + courses(hung, chances, spoken)
    faded = [line for line in lines if _is_faded(line, lines, looks)]
    steps = [step for line in lines if line not in faded and not shows_through(line) for step in line.steps]
    bare = [step for course in courses(steps, chances, spoken) for step in course.steps if _is_bare(step, course)]
    return told_apart([step for step in steps if step not in bare], chances), faded, bare


def _is_faded(line: Course, lines: Sequence[Course], looks: Looks) -> bool:
    """Whether a line is hardly printed where others of its page are plain."""
    ghostly = all(is_ghost(step, looks) for step in line.steps)
    pale = hardly_printed(line, lines) or is_none_of_them(line, palest_printed(looks))
    return ghostly or pale or is_unwalled(line, lines)


def _is_bare(step: Step, course: Course) -> bool:
    """Whether a step in doubt has no more ink than print that shows through, and the rest of its line is plainly drawn;
    between the walls of a tube there is none either, and where they are missing it does not matter what the network
    thinks."""
    others = [other.stroke for other in course.steps if other is not step]
    if step.kind == "TUBE":
        return lacks_walls(step.stroke, others)
    return step.drawn < (MIDDLING[1] if step.stroke.inked else INKLESS) and is_bare(step.stroke, others)
