"""Marks of which the proof does not say what they mean: they are read as the source has them.

What a mark means, and by which way a line goes that can be followed in several, does not stand on the paper: the same
ink would be printed for each reading. So the reading that the source has is taken, one for all marks that look alike,
and nothing that the proof could have otherwise is hidden by that."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from clueprint.compare.match import EXACT, likeness, says_the_same, spread
from recognise.draft import Draft, Reading, Undecided
from schema.grid import Grid
from schema.kinds.base import Constraint

Stated = tuple[Constraint, ...]


@dataclass(frozen=True, slots=True)
class Settled:
    """The draft with those marks read. `strange` are the places in its items of marks that are seen well and that no
    reading makes one of the source's; `contested` those of marks that look like others and stand, in the source, for
    something else than they."""

    draft: Draft
    strange: frozenset[int]
    contested: frozenset[int]


def settled(draft: Draft, expected: Sequence[Constraint]) -> Settled:
    """Read every undecided look of marks as the source has it, whose constraints are `expected`, spread."""
    items = list(draft.items)
    strange: set[int] = set()
    contested: set[int] = set()
    for undecided in draft.undecided:
        best = _best(draft.grid, undecided, expected)
        if best is None:
            strange.update(undecided.items)
            continue
        for place, index in enumerate(undecided.items):
            items[index] = replace(items[index], value=best.values[place])
            if not _all_in(best.values[place], expected) and any(
                _all_in(other.values[place], expected) for other in undecided.readings
            ):
                contested.add(index)
    known = replace(draft, items=tuple(items), undecided=())
    return Settled(known, frozenset(strange), frozenset(contested))


def _best(grid: Grid, undecided: Undecided, expected: Sequence[Constraint]) -> Reading | None:
    """The reading that makes the marks most like those of the source; None where none does."""
    scored = [(_score(grid, reading, expected), -n) for n, reading in enumerate(undecided.readings)]
    score, n = max(scored, default=(0.0, 0))
    return undecided.readings[-n] if score > 0 else None


def _score(grid: Grid, reading: Reading, expected: Sequence[Constraint]) -> float:
    """How many of the marks are then as in the source; those that are nearly so count for less."""
    return sum(_nearest(grid, constraint, expected) for constraint in _spread(reading.values))


def _nearest(grid: Grid, constraint: Constraint, expected: Sequence[Constraint]) -> float:
    best = max((likeness(grid, other, constraint) for other in expected), default=0.0)
    return best if best == EXACT else best / 2


def _all_in(value: Stated, expected: Sequence[Constraint]) -> bool:
    return bool(value) and all(any(says_the_same(c, other) for other in expected) for c in _spread([value]))


def _spread(values: Iterable[Stated]) -> list[Constraint]:
    return [one for value in values for constraint in value for one in spread(constraint)]
