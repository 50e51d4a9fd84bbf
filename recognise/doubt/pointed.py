"""Questions where little arrows beside the grid point that the proof of the page answers.

An arrow points along one of the few diagonals that begin where it stands, or is none, and its number is a clue of the
row or column of another kind that the page has. A printed puzzle has one solution: where the clue leaves none with the
arrow pointing along another diagonal, nor without an arrow, it points as read. Of two clues in one place each has a
way of its own, and the other one's is the only one left for it: they point as read where they leave no solution the
other way round, nor as one number with one arrow, and the page has no clues of other kinds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product

from checker.search import Effort
from recognise.doubt.directions import escape_of_direction
from recognise.doubt.instead import Instead
from recognise.doubt.ways import proves
from recognise.draft import Draft, Value, only_constraint
from recognise.marks.pointers import points_words
from schema.kinds._outside import OutsideClue
from schema.kinds.diagonal_sum import DiagonalSum
from schema.marks import step_of

SECONDS = 4.0
"""Of work, for all such questions of a page."""


def without_pointed(draft: Draft) -> Draft:
    """The draft, which has one solution, without the questions about little arrows that the proof answers, where
    every sentence is understood."""
    if not draft.all_told:
        return draft
    asked: dict[str, list[int]] = {}
    for index, item in enumerate(draft.items):
        clue = only_constraint(item.value)
        if isinstance(clue, DiagonalSum):
            asked.setdefault(points_words(*_place_of(clue)), []).append(index)
    effort = Effort(SECONDS)
    answered = {
        doubt.why for doubt in draft.doubts if (own := asked.get(doubt.why)) and _is_refuted(draft, own, effort)
    }
    return replace(draft, doubts=tuple(doubt for doubt in draft.doubts if doubt.why not in answered))


def _is_refuted(draft: Draft, own: Sequence[int], effort: Effort) -> bool:
    """Whether the clues of one place can go along no other diagonals."""
    if len(own) == 1:
        proves_instead = Instead(draft, own[0], effort)
        pointing = effort.left > 0 and escape_of_direction(draft, own[0], proves_instead) is not None
        return pointing and not any(proves_instead((other,)) for other in _without_arrow(draft, own[0]))
    if next(_of_lines(draft), None) is not None:
        return False
    clues = [clue for index in own if isinstance(clue := only_constraint(draft.items[index].value), DiagonalSum)]
    if len(clues) != 2 or clues[0].direction == clues[1].direction or _is_at_corner(clues[0], draft):
        return False
    return all(effort.left > 0 and proves(draft, way, effort, impossible=0.0) == 0.0 for way in _other_ways(own, clues))


def _without_arrow(draft: Draft, index: int) -> Iterator[OutsideClue]:
    """What the number of a diagonal clue would state of its row or column, as a clue of each kind that the page has;
    nothing at a corner of the grid."""
    clue = only_constraint(draft.items[index].value)
    if not isinstance(clue, DiagonalSum) or _is_at_corner(clue, draft):
        return
    row, column = _place_of(clue)
    if 1 <= row <= draft.grid.rows:
        side, place = ("left" if column < 1 else "right"), row
    else:
        side, place = ("top" if row < 1 else "bottom"), column
    changed = {"side": side, "index": place, "value": clue.value}
    yield from dict.fromkeys(other.model_copy(update=changed) for other in _of_lines(draft))


def _of_lines(draft: Draft) -> Iterator[OutsideClue]:
    """The clues of rows and columns."""
    return (constraint for constraint in draft.constraints if isinstance(constraint, OutsideClue))


def _other_ways(own: Sequence[int], clues: Sequence[DiagonalSum]) -> Iterator[dict[int, Value]]:
    """What two clues of one place, with their places in the draft, may state instead: each the other one's number, or
    one of them, whose figures were parted, a number of all of them, the other arrow being none."""
    (first, second), (one, other) = own, clues
    yield {first: (_with(one, other.value),), second: (_with(other, one.value),)}
    for text, clue in product((f"{one.value}{other.value}", f"{other.value}{one.value}"), clues):
        yield {first: (_with(clue, int(text)),), second: ()}


def _with(clue: DiagonalSum, number: int) -> DiagonalSum:
    return clue.model_copy(update={"value": number})


def _is_at_corner(clue: DiagonalSum, draft: Draft) -> bool:
    """Whether a clue stands at a corner of the grid, where one diagonal begins."""
    row, column = _place_of(clue)
    return row in (0, draft.grid.rows + 1) and column in (0, draft.grid.columns + 1)


def _place_of(clue: DiagonalSum) -> tuple[int, int]:
    """The row and column of the place beside the grid in which a clue stands."""
    down, right = step_of(clue.direction)
    return clue.start.row - down, clue.start.column - right
