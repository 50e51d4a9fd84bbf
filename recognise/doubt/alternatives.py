"""The likeliest reading that leaves exactly one solution.

Readings are tried in the order of their total likelihood. One that has no solution teaches a conflict, a few items that
cannot all be as read, and only readings that change one of these are looked at after it: the tree of hitting sets of
Reiter, "A theory of diagnosis from first principles" (Artificial Intelligence 32, 1987), cheapest branch first.
"""

from __future__ import annotations

import heapq
import itertools
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from checker.prove import conflicting, solution_count
from checker.search import Effort
from recognise.doubt.puzzle import as_puzzle, item_pointers
from recognise.draft import Alternative, Doubt, Draft, Given, Item
from schema.kinds.base import Constraint
from schema.naming import stated_by
from schema.puzzle import Puzzle
from schema.words import listed, with_article

SECONDS = 4.0
"""Of work, for the whole search."""
ONE = 1.0
"""Of it, for one reading."""
CONTEST = math.log(10)
"""In log odds: another reading that settles the puzzle and is this near to the likeliest leaves it open."""
LIKELIER = math.log(3)
"""The same for the likeliest reading to be taken although another one settles the puzzle too, and to be asked about."""
LOOSE = 2
"""Changes up to which a reading is changed further although it has a solution, and no conflict says where."""
CANDIDATES = 12
"""The least sure items, whose change is tried there."""
LEAST = 1e-9
"""Nothing is taken for less likely than this."""

LOOKS_LIKE = "it looks like"
"""How a doubt about an item begins that the proof has changed."""

Choices = frozenset[tuple[int, int]]
"""Which items are read otherwise: (place in `Draft.items`, place in its alternatives)."""
Settling = tuple[float, Choices]
"""A reading that has exactly one solution: its cost, in log odds, and what it takes otherwise."""


@dataclass(frozen=True, slots=True)
class _Tree:
    """The readings that may be tried."""

    draft: Draft
    effort: Effort

    def cost(self, choices: Choices) -> float:
        """How much less likely than the draft, in log odds."""
        return sum(self._cost(index, which) for index, which in choices)

    def _cost(self, index: int, which: int) -> float:
        item = self.draft.items[index]
        odds = max(item.confidence, LEAST) / max(item.alternatives[which].confidence, LEAST)
        return max(math.log(odds), 0.0)

    def tried(self, choices: Choices) -> tuple[bool, Iterator[Choices]]:
        """Whether a reading has exactly one solution, and the readings to look at after it."""
        changed = changed_draft(self.draft, choices)
        puzzle = as_puzzle(changed)
        count = None if puzzle.problems() else solution_count(puzzle, self.effort.part(ONE))
        if count == 0:
            return False, self._further(choices, self._blamed(changed, puzzle, choices))
        loose = count is not None and len(choices) < LOOSE
        return count == 1, self._further(choices, self._least_sure() if loose else ())

    def _blamed(self, changed: Draft, puzzle: Puzzle, choices: Choices) -> set[int]:
        """The items of a reading without a solution of which one must be changed."""
        settled = {index for index, _ in choices}
        pointers = item_pointers(changed)
        owners = {
            pointer: index
            for index, names in enumerate(pointers)
            for pointer in names
            if index not in settled and self.draft.items[index].alternatives
        }
        blamed = conflicting(puzzle, owners.keys(), self.effort)
        return {owners[pointer] for pointer in blamed}

    def _least_sure(self) -> Iterable[int]:
        doubtful = [index for index, item in enumerate(self.draft.items) if item.alternatives]
        return sorted(doubtful, key=lambda index: self.draft.items[index].confidence)[:CANDIDATES]

    def _further(self, choices: Choices, items: Iterable[int]) -> Iterator[Choices]:
        settled = {index for index, _ in choices}
        for index in items:
            if index not in settled:
                for which in range(len(self.draft.items[index].alternatives)):
                    yield choices | {(index, which)}


def settled_by_proof(draft: Draft) -> Draft | None:
    """The draft read in the likeliest other way that has exactly one solution, each change marked `inferred` and put to
    a person. None where no such reading is found in time, or another of about the same likelihood settles it too."""
    return the_only(draft, settling(draft))


def the_only(draft: Draft, found: Sequence[Settling]) -> Draft | None:
    """The same, by the readings that were `found` to settle the draft."""
    return changed_draft(draft, found[0][1]) if len(found) == 1 else None


def likeliest_of_several(draft: Draft, found: Sequence[Settling]) -> Draft | None:
    """The same where another reading settles the puzzle too and is less likely, but not by enough to be left out: the
    likelier one is nearer to what is printed than a reading that has no solution. A person is asked about all that
    either changes. None where the two are about as likely."""
    if len(found) < 2 or found[1][0] - found[0][0] < LIKELIER:
        return None
    (_, choices), (_, others) = found
    changed = changed_draft(draft, choices, _likeliest)
    return changed.doubting(
        *(Doubt(_also(draft.items[i].alternatives[n]), item=i) for i, n in sorted(others - choices))
    )


def settling(draft: Draft) -> list[Settling]:
    """The likeliest reading of a draft that has exactly one solution, and the next likeliest if that is within
    `CONTEST` of it; none where the time was too short to tell."""
    tree = _Tree(draft, Effort(SECONDS))
    order = itertools.count()
    waiting: list[tuple[float, int, Choices]] = [(0.0, next(order), frozenset())]
    seen: set[Choices] = {frozenset()}
    found: list[Settling] = []
    while waiting and len(found) < 2:
        cost, _, choices = heapq.heappop(waiting)
        if found and cost > found[0][0] + CONTEST:
            break
        if not tree.effort.left:
            # What was not looked at might have settled it just as well.
            return []
        unique, branches = tree.tried(choices)
        if unique:
            found.append((cost, choices))
        for further in branches:
            if further not in seen:
                seen.add(further)
                heapq.heappush(waiting, (tree.cost(further), next(order), further))
    return found


def changed_draft(draft: Draft, choices: Choices, words: Callable[[Item, Alternative], str] | None = None) -> Draft:
    """The draft with some items read otherwise, and a doubt on each of them, in the `words` for that."""
    items, doubts = list(draft.items), list(draft.doubts)
    for index, which in sorted(choices):
        item = items[index]
        other = item.alternatives[which]
        before = Alternative(item.value, item.confidence)
        items[index] = replace(item, value=other.value, how="inferred", alternatives=(before,))
        doubts.append(Doubt((words or _inferred)(item, other), item=index))
    return replace(draft, items=tuple(items), doubts=tuple(doubts))


def _inferred(item: Item, other: Alternative) -> str:
    return f"{LOOKS_LIKE} {_shown(item.value)}, but only {_shown(other.value)} leaves exactly one solution"


def _likeliest(item: Item, other: Alternative) -> str:
    shown = _shown(other.value)
    return f"{LOOKS_LIKE} {_shown(item.value)}, but {shown} is the likeliest reading that leaves exactly one solution"


def _also(other: Alternative) -> str:
    return f"it may also be {_shown(other.value)}: read so, there is exactly one solution too"


def _shown(value: Given | tuple[Constraint, ...]) -> str:
    if isinstance(value, Given):
        return f"a {value.digit} in {value.cell}"
    return listed(with_article(stated_by(constraint)) for constraint in value) or "nothing"
