"""Questions about circles and squares in cells that were left out as hardly printed, which the solution answers.

A printed puzzle has one solution: where that breaks what such a mark would say of its cell, none is printed there. What
is far too pale for print is of one sort: where the solution refutes one such mark the other side shows through, and it
is that of which the others are too. Where it refutes none, one may be a mark that the press left nearly bare."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from recognise.draft import Draft
from recognise.marks.cell_questions import left_out
from recognise.rules import RuleSheet
from schema.cells import Cell
from schema.kinds.base import Constraint, Setting
from schema.kinds.even import Even
from schema.kinds.odd import Odd

MEANINGS: dict[str, type[Even | Odd]] = {"even": Even, "odd": Odd}


def without_faded_in_cells(draft: Draft, solution: Mapping[Cell, int], sheet: RuleSheet | None) -> Draft:
    """The draft, which has one `solution`, without the questions about circles and squares that this refutes by what
    the rules say they mean."""
    if sheet is None or not draft.all_told:
        return draft
    setting = Setting(draft.grid, draft.constraints)

    def is_refuted(why: str) -> bool:
        told = left_out(why)
        if told is None:
            return False
        name, cells, shows_through = told
        kinds = {s.kind for s in sheet.statements if s.kind in MEANINGS and s.mark.shape in (name, "")}
        broken = [_is_broken([MEANINGS[kind](cells=(cell,)) for kind in kinds], setting, solution) for cell in cells]
        return bool(kinds) and (any(broken) if shows_through else all(broken))

    return replace(draft, doubts=tuple(doubt for doubt in draft.doubts if not is_refuted(doubt.why)))


def _is_broken(meanings: list[Constraint], setting: Setting, solution: Mapping[Cell, int]) -> bool:
    return all(meaning.broken(setting, solution) for meaning in meanings)
