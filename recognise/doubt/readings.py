"""Marks of which no rule says what they mean: each reading that the trade has for them is tried with the checker."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace

from checker.prove import is_unique
from checker.search import Effort
from recognise.doubt.lost_rules import with_lost_rules
from recognise.doubt.nothing import unread
from recognise.doubt.puzzle import as_puzzle
from recognise.draft import Alternative, Doubt, Draft, Reading, Undecided
from schema.words import listed

SECONDS = 8.0
"""Of work, for all readings of a page."""
ONE = 1.5
"""Of it, for one of them; nearly all take milliseconds."""
MOST = 400
"""Combinations of readings that are looked at: four looks of four readings each are 256."""

LIKELY = 0.02
"""The second opinion has this and more of what a sentence states which it names at all: half of all kinds stay below a
tenth of it."""
BY_FAR = 4.0
"""How many times as likely as the next a sentence must say something."""

Choice = tuple[Reading, ...]
"""One reading for each look of marks, in their order."""


@dataclass(frozen=True, slots=True)
class _Tried:
    """The choices that leave exactly one solution; `all` says whether every choice was looked at."""

    unique: tuple[Choice, ...]
    all: bool


def with_readings(draft: Draft) -> Draft:
    """The draft with what the checker says of marks that nothing explains. Where only one reading leaves exactly one
    solution it is taken, marked `inferred`; in any case a person is told which readings there are, and what came of
    each. Nothing is decided where not all of them could be tried. Where none will do and a sentence is not understood,
    they are tried together with each rule that no mark shows (`lost_rules.py`)."""
    if (not draft.undecided and not draft.lost) or _does_without(draft):
        return draft
    draft, tried = _with_lost_rule(draft, _tried(draft))
    questions = {undecided.question for undecided in draft.undecided}
    kept = tuple(doubt for doubt in draft.doubts if doubt.why not in questions)
    only = tried.unique[0] if tried.all and len(tried.unique) == 1 else None
    told = tuple(_told(draft, n, tried, only) for n in range(len(draft.undecided)))
    asked = replace(draft, doubts=kept + told)
    return asked if only is None else chosen(asked, only, infer=True)


def _with_lost_rule(draft: Draft, tried: _Tried) -> tuple[Draft, _Tried]:
    """The draft with the one rule that no mark shows and with which exactly one solution is left; of several the one
    that a sentence that is not understood says most likely, by far. Where there is one solution without any, that must
    be likely too. Otherwise the draft as it was."""
    if len(tried.unique) > 1 or not tried.all:
        return draft, tried
    found = []
    for likely, other in with_lost_rules(draft):
        more = _tried(other)
        if not more.all or len(more.unique) > 1:
            return draft, tried
        found += [(likely, other, more)] * len(more.unique)
    found.sort(key=lambda one: -one[0])
    least = max(BY_FAR * found[1][0] if len(found) > 1 else 0.0, LIKELY if tried.unique else 0.0)
    return found[0][1:] if found and found[0][0] >= least else (draft, tried)


def chosen(draft: Draft, choice: Choice, infer: bool = False) -> Draft:
    """The draft with its undecided marks read in one way."""
    items = list(draft.items)
    for undecided, reading in zip(draft.undecided, choice, strict=True):
        others = [other for other in undecided.readings if other is not reading]
        for place, (index, value) in enumerate(zip(undecided.items, reading.values, strict=True)):
            alternatives = tuple(Alternative(other.values[place], 0.0) for other in others) if infer else ()
            items[index] = replace(items[index], value=value, how="inferred", alternatives=alternatives)
    return replace(draft, items=tuple(items), undecided=())


def _tried(draft: Draft) -> _Tried:
    count = math.prod(len(undecided.readings) for undecided in draft.undecided)
    effort = Effort(SECONDS)
    unique: list[Choice] = []
    for choice in itertools.islice(itertools.product(*(u.readings for u in draft.undecided)), MOST):
        if not effort.left:
            return _Tried(tuple(unique), all=False)
        puzzle = as_puzzle(_without_unread(chosen(draft, choice)))
        if not puzzle.problems() and is_unique(puzzle, effort.part(ONE)):
            unique.append(choice)
    return _Tried(tuple(unique), all=count <= MOST)


def _does_without(draft: Draft) -> bool:
    """Whether marks of which no sentence speaks, though all are understood, are none of the puzzle's: it has exactly
    one solution without them."""
    if not any(undecided.all_said for undecided in draft.undecided):
        return False
    puzzle = as_puzzle(_without_unread(draft))
    return not puzzle.problems() and is_unique(puzzle, Effort(ONE)) is True


def _without_unread(draft: Draft) -> Draft:
    """The draft without the marks that nobody reads, of which no proof takes account."""
    return replace(draft, items=tuple(item for item in draft.items if not unread(item)))


def _told(draft: Draft, number: int, tried: _Tried, only: Choice | None) -> Doubt:
    undecided = draft.undecided[number]
    first, *others = undecided.items
    return Doubt(f"{undecided.question}; {_outcome(undecided, number, tried, only)}", item=first, also=tuple(others))


def _outcome(undecided: Undecided, number: int, tried: _Tried, only: Choice | None) -> str:
    if only is not None:
        return f"only {only[number].name} leaves exactly one solution, and is taken here"
    names = list(dict.fromkeys(choice[number].name for choice in tried.unique))
    tail = "" if tried.all else ", and not all of them could be tried"
    if not names:
        return f"none of them was found to leave exactly one solution{tail}"
    return f"{listed(names)} would leave exactly one solution{tail}"
