"""The looks of a page's lines: print draws each kind in one colour and width, and all its lines together tell two looks
apart that are too near for two steps by themselves; where one line lies on another for a step, they tell that too.

Where a narrow line stops at a wider one, though no end of a line is seen there, and is there again one step farther, it
lies under that; this is asked about."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, permutations, product

import numpy as np

from recognise.grouping import chained
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.network import Chances
from recognise.marks.steps import OTHER_WIDTH, SAME_COLOUR, WIDER, Step
from recognise.marks.strokes import Stroke
from schema.cells import Cell

NEAR = 0.03
"""Strokes of one look differ by less, each from the next, in any channel (of full scale)."""
BROADER = 1.4
"""Strokes of one look are no more than so many times as wide, each as the next (or less than `WIDER` apart)."""
APART = 2.0
"""Two looks of one width are told apart where their colours are so many times as far apart as any of one look are."""
LEAST = 3
"""So many steps show a look."""
SHOWN = 0.85
"""The part of a step's way that other marks leave free, at least, where it shows a look."""
WIDE = 1.2
"""A line under another shows on both sides where ink goes on across it so many times as far (and `WIDER` farther)."""
DARK = 0.06
"""A line on another is no lighter than by itself by more than this, and differs from the other by more."""
UNENDED = 0.15
"""Where a line plainly ends the network is surer of that."""
LIKELY = 0.6
"""How likely a line goes on under another where nobody can see it."""
LAID = (0.75, 1.5)
"""Where a line lies on a wider one, ink goes on across it between so many times as far as on the wider one alone."""


@dataclass(frozen=True, slots=True)
class Look:
    """What the steps of one look have in common: colour, width, how far across them ink goes on (of outlines, from wall
    to wall), and how they are drawn."""

    shade: tuple[float, ...]
    width: float
    spread: float
    dashed: bool
    outlined: bool

    @staticmethod
    def of(strokes: Sequence[Stroke]) -> Look:
        """The middle of what strokes show."""
        red, green, blue = (float(value) for value in np.median([stroke.shade for stroke in strokes], axis=0))
        width, spread = (float(np.median([getattr(s, name) for s in strokes])) for name in ("width", "spread"))
        dashed, outlined = (float(np.mean([getattr(s, name) for s in strokes])) for name in ("dashed", "outlined"))
        reach = max(spread, width) if outlined > DRAWN else spread
        return Look((red, green, blue), width, reach, dashed > DRAWN, outlined > DRAWN)


def told_apart(steps: Sequence[Step], chances: Chances) -> list[Step]:
    """Steps that know their look, where a page plainly has several; one on which lines of two looks lie is there
    twice, once in each."""
    groups = _looks(steps, chances)
    looks = [Look.of([step.stroke for step in group]) for group in groups]
    own = {id(step): at for at, group in enumerate(groups) for step in group}
    near = own | {id(step): at for step in steps if id(step) not in own and (at := _nearest(step, looks)) is not None}
    at_ends = {cell: {near.get(id(step)) for step in meeting} for cell, meeting in _meeting(steps).items()}
    laid = {id(step): pair for step in steps if (pair := _laid_on(step, own.get(id(step)), looks, at_ends, chances))}
    left = {at for at, group in enumerate(groups) if any(id(step) not in laid for step in group)}
    laid = {step: pair for step, pair in laid.items() if left.issuperset(pair)}
    if len(left) < 2:
        return list(steps)
    found: list[Step] = []
    for step in steps:
        if id(step) in laid:
            found += [_drawn_as(step, at, looks[at]) for at in laid[id(step)]]
        else:
            found.append(replace(step, look=near.get(id(step))))
    return [*found, *_under(found, looks, chances)]


def _under(steps: Sequence[Step], looks: Sequence[Look], chances: Chances) -> list[Step]:
    """The steps on which a line lies hidden under a wider one, as it is drawn: it stops at one end of such a step,
    where no end is seen, and is there again at the other, or that has a circle, as all ends of its look have."""
    meeting = _meeting(steps)
    found: dict[tuple[Cell, Cell, int], Step] = {}
    for look, cell in product(range(len(looks)), meeting):
        seen = max(chances.node(cell, name) for name in ("END", "CIRCLE"))
        if not _stops(meeting[cell], look) or seen > UNENDED:
            continue
        over = [step for step in meeting[cell] if step.look not in (look, None)]
        ways = [step for step in over if looks[step.look or 0].spread > looks[look].spread]
        hidden = [step for step in ways if _stops(meeting[step.other(cell)], look)]
        if not hidden and _is_ringed(look, meeting, cell, chances):
            hidden = [step for step in ways if chances.node(step.other(cell), "CIRCLE") > DRAWN]
        if len(hidden) == 1:
            (step,) = hidden
            chance = {name: LIKELY * value / step.drawn for name, value in step.chance.items()}
            found[step.first, step.second, look] = replace(_drawn_as(step, look, looks[look]), chance=chance)
    return list(found.values())


def _stops(meeting: Sequence[Step], look: int) -> bool:
    """Whether one step of a look meets others in a cell, all of which know theirs."""
    return [step.look for step in meeting].count(look) == 1 and all(step.look is not None for step in meeting)


def _is_ringed(look: int, meeting: Mapping[Cell, Sequence[Step]], but: Cell, chances: Chances) -> bool:
    """Whether all lines of a look end in circles, one aside."""
    ends = [cell for cell, steps in meeting.items() if cell != but and _stops(steps, look)]
    return bool(ends) and all(chances.node(cell, "CIRCLE") > DRAWN for cell in ends)


