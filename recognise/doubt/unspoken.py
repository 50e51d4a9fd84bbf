"""Marks of which no sentence of a page with rules speaks, and that mean the same wherever they are printed.

Signs between cells, say, need no words, and some setters spend none on them. A sentence that was lost may say
otherwise; but a printed puzzle has one solution. Where every sentence is understood and found its marks, the solution
breaks every rule that no mark shows, and none is left without these marks or with anything else that the trade says of
such marks, they are what they look like."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from checker.search import Effort
from recognise.doubt.puzzle import as_puzzle
from recognise.doubt.sentences import breaks_all, is_borne_out
from recognise.draft import Doubt, Draft, only_constraint
from recognise.interpret.making import unspoken
from schema.cells import Cell

SECONDS = 6.0
"""Of work, for all kinds of a page."""


def without_unspoken(draft: Draft, solution: Mapping[Cell, int]) -> Draft:
    """The draft, which has one `solution`, without the questions about kinds of which no sentence speaks, where the
    page leaves no other."""
    kinds = {kind for doubt in draft.doubts if (kind := _unspoken(draft, doubt))}
    of_the_page = any(doubt.item is None and doubt.where is None for doubt in draft.doubts)
    if not kinds or of_the_page or not breaks_all(draft, solution):
        return draft
    puzzle, effort = as_puzzle(draft), Effort(SECONDS)
    borne_out = {kind for kind in sorted(kinds) if is_borne_out(puzzle, kind, effort)}
    return replace(draft, doubts=tuple(d for d in draft.doubts if _unspoken(draft, d) not in borne_out))


def _unspoken(draft: Draft, doubt: Doubt) -> str | None:
    """The kind of which a doubt says that the rules do not speak; None where it says something else."""
    stated = None if doubt.item is None else only_constraint(draft.items[doubt.item].value)
    return stated.kind if stated is not None and doubt.why == unspoken(stated) else None
