"""A draft as the puzzle that it states."""

from __future__ import annotations

from recognise.draft import Draft
from schema.puzzle import Puzzle


def as_puzzle(draft: Draft) -> Puzzle:
    """The puzzle that a draft states; it may have problems."""
    words = draft.words
    return Puzzle(
        title=words.title,
        setter=words.setter,
        rules_text=words.rules_text,
        grid=draft.grid,
        givens=draft.givens,
        constraints=draft.constraints,
    )
