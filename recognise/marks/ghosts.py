"""Steps of lines that are no print of this side of the paper: where those of a page are plainly drawn, they have next
to no ink, or only that of a number and a sign which stand on their way."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from recognise.marks.lines import DRAWN
from recognise.marks.network import Chances
from recognise.marks.shown_through import PALEST_LINE, SOME_INK, darkness
from recognise.marks.steps import Step
from schema.cells import Cell

MOST = 0.65
"""Where less of its way has ink, that may be of other marks: a sign in its middle takes up six tenths of it."""
STOPS = ("CIRCLE", "BULB", "HEAD", "CAPSULE")
"""What a line leads to: up to there it may have faded."""

Looks = Sequence[Sequence[Step]]
"""The steps of a page that are plainly drawn, by their look; none where lines of another may be pale."""


def is_ghost(step: Step, looks: Looks) -> bool:
    """Whether a step is no print as the lines of its page are; of tubes only the walls are seen."""
    if not looks or step.kind == "TUBE":
        return False
    return _is_bare(step) or (step.stroke.open < MOST and is_other_ink(step, looks))


def is_other_ink(step: Step, looks: Looks) -> bool:
    """Whether what ink stands on a step looks like none of the lines of its page, all of which are drawn whole."""
    whole = not any(other.stroke.dashed or other.stroke.outlined for look in looks for other in look)
    return whole and step.stroke.seen and not any(step.looks_like(look[0]) for look in looks)


def branches(steps: Sequence[Step], looks: Looks, chances: Chances, *, ringed: bool) -> list[Step]:
    """The ghosts among steps that hang on a line which is printed at one end alone, and lead to nothing: what lies
    between two ends of lines, or before a circle, may have faded. Where all lines are `ringed`, what leaves one on its
    way and leads to no circle is none of it, however pale it is."""
    ghosts = [step for step in steps if is_ghost(step, looks) or (ringed and _is_blank(step))]
    met = Counter(cell for step in steps if step not in ghosts for cell in (step.first, step.second))
    least = 1 if looks else 2
    return [step for group in _joined(ghosts) if _is_loose(group, met, least, chances) for step in group]


def _is_blank(step: Step) -> bool:
    """Whether a step has no ink that is darker than what shows through, whatever the lines of its page look like."""
    return step.kind != "TUBE" and _is_bare(step) and darkness(step.stroke) < PALEST_LINE


def _is_bare(step: Step) -> bool:
    return not step.stroke.strong and max(step.stroke.inked, step.stroke.open) < SOME_INK


def _joined(steps: Sequence[Step]) -> Iterator[list[Step]]:
    """Steps that hang together."""
    left = list(steps)
    while left:
        group, cells = [], {left[0].first}
        while near := [step for step in left if cells & {step.first, step.second}]:
            group += near
            cells |= {cell for step in near for cell in (step.first, step.second)}
            left = [step for step in left if step not in near]
        yield group


def _is_loose(group: Sequence[Step], met: Mapping[Cell, int], least: int, chances: Chances) -> bool:
    """Whether steps meet what is printed, so many steps of it at `least`, in one cell alone, and what a line leads to
    in none beside it."""
    cells = {cell for step in group for cell in (step.first, step.second)}
    hung = [cell for cell in cells if met.get(cell, 0)]
    ended = any(chances.node(cell, name) > DRAWN for cell in cells.difference(hung) for name in STOPS)
    return len(hung) == 1 and met[hung[0]] >= least and not ended