def _is_plain(step: Step) -> bool:
    """Whether a step shows what its line looks like: dashes with paper beside and between them, or ink all along, or
    walls."""
    stroke = step.stroke
    if stroke.outlined:
        return stroke.walled >= SHOWN and stroke.seen and step.drawn > MIDDLING[1]
    dotted = step.is_dotted and stroke.strong and stroke.seen
    laid = stroke.dashed and stroke.spread > max(OTHER_WIDTH * stroke.width, stroke.width + WIDER)
    whole = (dotted or stroke.open >= SHOWN) and not laid
    return stroke.width > 0 and whole and step.drawn > MIDDLING[1]


def _nearest(step: Step, looks: Sequence[Look]) -> int | None:
    """The only look that a step may be of which shows none plainly by itself."""
    stroke = step.stroke
    if not stroke.seen or stroke.width <= 0:
        return None
    near = [at for at, look in enumerate(looks) if _is_of(stroke, look)]
    return near[0] if len(near) == 1 else None


def _is_of(stroke: Stroke, look: Look) -> bool:
    """Whether a stroke may be of a look: of about its colour and width, drawn as that is, no ink farther out."""
    narrow, wide = sorted((stroke.width, look.width))
    apart = max(abs(own - its) for own, its in zip(stroke.shade, look.shade, strict=True))
    as_far = stroke.spread < max(WIDE * look.spread, look.spread + WIDER)
    as_drawn = (stroke.dashed, stroke.outlined) == (look.dashed, look.outlined)
    return apart < SAME_COLOUR and wide < OTHER_WIDTH * narrow and as_drawn and as_far


def _looks(steps: Sequence[Step], chances: Chances) -> list[list[Step]]:
    """The steps of each look; those that a line joins as it goes on are of one look, whatever they look like: on a
    tint a line of thin ink is darker."""
    plain = [step for step in steps if _is_plain(step)]
    shown = [group for group in chained(plain, _is_near) if len(group) >= LEAST]
    alone = [meeting for meeting in _meeting(steps).items() if len(meeting[1]) == 2]
    joined = [pair for cell, pair in alone if chances.node(cell, "END") < MIDDLING[0]]

    def one_look(one: list[Step], other: list[Step]) -> bool:
        goes_on = any((a in one and b in other) or (a in other and b in one) for a, b in joined)
        return goes_on or not _are_apart(one, other)

    return [[step for group in together for step in group] for together in chained(shown, one_look)]


def _meeting(steps: Iterable[Step]) -> dict[Cell, list[Step]]:
    """The steps that meet in each cell."""
    found: dict[Cell, list[Step]] = {}
    for step in steps:
        for cell in (step.first, step.second):
            found.setdefault(cell, []).append(step)
    return found


def _is_near(one: Step, other: Step) -> bool:
    narrow, wide = sorted((one.stroke.width, other.stroke.width))
    as_drawn = one.stroke.outlined == other.stroke.outlined
    return as_drawn and one.stroke.differs(other.stroke) < NEAR and wide < max(BROADER * narrow, narrow + WIDER)


def _are_apart(one: Sequence[Step], other: Sequence[Step]) -> bool:
    """Whether the steps of two groups differ more than those of either do: in width, or in colour; or are hollow."""
    if one[0].stroke.outlined != other[0].stroke.outlined:
        return True
    widths = sorted((sorted(step.stroke.width for step in group) for group in (one, other)), key=lambda own: own[0])
    if widths[1][0] > max(BROADER * widths[0][-1], widths[0][-1] + WIDER):
        return True
    within = max(a.stroke.differs(b.stroke) for group in (one, other) for a, b in combinations(group, 2))
    return min(a.stroke.differs(b.stroke) for a in one for b in other) > APART * within


def _laid_on(
    step: Step, own: int | None, looks: Sequence[Look], at_ends: Mapping[Cell, set[int | None]], chances: Chances
) -> tuple[int, int] | None:
    """The looks of the two lines of which one lies on the other, wider one on a step: it is as wide as this and as dark
    as that or darker, and each goes on or ends at its ends. Where both might go on and an end is seen, it is a step by
    itself between the ends of others. Dashes hide much of the end of a line under them."""

    def fits(cell: Cell, both: set[int | None], least: float) -> bool:
        if both <= at_ends[cell]:
            return chances.node(cell, "END") <= DRAWN
        return max(chances.node(cell, name) for name in ("END", "CIRCLE")) > least

    for upper, lower in permutations([at for at in range(len(looks)) if at != own], 2):
        is_laid = _looks_laid(step.stroke, looks[upper], looks[lower])
        least = MIDDLING[0] if looks[upper].dashed else DRAWN
        if is_laid and all(fits(cell, {upper, lower}, least) for cell in (step.first, step.second)):
            met = at_ends[step.first] | at_ends[step.second]
            if {upper, lower} <= met:
                return upper, lower
    return None


def _looks_laid(stroke: Stroke, upper: Look, lower: Look) -> bool:
    """Whether a stroke looks like one line on another."""
    wide = (
        lower.spread > max(WIDE * upper.spread, upper.spread + WIDER)
        and LAID[0] < stroke.spread / max(lower.spread, NEAR) < LAID[1]
    )
    channels = zip(stroke.shade, upper.shade, lower.shade, strict=True)
    # Where dashes lie on it, what shows between them is the lower one.
    darker = all(own < (max(above, below) if upper.dashed else above) + DARK for own, above, below in channels)
    other = max(abs(own - below) for own, below in zip(stroke.shade, lower.shade, strict=True)) > DARK
    other = not stroke.outlined if lower.outlined else other
    return wide and darker and other


def _drawn_as(step: Step, at: int, look: Look) -> Step:
    """A step as one of the lines on it is drawn."""
    red, green, blue = look.shade
    stroke = replace(step.stroke, width=look.width, shade=(red, green, blue), outlined=look.outlined)
    return replace(step, stroke=stroke, look=at)
