"""A smallest set of items that cannot all be right.

The method is QuickXplain (Junker, "QuickXplain: preferred explanations and relaxations for over-constrained problems",
AAAI 2004), followed by one pass that shows for each item left that the others without it have a solution.
"""

from __future__ import annotations

import random
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Literal

from checker.items import Items
from checker.search import CheckerFault, Clock, NoSolution, Solution, find, find_quickly

_ORDERS = 4
"""Different orders lead to different minimal sets; the smallest of so many is shown."""
_SEED = 5
"""Of the shuffled orders, which are the same at each run."""
_ENOUGH = 0.2
"""Seconds after which no other order is tried: a person waits for the answer."""
_SMALL = 2
"""So few marks and givens in a conflict cannot be bettered by much."""
_ONE_RUN = 1.0
"""Seconds that one question may take; a set so hard to decide explains nothing to a person anyway."""


@dataclass(frozen=True, slots=True)
class Conflict:
    """JSON Pointers of items that cannot all be right, in the order of the file. `minimal` when each of them was shown
    to be needed: without it, the others have a solution."""

    pointers: tuple[str, ...]
    minimal: bool


class _Questions:
    """Which sets of items have a solution. A grid that some question brought to light answers later ones too: every set
    that leaves out the items which it breaks has a solution; and a set that holds one without a solution has none."""

    def __init__(self, items: Items, clock: Clock) -> None:
        self._items = items
        self._clock = clock
        self._broken_by_a_grid: list[frozenset[str]] = []
        self._without_solution: list[frozenset[str]] = []

    def conflicts(self, pointers: list[str]) -> bool:
        """Whether one run found no solution; to run out of time counts as a solution: then more items are kept, and the
        set is still a conflict."""
        known = self._known(frozenset(pointers))
        if known is not None:
            return known == "none"
        part = self._items.only(pointers)
        found = find_quickly(part, part.board(), self._clock.part(_ONE_RUN))
        self._remember(pointers, found)
        return found == "none"

    def shown(self, pointers: list[str]) -> NoSolution | Literal["some"]:
        """Whether there is a solution, shown by a grid, or none, shown by two runs. Raises CheckerFault."""
        if self._known(frozenset(pointers)) == "some":
            return "some"
        part = self._items.only(pointers)
        found = find(part, part.board(), self._clock.part(_ONE_RUN))
        self._remember(pointers, found)
        return "some" if isinstance(found, dict) else found

    def _known(self, pointers: frozenset[str]) -> Literal["some", "none"] | None:
        if any(broken.isdisjoint(pointers) for broken in self._broken_by_a_grid):
            return "some"
        return "none" if any(conflict <= pointers for conflict in self._without_solution) else None

    def _remember(self, pointers: list[str], found: Solution | NoSolution) -> None:
        if isinstance(found, dict):
            self._broken_by_a_grid.append(frozenset(fault.item for fault in self._items.faults(found)))
        elif found == "none":
            self._without_solution.append(frozenset(pointers))


def smallest_conflict(items: Items, clock: Clock) -> Conflict:
    """A smallest set of `items` that has no solution; `items` as a whole must have none. Raises CheckerFault.

    Rules of the whole grid are preferred over marks, and marks over givens, because "these three givens, with the rule
    of the rows" says more to a person than a web of many marks."""
    general = [p for p, c in items.constraints.items() if any(True for _ in c.wholes(items.grid))]
    special = [p for p in items.pointers() if p not in general]
    shuffler = random.Random(_SEED)
    questions = _Questions(items, clock)
    started, best = clock.spent, general + special

    def size(pointers: list[str]) -> tuple[int, int]:
        return len(set(pointers) - set(general)), len(pointers)

    for _ in range(_ORDERS):
        best = min(best, _explain(questions, general + special), key=size)
        if size(best)[0] <= _SMALL or clock.spent - started > _ENOUGH:
            break
        shuffler.shuffle(special)
    return _shown_minimal(items, questions, best)


def conflict_among(items: Items, pointers: Collection[str], clock: Clock) -> tuple[str, ...]:
    """Those of `pointers` of which, with all other items as they are, one must be wrong: none of them could be left out
    as far as a single run of the solver tells. `items` as a whole must have no solution; empty when the others alone
    have none."""
    others = [p for p in items.pointers() if p not in pointers]
    return tuple(_explain(_Questions(items, clock), [p for p in items.pointers() if p in pointers], others))


def _explain(questions: _Questions, pointers: list[str], others: Sequence[str] = ()) -> list[str]:
    """QuickXplain over `pointers`, with `others` given; what stands early in the list is rather kept."""

    def needed(background: list[str], added: bool, candidates: list[str]) -> list[str]:
        if added and questions.conflicts(background):
            return []
        if len(candidates) == 1:
            return candidates
        middle = len(candidates) // 2
        early, late = candidates[:middle], candidates[middle:]
        from_late = needed(background + early, True, late)
        from_early = needed(background + from_late, bool(from_late), early)
        return from_early + from_late

    return needed(list(others), bool(others), pointers) if pointers else []


def _shown_minimal(items: Items, questions: _Questions, pointers: list[str]) -> Conflict:
    minimal = True
    kept = list(pointers)
    for pointer in pointers:
        rest = [p for p in kept if p != pointer]
        found = questions.shown(rest)
        if found == "none":
            kept = rest
        elif found == "unknown":
            minimal = False
    confirmed = questions.shown(kept)
    if confirmed == "some":
        raise CheckerFault("a set of items was found to have no solution, and then to have one")
    if confirmed == "unknown":
        return Conflict(tuple(items.pointers()), minimal=False)
    return Conflict(tuple(p for p in items.pointers() if p in kept), minimal)
