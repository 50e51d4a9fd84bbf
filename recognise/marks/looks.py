"""What the ink of a step says beside the network: a second look at lines that does not know what the first one saw.

Counted on links between cells of 524 worn samples of the training half that trained nothing
(`python -m fixtures.training.measure_links DATA`), with no capsule at their ends; `told` is what the network's doubts
add up to there, in brackets what 2,139 samples gave with the network before:

    drawn, at 0.8 or more, in ink all along, clear of noise, and as wide and of the colour of a step before it or after
        it: 3 of 3,418 are not there, told 13.7 (19 of 15,803, told 60.8, most of them creases of the paper)
    drawn, at 0.8 or more, and not so: 8 of 1,594, told 14.8 (52 of 5,705, told 66.0)
    not drawn, at 0.03 or less, whatever ink there is: 18 of 16,152 are there, told 20.2; with hardly any 9 of 10,721,
        told 9.7, with ink nearly all along 3 of 949, told 2.7: the network as it is now has seen it all

At the ends of a line that ink shows all along the next step of it would show as well. Counted on 449 worn samples that
trained nothing (numbers 911000 to 911647 and 912000 to 912685), steps beyond such ends at 0.00001 to 0.03 with ink on
less than 0.6 of their way: 0 of 8,959 are there, told 3.5; with more, 7 of 1,265, told 1.7.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from recognise.marks.lines import Step
from recognise.marks.network import Chances
from recognise.marks.strokes import Stroke

WHOLE = 0.98
"""Part of a step's way that has ink where it is drawn all along."""
LIKE, ALIKE = 0.1, 1.4
"""How far the colours of two steps of one line are apart at most, and how many times as wide one is as the other."""
SHOWN = 0.35
"""What is left of the network's doubt where ink shows a step."""
HARDLY, BARE, UNSHOWN = 0.03, 0.6, 0.2
"""A step is hardly thought of up to the first, and its way bare with ink on less of it than the second; what is left
then of the doubt whether a line that ink shows has it: half an error of the 3.5 that were told is 0.14."""
CAPSULE = 0.5
"""From here on a step ends in a capsule, which hides how it goes on."""


def drawn_doubt(step: Step, others: Iterable[Step], chances: Chances) -> float:
    """How likely a step is not drawn that the network takes for drawn, of `others` of its line."""
    hidden = max(chances.node(cell, "CAPSULE") for cell in (step.first, step.second)) > CAPSULE
    return (1 - step.drawn) * (SHOWN if is_shown(step, others) and not hidden else 1.0)


def more_doubt(chance: float, line: Sequence[Step], way: Callable[[], Stroke]) -> float:
    """How likely a line has one more step that the network gives a chance; `way` looks at the way there."""
    if chance > HARDLY or not _is_shown_all_along(line) or way().inked >= BARE:
        return chance
    return UNSHOWN * chance


def _is_shown_all_along(line: Sequence[Step]) -> bool:
    strokes = [step.stroke for step in line]
    whole = all(stroke.inked >= WHOLE and stroke.strong for stroke in strokes)
    return whole and (len(line) == 1 or all(is_shown(step, line) for step in line))


def is_shown(step: Step, others: Iterable[Step]) -> bool:
    """Whether ink shows a step by itself: all along, and like a step that it meets."""
    whole = step.stroke.inked >= WHOLE and step.stroke.strong
    return whole and any(_alike(step, other) for other in others)


def _alike(one: Step, other: Step) -> bool:
    """Whether two steps meet and are of one look."""
    meet = {one.first, one.second} & {other.first, other.second}
    narrow, wide = sorted((one.stroke.width, other.stroke.width))
    return other is not one and bool(meet) and one.stroke.differs(other.stroke) < LIKE and wide < ALIKE * narrow
