"""Tinted cells that state nothing: the strip of cells whose digits a newspaper's readers send in for a prize.

A tint that no rule speaks of is a question, for it may mean something all the same. A prize strip answers it by itself:
its cells stand side by side in one row or column, as no rule has them; the page prints no rules that it could belong
to; and the puzzle has its one solution without it, so that any rule would have been superfluous.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from recognise.doubt.nothing import unread, without
from recognise.draft import Draft, Item
from schema.cells import Cell

SHORTEST = 3
"""Cells: two tinted cells side by side may be two that a rule is about."""


def without_prize_strip(draft: Draft) -> Draft:
    """The draft with a prize strip as nothing, where its tints can only be one; else the draft itself."""
    if draft.words.rules_text:
        return draft
    tinted = [u for u in draft.undecided if all(_is_tint(draft.items[index]) for index in u.items)]
    strip = {index for undecided in tinted for index in undecided.items}
    return without(draft, tinted) if _straight([c for i in strip for c in _cells(draft.items[i])]) else draft


def _is_tint(item: Item) -> bool:
    marks = unread(item)
    return bool(marks) and all(mark.shape == "tint" for mark in marks)


def _cells(item: Item) -> list[Cell]:
    return [cell for mark in unread(item) for cell in mark.cells]


def _straight(cells: Sequence[Cell]) -> bool:
    """Whether cells stand side by side in one row or column, enough of them for a strip."""
    along = sorted(cells)
    steps = {(b.row - a.row, b.column - a.column) for a, b in pairwise(along)}
    return len(along) >= SHORTEST and steps in ({(0, 1)}, {(1, 0)})
