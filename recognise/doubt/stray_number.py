"""A number beside the grid that states nothing: of the page, or of what stands next door.

The number of a page, a value at the axis of a chart or the number of an advertisement may stand in line with a row or
column, where a clue would. What tells them is that they are alone, that rules are printed, understood to the last
sentence, and none speaks of numbers beside the grid; and that the puzzle has its one solution without them, so that a
clue would have been superfluous. Clues without their rule are printed on several sides, or are needed.
"""

from __future__ import annotations

from recognise.doubt.nothing import unread, without
from recognise.draft import Draft, Undecided
from schema.kinds._outside import OutsideClue
from schema.kinds.diagonal_sum import DiagonalSum


def without_stray_number(draft: Draft) -> Draft:
    """The draft with one number beside the grid as nothing, where it can only be the page's; else the draft itself."""
    if not draft.all_told or any(isinstance(constraint, OutsideClue | DiagonalSum) for constraint in draft.constraints):
        return draft
    return without(draft, [undecided for undecided in draft.undecided if _is_stray(draft, undecided)])


def _is_stray(draft: Draft, undecided: Undecided) -> bool:
    marks = [mark for index in undecided.items for mark in unread(draft.items[index])]
    return undecided.all_said and len(marks) == 1 and marks[0].shape == "number" and not marks[0].cells
