"""What the ink and the ends of a line say beside the network: a second look that does not know what the first one saw.

Counted on the lines of 3,504 worn samples of the training half that trained nothing (numbers 920000 on), read as pages
are; `told` is what the network's doubts add up to there (`python -m fixtures.training.measure_links` counts the same on
lines as their steps make them). Steps that it takes for drawn, at a doubt of 0.3 and less:

    of a tube with its bulb, or of a shaft with its circle and its head: 0 of 8,495 are not there, told 19.2
    of a line between two circles: 5 of 6,117, told 24.9
    of other lines of several steps, at 0.01 and less: 3 of 12,287, told 14.3; above, in ink all along, clear of noise,
        and as wide and of the colour of a step before or after: 25 of 1,031, told 50.6; above, and not so: 43 of 912,
        told 59.6
    of a line of that one step alone: 48 of 1,146, told 32.0
    of a shaft at its capsule, at any doubt, shown by ink as above: 0 of 320, told 53.8; not so: 3 of 214, told 28.8
    of another line at a capsule: 7 of 18, told 3.8
    of a line of several steps, or one between two circles, at 0.1 and less, in ink all along, clear of noise, and as
        wide and of the colour of a step of another line of which the network is sure (1,553 such samples, numbers
        960000 on): 1 of 7,979, told 33.8; not so: 28 of 4,479, told 36.0. Alone, and so: 2 of 386, told 2.8

    of a line of several steps, in ink all along but for what other marks hide, clear of noise, where another step of
        it or of another line, of which the network is sure, has the look of this one (798 such samples, numbers 960000
        and 970000 on): 0 of 5,235, told 37.0. Alone, and so: 5 of 336, told 5.9: the rings of cups

Had one of these steps not been drawn, a piece of a tube would have no bulb, a piece of a line between circles but one.
A shaft that goes into another cell of its capsule than told counts as right: it states the same, and the network, which
is in doubt of just that, was so in 120 of the 534.
Steps on from the end of a line, at 0.00001 to 0.03:

    where the network is sure of the end, or at 0.01 and less of the bulb or circle there, with ink on less than 0.6 of
        their way: 0 of 25,338 are there, told 6.3; with more: 3 of 3,574, told 2.9
    elsewhere, with less ink: 32 of 28,346, told 22.7; with more: 63 of 5,152, told 13.2
    with next to no ink, on from a line that is in ink all along, at any end: 0 of 2,381, told 1.62 (709 such samples,
        numbers 950000 on); from a line that is not: 2 of 1,809, told 1.93
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from recognise.marks.lines import Course
from recognise.marks.network import Chances
from recognise.marks.steps import Step
from recognise.marks.strokes import Stroke
from schema.cells import Cell

WHOLE = 0.98
"""Part of a step's way that has ink where it is drawn all along."""
LIKE, ALIKE = 0.1, 1.4
"""How far the colours of two steps of one line are apart at most, and how many times as wide one is as the other."""
PIXEL = 0.017
"""In cells: the widths of one line differ by this as well, for they are measured in pixels, of which the thinnest have
two or three."""
SURE, SURE_END = 0.95, 0.99
"""From here on the network is sure of a bulb, a circle or a head, and that a line ends."""
SLIGHT, COUNTED = 0.01, 0.3
"""Up to the first a doubt is slight; up to the second was counted what the ends of a line leave of it: steps that the
network hardly sees and ink shows (`recognise.marks.bridges`) are beyond."""
HELD, RINGED, OF_SEVERAL, SHOWN = 0.05, 0.25, 0.28, 0.5
"""What is left of the network's doubt of a step whose line begins and ends as it must, or runs between two circles; of
a slight one where a line has several steps, and of a larger one where ink shows the step. All with one error more than
was counted."""
LIKE_SURE, LIKENESS, SURELY_DRAWN = 0.06, 0.1, 0.999
"""The same where ink shows the step in the look of another line's, up to the second, and of that the network is as sure
as the third: folds and creases, the commonest that are no lines, look like no line of their page."""
IN_WHOLE_LINE = 0.5 / 37
"""The same, at any doubt that was counted, where all of a line of several steps is in ink and looks like a sure one. Of
no error Jeffreys' prior makes half one. What the network takes for a line and is none is torn, pale or dashed, and
never sure in a part."""
INTO_CAPSULE, MOST_SHOWN = 0.14, 0.5 / 320
"""The same of a shaft at its capsule; and the most that is left where ink shows the step: the network's doubt is which
cell of the capsule it goes into, and says nothing of whether it does. Of no error in 320 Jeffreys' prior makes half
one."""
ALONE, AT_CAPSULE, LIKELY = 1.5, 2.2, 0.5
"""How many times as much of it there is where a line has no other step, and where one that is no shaft meets a capsule;
never more than this."""
HARDLY, BARE = 0.03, 0.6
"""A step is hardly thought of up to the first, and its way bare with ink on less of it than the second."""
WIDE, NARROW = 0.12, 0.5
"""In cells: a line so wide is told from a thin one that goes another way; what stands where it might go on is narrower
than this part of its width."""
UNSHOWN, INKED = 0.16, 4.9
"""What is left then of the doubt whether a line that surely ends has it, on a bare way; and how many times as much
there is on a way with ink, from an end that is not sure."""
INKLESS, WHOLLY_UNSHOWN = 0.05, 0.32
"""What a way has ink on at most that has none, and what is left of the doubt whether a line goes on there, from an end
that is not sure, if it is in ink all along itself."""
CAPSULE = 0.5
"""From here on a step ends in a capsule, which hides how it goes on."""


