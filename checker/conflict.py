"""A smallest set of items that cannot all be right.

The method is QuickXplain (Junker, "QuickXplain: preferred explanations and relaxations for over-constrained problems",
AAAI 2004), followed by one pass that shows for each item left that the others without it have a solution.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from checker.items import Items
from checker.search import CheckerFault, Clock, find, find_quickly

_ORDERS = 4
"""Different orders lead to different minimal sets; the smallest of so many is shown."""
_SEED = 5
_ENOUGH = 0.4
"""Seconds after which no other order is tried: a person waits for the answer."""
_SMALL = 2
"""So few marks and givens in a conflict cannot be bettered by much."""
_ONE_RUN = 2.0
"""Seconds that one question may take; a set so hard to decide explains nothing to a person anyway."""


@dataclass(frozen=True, slots=True)
class Conflict:
    """JSON Pointers of items that cannot all be right, in the order of the file. `minimal` when each of them was shown
    to be needed: without it, the others have a solution."""

    pointers: tuple[str, ...]
    minimal: bool


def smallest_conflict(items: Items, clock: Clock) -> Conflict:
    """A smallest set of `items` that has no solution; `items` as a whole must have none. Raises CheckerFault.

    Rules of the whole grid are preferred over marks, and marks over givens, because "these three givens, with the rule
    of the rows" says more to a person than a web of many marks."""
    general = [p for p, c in items.constraints.items() if any(True for _ in c.wholes(items.grid))]
    special = [p for p in items.pointers() if p not in general]
    shuffler = random.Random(_SEED)
    started, best = clock.spent, general + special

    def size(pointers: list[str]) -> tuple[int, int]:
        return len(set(pointers) - set(general)), len(pointers)

    for _ in range(_ORDERS):
        best = min(best, _explain(items, clock, general + special), key=size)
        if size(best)[0] <= _SMALL or clock.spent - started > _ENOUGH:
            break
        shuffler.shuffle(special)
    return _shown_minimal(items, clock, best)


def _explain(items: Items, clock: Clock, pointers: list[str]) -> list[str]:
    """QuickXplain over all of `pointers`; what stands early in the list is rather kept."""

    def conflicts(chosen: list[str]) -> bool:
        # Running out of time counts as "no conflict": then more items are kept, and the set is still a conflict.
        part = items.only(chosen)
        return find_quickly(part, part.board(), clock.part(_ONE_RUN)) == "none"

    def needed(background: list[str], added: bool, candidates: list[str]) -> list[str]:
        if added and conflicts(background):
            return []
        if len(candidates) == 1:
            return candidates
        middle = len(candidates) // 2
        early, late = candidates[:middle], candidates[middle:]
        from_late = needed(background + early, True, late)
        from_early = needed(background + from_late, bool(from_late), early)
        return from_early + from_late

    return needed([], False, pointers)


def _shown_minimal(items: Items, clock: Clock, pointers: list[str]) -> Conflict:
    minimal = True
    kept = list(pointers)
    for pointer in pointers:
        rest = [p for p in kept if p != pointer]
        part = items.only(rest)
        found = find(part, part.board(), clock.part(_ONE_RUN))
        if found == "none":
            kept = rest
        elif found == "unknown":
            minimal = False
    part = items.only(kept)
    confirmed = find(part, part.board(), clock)
    if isinstance(confirmed, dict):
        raise CheckerFault("a set of items was found to have no solution, and then to have one")
    if confirmed == "unknown":
        return Conflict(tuple(items.pointers()), minimal=False)
    return Conflict(tuple(p for p in items.pointers() if p in kept), minimal)
