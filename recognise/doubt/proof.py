"""The proof as a guard: prove the draft, and where it fails look for the likeliest reading that would settle it."""

from __future__ import annotations

import itertools
import math
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace

from checker.prove import Proof, is_unique, prove
from recognise.doubt.puzzle import as_puzzle
from recognise.doubt.readings import with_readings
from recognise.draft import Alternative, Doubt, Draft, Given, Item
from schema.kinds.base import Constraint
from schema.puzzle import Puzzle

SECONDS = 10.0
"""For one proof. Nearly all take milliseconds; a page is not held up for longer than this."""
SEARCH_SECONDS = 4.0
"""For trying alternatives after a proof that found none or several."""
FLIPS = 2
"""Readings that differ from the draft in more places than this are not looked at: a page that needs more is for a
person."""
CANDIDATES = 12
"""The least sure items whose alternatives are tried."""


@dataclass(frozen=True, slots=True)
class Proven:
    """A draft with its proof. `proof` is None when the draft is no valid puzzle; `draft.doubts` then say why."""

    draft: Draft
    puzzle: Puzzle | None
    proof: Proof | None


@dataclass(frozen=True, slots=True)
class _Change:
    """Reading item `index` as one of its alternatives, at a cost in log odds."""

    index: int
    other: Alternative
    cost: float


def proven(draft: Draft) -> Proven:
    """Prove a draft, its undecided marks read first. Where there is not exactly one solution, the likeliest change that
    leads to one is made, marked `inferred` and put to a person."""
    draft = with_readings(draft)
    puzzle = as_puzzle(draft)
    problems = puzzle.problems()
    if problems:
        doubts = tuple(Doubt(f"{problem.at or 'the puzzle'}: {problem.why}") for problem in problems)
        return Proven(draft.doubting(*doubts), None, None)
    proof = prove(puzzle, SECONDS)
    if proof.outcome == "one":
        return Proven(draft, puzzle, proof)
    settled = _settled(draft) if proof.outcome in ("none", "several") else None
    if settled is None:
        return Proven(draft.doubting(Doubt(_failure(proof))), puzzle, proof)
    puzzle = as_puzzle(settled)
    return Proven(settled, puzzle, prove(puzzle, SECONDS))


def _failure(proof: Proof) -> str:
    if proof.outcome == "none":
        what = "; ".join(suspect.why for suspect in proof.conflict)
        return f"no grid obeys all of this: {what}"
    if proof.outcome == "several":
        cells = ", ".join(map(str, proof.differ[:6])) + (" and more" if len(proof.differ) > 6 else "")
        return f"there are several solutions; they differ in {cells}"
    return f"it was not proved that there is one solution: {proof.note}"


def _settled(draft: Draft) -> Draft | None:
    """The draft with the likeliest change after which there is exactly one solution, when no other change of about
    the same likelihood does so too."""
    deadline = time.monotonic() + SEARCH_SECONDS
    found: list[tuple[float, Draft]] = []
    for changes in _by_cost(_changes(draft)):
        cost = sum(change.cost for change in changes)
        if found and cost > found[0][0] + math.log(10):
            break
        if time.monotonic() > deadline:
            # What was not looked at might have settled it just as well.
            return None
        changed = _changed(draft, changes)
        puzzle = as_puzzle(changed)
        if not puzzle.problems() and is_unique(puzzle, 1.0):
            found.append((cost, changed))
            if len(found) > 1:
                return None
    return found[0][1] if found else None


def _changes(draft: Draft) -> list[_Change]:
    doubtful = sorted(
        (i for i, item in enumerate(draft.items) if item.alternatives), key=lambda i: draft.items[i].confidence
    )
    changes = []
    for index in doubtful[:CANDIDATES]:
        item = draft.items[index]
        for other in item.alternatives:
            odds = math.log(max(item.confidence, 1e-9)) - math.log(max(other.confidence, 1e-9))
            changes.append(_Change(index, other, max(odds, 0.0)))
    return changes


def _by_cost(changes: list[_Change]) -> Iterator[tuple[_Change, ...]]:
    groups = [
        group
        for count in range(1, FLIPS + 1)
        for group in itertools.combinations(changes, count)
        if len({change.index for change in group}) == count
    ]
    return iter(sorted(groups, key=lambda group: sum(change.cost for change in group)))


def _changed(draft: Draft, changes: tuple[_Change, ...]) -> Draft:
    items = list(draft.items)
    doubts = list(draft.doubts)
    for change in changes:
        item = items[change.index]
        before = Alternative(item.value, item.confidence)
        items[change.index] = replace(item, value=change.other.value, how="inferred", alternatives=(before,))
        doubts.append(Doubt(_inferred(item, change.other), item=change.index))
    return replace(draft, items=tuple(items), doubts=tuple(doubts))


def _inferred(item: Item, other: Alternative) -> str:
    return f"it looks like {_shown(item.value)}, but only {_shown(other.value)} leaves exactly one solution"


def _shown(value: Given | tuple[Constraint, ...]) -> str:
    if isinstance(value, Given):
        return f"a {value.digit} in {value.cell}"
    if not value:
        return "nothing"
    return " and ".join(_brief(constraint) for constraint in value)


def _brief(constraint: Constraint) -> str:
    fields = constraint.model_dump(exclude={"kind"}, exclude_defaults=True, mode="json")
    stated = ", ".join(f"{key} {value}" for key, value in fields.items() if not isinstance(value, list))
    return f"{constraint.name} ({stated})" if stated else constraint.name
