"""Questions about the way of a line that the proof of the page answers.

Whether a step of a line is drawn is asked about where the picture leaves it open. But a printed puzzle has one
solution: where none of the ways in which the doubtful steps of that line could go otherwise, one by one or several at
once, leaves one, the line was printed as it is read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations

from checker.search import Effort
from recognise.doubt.ways import other_way, proves, second_ways_in
from recognise.draft import Doubt, Draft, Value, only_constraint
from recognise.evidence import Slip
from recognise.marks.line_questions import goes_on_words, little_ink_words, not_joined_words
from schema.paths import path_of, steps_of

SECONDS = 4.0
"""Of work, for all questions of a page."""
MOST = 4
"""Doubtful steps of one line; of more, the line as a whole is in doubt."""


def without_excluded(draft: Draft) -> Draft:
    """The draft, which has one solution, without the questions about steps of lines that the proof answers."""
    effort = Effort(SECONDS)
    asked: dict[int, dict[int, Slip]] = {}
    for place, doubt in enumerate(draft.doubts):
        slip = _slip_of(draft, doubt)
        if slip is not None and doubt.item is not None:
            asked.setdefault(doubt.item, {})[place] = slip
    answered = {
        place
        for index, slips in asked.items()
        if len(slips) <= MOST and _none_is_left(draft, index, tuple(dict.fromkeys(slips.values())), effort)
        for place in slips
    }
    return replace(draft, doubts=tuple(doubt for place, doubt in enumerate(draft.doubts) if place not in answered))


def _slip_of(draft: Draft, doubt: Doubt) -> Slip | None:
    """The step that a question is about; None for a question about something else."""
    if doubt.item is None:
        return None
    return next((slip for slip in draft.items[doubt.item].slips if doubt.why in _words(slip)), None)


def _words(slip: Slip) -> Sequence[str]:
    one, other = slip.first, slip.second
    if slip.drawn:
        return not_joined_words(one, other), little_ink_words(one, other)
    return goes_on_words(one, other), goes_on_words(other, one)


def _none_is_left(draft: Draft, index: int, slips: Sequence[Slip], effort: Effort) -> bool:
    """Whether the puzzle has no single solution with any of these steps, or several of them, the other way."""
    ways = list(_ways(draft.items[index].value, slips))
    return all(way is not None and effort.left > 0 and proves(draft, {index: way}, effort) == 0.0 for way in ways)


def _ways(value: Value, slips: Sequence[Slip]) -> Iterator[Value | None]:
    """What an item states with some of the steps the other way, nothing where none is left; None where that is not
    known."""
    for count in range(1, len(slips) + 1):
        for some in combinations(slips, count):
            yield from [()] if _are_all(some, value) else _otherwise(value, some)


def _otherwise(value: Value | None, slips: Sequence[Slip]) -> Iterator[Value | None]:
    """What an item states with these steps the other way; an arrow may go on from its circle in two ways."""
    if value is None or not slips:
        yield value
        return
    first, *rest = slips
    into = second_ways_in(value, first)
    for changed in [other_way(value, first)] if into is None else into:
        yield from _otherwise(changed, rest)


def _are_all(slips: Sequence[Slip], value: Value) -> bool:
    """Whether these are all steps of what an item states."""
    path = path_of(only_constraint(value))
    undone = {frozenset((slip.first, slip.second)) for slip in slips if slip.drawn}
    return len(path) > 1 and undone == steps_of(path)
