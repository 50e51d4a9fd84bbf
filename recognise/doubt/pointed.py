"""Questions where little arrows beside the grid point that the proof of the page answers.

Where all clues beside the grid are sums of diagonals, an arrow points along one of the few that begin where it stands.
A printed puzzle has one solution: where the clue leaves none with the arrow pointing along another, it points as
read."""

from __future__ import annotations

from dataclasses import replace

from checker.search import Effort
from recognise.doubt.directions import escape_of_direction
from recognise.doubt.instead import Instead
from recognise.draft import Draft, only_constraint
from recognise.marks.pointers import points_words
from schema.kinds._outside import OutsideClue
from schema.kinds.diagonal_sum import DiagonalSum
from schema.marks import step_of

SECONDS = 4.0
"""Of work, for all such questions of a page."""


def without_pointed(draft: Draft) -> Draft:
    """The draft, which has one solution, without the questions about little arrows that the proof answers: of places
    with one clue, where every sentence is understood and no clue is of another kind."""
    others = any(isinstance(constraint, OutsideClue) for constraint in draft.constraints)
    if others or not draft.all_told:
        return draft
    asked: dict[str, list[int]] = {}
    for index, item in enumerate(draft.items):
        clue = only_constraint(item.value)
        if isinstance(clue, DiagonalSum):
            down, right = step_of(clue.direction)
            asked.setdefault(points_words(clue.start.row - down, clue.start.column - right), []).append(index)
    effort = Effort(SECONDS)
    answered = {
        doubt.why
        for doubt in draft.doubts
        if len(own := asked.get(doubt.why, [])) == 1 and _is_refuted(draft, own[0], effort)
    }
    return replace(draft, doubts=tuple(doubt for doubt in draft.doubts if doubt.why not in answered))


def _is_refuted(draft: Draft, index: int, effort: Effort) -> bool:
    """Whether a clue can go along no other diagonal."""
    return effort.left > 0 and escape_of_direction(draft, index, Instead(draft, index, effort)) is not None