def drawn_doubt(step: Step, line: Course, chances: Chances, by_ends: float = 1.0, others: Iterable[Step] = ()) -> float:
    """How likely a step of a line is not drawn that the network takes for drawn; `by_ends` is what the ends of the line
    leave of that (`left_by_ends`), `others` are the steps of the other lines of its page."""
    doubt = 1 - step.drawn
    if max(chances.node(cell, "CAPSULE") for cell in (step.first, step.second)) > CAPSULE:
        if line.kind != "SHAFT":
            return min(AT_CAPSULE * doubt, LIKELY)
        return min(HELD * doubt, MOST_SHOWN) if is_shown(step, line.steps) else INTO_CAPSULE * doubt
    by_look = _left_by_look(step, line, tuple(others))
    if by_ends < 1.0 and doubt <= COUNTED:
        return min(by_ends, by_look) * doubt
    if len(line.steps) == 1:
        return min(ALONE * doubt, LIKELY)
    if doubt <= SLIGHT:
        return min(OF_SEVERAL, by_look) * doubt
    return min(by_look, SHOWN if is_shown(step, line.steps) else 1.0) * doubt


def _left_by_look(step: Step, line: Course, others: Sequence[Step]) -> float:
    """What the looks of a line and of the others leave of the doubt of a step."""
    doubt = 1 - step.drawn
    if doubt <= COUNTED and is_in_whole_line(step, line, others):
        return IN_WHOLE_LINE
    return LIKE_SURE if doubt <= LIKENESS and is_like_sure(step, others) else 1.0


def left_by_ends(line: Course, chances: Chances, ringed: bool, only_ringed: bool) -> float:
    """What the ends of a line leave of the doubt of its steps: without one of them there would be a piece that has not
    what its kind begins or ends in. `ringed` says that it runs between two circles, `only_ringed` that the rules know
    no other lines: then a piece with one circle would be as strange as a piece of a tube without a bulb."""
    if is_held(line, chances) or (ringed and only_ringed):
        return HELD
    return RINGED if ringed else 1.0


def is_held(line: Course, chances: Chances) -> bool:
    """Whether the network is sure of what a line begins in, and an arrow of its head too."""

    def ends_in(name: str) -> bool:
        return any(chances.node(cell, name) > SURE for cell in line.ends)

    return ends_in("BULB") if line.kind == "TUBE" else line.kind == "SHAFT" and ends_in("CIRCLE") and ends_in("HEAD")


def more_doubt(chance: float, end: Cell, line: Course, chances: Chances, way: Callable[[], Stroke]) -> float:
    """How likely a line has one more step at an end of it, to which the network gives a chance; `way` looks at the way
    there."""
    if chance > HARDLY:
        return chance
    sure, inked = is_sure_end(end, chance, chances), way().inked
    if inked < BARE:
        return UNSHOWN * chance if sure else WHOLLY_UNSHOWN * chance if inked <= INKLESS and is_whole(line) else chance
    return chance if sure else INKED * chance


def is_whole(line: Course) -> bool:
    """Whether a line is in ink all along, clear of noise, but for what other marks hide."""
    return all(map(_is_whole, line.steps))


def _is_whole(step: Step) -> bool:
    """The same of one step."""
    return step.stroke.open >= WHOLE and step.stroke.strong and not step.stroke.dashed


def is_narrower(way: Stroke, line: Course) -> bool:
    """Whether what runs all along a way is much narrower than a line that is drawn in one piece: another line goes
    there, and this one does not go on under it. Of a worn line, stretches would be bare."""
    strokes = [step.stroke for step in line.steps]
    whole = not any(stroke.outlined or stroke.dashed or not stroke.strong for stroke in strokes)
    own = min(stroke.spread for stroke in strokes)
    another = way.open >= WHOLE and way.strong and way.spread < NARROW * own
    return another and whole and line.kind != "TUBE" and own >= WIDE


def is_sure_end(end: Cell, chance: float, chances: Chances) -> bool:
    """Whether the network is sure that a line ends in a cell, or, where a further step has a slight chance at most, of
    the bulb or circle in which it begins."""
    starts = max(chances.node(end, name) for name in ("BULB", "CIRCLE"))
    return chances.node(end, "END") >= SURE_END or (starts > SURE and chance <= SLIGHT)


def is_shown(step: Step, others: Iterable[Step]) -> bool:
    """Whether ink shows a step by itself: all along, and like a step that it meets."""
    return _is_inked(step) and any(_meet(step, other) and _alike(step, other) for other in others)


def is_like_sure(step: Step, others: Iterable[Step]) -> bool:
    """Whether ink shows a step by itself, all along, and like a step of another line of which the network is sure."""
    sure = (other for other in others if other.drawn > SURELY_DRAWN and _is_inked(other))
    return _is_inked(step) and any(_alike(step, other) for other in sure)


def is_in_whole_line(step: Step, line: Course, others: Iterable[Step]) -> bool:
    """Whether all of a line of several steps is in ink, clear of noise, and another step of it, or one of another line,
    of which the network is sure, has the look of this step."""
    sure = (other for other in (*line.steps, *others) if other is not step and other.drawn > SURELY_DRAWN)
    whole = len(line.steps) > 1 and is_whole(line)
    return whole and any(_is_whole(other) and other.stroke.seen and _alike(step, other) for other in sure)


def _is_inked(step: Step) -> bool:
    """Whether a step is in ink all along, clear of noise."""
    return step.stroke.inked >= WHOLE and step.stroke.strong


def _meet(one: Step, other: Step) -> bool:
    return other is not one and bool({one.first, one.second} & {other.first, other.second})


def _alike(one: Step, other: Step) -> bool:
    """Whether two steps are of one look."""
    narrow, wide = sorted((one.stroke.width, other.stroke.width))
    return one.stroke.differs(other.stroke) < LIKE and narrow > 0 and wide < max(ALIKE * narrow, narrow + PIXEL)
