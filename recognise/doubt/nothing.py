"""Marks that state nothing: they are none of the puzzle's, which has its one solution without them."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from checker.prove import is_unique
from checker.search import Effort
from recognise.doubt.puzzle import as_puzzle
from recognise.draft import Draft, Given, Item, Undecided
from schema.kinds.unread_mark import UnreadMark

SECONDS = 1.5
"""For the proof; nearly all take milliseconds."""


def without(draft: Draft, nothing: Sequence[Undecided]) -> Draft:
    """The draft with undecided marks as nothing, where it then has exactly one solution and no mark is left that nobody
    understands; else the draft itself."""
    places = {index for undecided in nothing for index in undecided.items}
    if not places or any(unread(item) for index, item in enumerate(draft.items) if index not in places):
        return draft
    bare = _with_nothing(draft, places, nothing)
    puzzle = as_puzzle(bare)
    return bare if not puzzle.problems() and is_unique(puzzle, Effort(SECONDS)) else draft


def unread(item: Item) -> list[UnreadMark]:
    """What nobody understands of an item."""
    return [] if isinstance(item.value, Given) else [c for c in item.value if isinstance(c, UnreadMark)]


def _with_nothing(draft: Draft, places: Collection[int], nothing: Sequence[Undecided]) -> Draft:
    questions = {undecided.question for undecided in nothing}
    return replace(
        draft,
        items=tuple(
            replace(item, value=(), how="inferred") if index in places else item
            for index, item in enumerate(draft.items)
        ),
        doubts=tuple(doubt for doubt in draft.doubts if doubt.why not in questions),
        undecided=tuple(undecided for undecided in draft.undecided if undecided not in nothing),
    )
