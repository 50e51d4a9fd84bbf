"""A draft as the puzzle that it states."""

from __future__ import annotations

from recognise.draft import Draft, Given
from schema.pointers import constraint_pointer, given_pointer
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


def item_pointers(draft: Draft) -> list[tuple[str, ...]]:
    """The JSON Pointers of each item into the puzzle that the draft states: the constraints of all items are numbered
    in turn."""
    pointers: list[tuple[str, ...]] = []
    count = 0
    for item in draft.items:
        if isinstance(item.value, Given):
            pointers.append((given_pointer(item.value.cell),))
        else:
            pointers.append(tuple(constraint_pointer(count + n) for n in range(len(item.value))))
            count += len(item.value)
    return pointers
