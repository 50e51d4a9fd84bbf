"""Tinted cells that state nothing: the strip of cells whose digits a newspaper's readers send in for a prize.

A tint that no rule speaks of is a question, for it may mean something all the same. A prize strip answers it by itself:
its cells stand side by side in one row or column, as no rule has them; the page prints no rules that it could belong
to; and the puzzle has its one solution without it, so that any rule would have been superfluous.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from checker.prove import is_unique
from checker.search import Effort
from recognise.doubt.puzzle import as_puzzle
from recognise.draft import Draft, Given, Item, Undecided
from schema.cells import Cell
from schema.kinds.unread_mark import UnreadMark

SHORTEST = 3
"""Cells: two tinted cells side by side may be two that a rule is about."""
SECONDS = 1.5
"""For the proof; nearly all take milliseconds."""


def without_prize_strip(draft: Draft) -> Draft:
    """The draft with a prize strip as nothing, where its tints can only be one; else the draft itself."""
    if draft.words.rules_text:
        return draft
    tinted = [u for u in draft.undecided if all(_is_tint(draft.items[index]) for index in u.items)]
    strip = {index for undecided in tinted for index in undecided.items}
    rest = [item for index, item in enumerate(draft.items) if index not in strip]
    if any(_unread(item) for item in rest) or not _straight([c for i in strip for c in _cells(draft.items[i])]):
        return draft
    bare = _with_nothing(draft, strip, tinted)
    puzzle = as_puzzle(bare)
    return bare if not puzzle.problems() and is_unique(puzzle, Effort(SECONDS)) else draft


def _with_nothing(draft: Draft, strip: set[int], tinted: Sequence[Undecided]) -> Draft:
    questions = {undecided.question for undecided in tinted}
    return replace(
        draft,
        items=tuple(
            replace(item, value=(), how="inferred") if index in strip else item
            for index, item in enumerate(draft.items)
        ),
        doubts=tuple(doubt for doubt in draft.doubts if doubt.why not in questions),
        undecided=tuple(undecided for undecided in draft.undecided if undecided not in tinted),
    )


def _unread(item: Item) -> list[UnreadMark]:
    return [] if isinstance(item.value, Given) else [c for c in item.value if isinstance(c, UnreadMark)]


def _is_tint(item: Item) -> bool:
    marks = _unread(item)
    return bool(marks) and all(mark.shape == "tint" for mark in marks)


def _cells(item: Item) -> list[Cell]:
    return [cell for mark in _unread(item) for cell in mark.cells]


def _straight(cells: Sequence[Cell]) -> bool:
    """Whether cells stand side by side in one row or column, enough of them for a strip."""
    along = sorted(cells)
    steps = {(b.row - a.row, b.column - a.column) for a, b in pairwise(along)}
    return len(along) >= SHORTEST and steps in ({(0, 1)}, {(1, 0)})
