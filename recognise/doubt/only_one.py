"""The only one of several drafts that the proof lets stand."""

from __future__ import annotations

from collections.abc import Iterable

from checker.prove import is_unique
from checker.search import Effort
from recognise.doubt.puzzle import as_puzzle
from recognise.draft import Draft


def only_one(drafts: Iterable[Draft], seconds: float, one: float) -> Draft | None:
    """The draft that has exactly one solution; None where none or several have, or not all could be tried. `seconds` of
    work for all of them, `one` for one proof."""
    effort = Effort(seconds)
    found = []
    for draft in drafts:
        if not effort.left:
            return None
        puzzle = as_puzzle(draft)
        if not puzzle.problems() and is_unique(puzzle, effort.part(one)):
            found.append(draft)
    return found[0] if len(found) == 1 else None
