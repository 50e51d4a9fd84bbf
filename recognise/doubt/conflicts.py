"""What cannot all be as it was read: each conflict of a draft without a solution is a question of its own.

A conflict is a few items of which at least one is wrong. The first says nothing of errors elsewhere: its items are left
out, and what is left may be in conflict once more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from checker.prove import Proof, prove, solution_count
from checker.search import Effort
from recognise.doubt.puzzle import as_puzzle, item_pointers
from recognise.draft import Doubt, Draft

SECONDS = 1.0
"""Of work, for each further conflict."""
MOST = 4
"""Conflicts that are told: of a page with more hardly anything can be believed."""


def conflict_doubts(draft: Draft, proof: Proof) -> Iterator[Doubt]:
    """A doubt for each conflict of a draft without a solution, of which `proof` names the first. It points at all items
    that take part in it, and stands at the least sure of them: there a person looks first."""
    left = draft
    told = proof
    for _ in range(MOST):
        named = _items_of(left, told)
        least = min(named, key=lambda index: draft.items[index].confidence, default=None)
        others = tuple(index for index in named if index != least)
        yield Doubt(_words(told), where=None if least is None else draft.items[least].where, also=others)
        if least is None:
            return
        left = _without(left, named)
        if solution_count(as_puzzle(left), Effort(SECONDS)) != 0:
            return
        told = prove(as_puzzle(left), Effort(SECONDS))
        if told.outcome != "none" or not told.conflict:
            return


def _words(proof: Proof) -> str:
    return f"no grid obeys all of this: {'; '.join(suspect.why for suspect in proof.conflict)}"


def _items_of(draft: Draft, proof: Proof) -> list[int]:
    """The items of a conflict that stand somewhere on the page."""
    blamed = {suspect.item for suspect in proof.conflict}
    owned = enumerate(zip(draft.items, item_pointers(draft), strict=True))
    return [index for index, (item, names) in owned if item.where is not None and blamed.intersection(names)]


def _without(draft: Draft, items: list[int]) -> Draft:
    """The draft as if some items stated nothing; all keep their places in it."""
    kept = (replace(item, value=()) if index in items else item for index, item in enumerate(draft.items))
    return replace(draft, items=tuple(kept))
