"""Boxes that the rules speak of and no lines of the picture show: a question that the proof of the page answers.

A printed puzzle has one solution. Where it has one with the boxes that print uses for its size, and none or several
without, those were printed, and what sets their lines off was lost; boxes of another shape would leave no solution."""

from __future__ import annotations

import re
from dataclasses import replace

from checker.search import Effort
from recognise.doubt.ways import proves
from recognise.draft import Draft, only_constraint
from recognise.interpret.regions import UNSHOWN, USUAL_BOXES
from recognise.rules import RuleSheet
from schema.kinds.boxes import Boxes

SECONDS = 4.0
"""Of work."""
LEAST = 9
"""Rows of the least grid that is told by it. 397 puzzles of the generator with irregular boxes were read with the usual
ones instead: none of 130 of 9x9 was left with one solution, 14 of 267 of 6x6."""
PROVED, ESCAPE = 0.98, 0.01
"""How likely the boxes are the usual ones where nothing says that they are not, before the proof is asked: irregular
ones are rarer than that, and lose all their lines together. And how often the proof would let others through: half an
error of the 130 is less."""
_ODD = re.compile(r"region|irregular|jigsaw|shape|zone|piece|patch|crooked|twisted|bent|join", re.IGNORECASE)
"""Words for boxes that may not be the usual ones, beside those that rules are read to call irregular."""


def without_unshown_boxes(draft: Draft, sheet: RuleSheet | None) -> Draft:
    """The draft, which has one solution, without the question about its boxes where the proof answers it."""
    index = next((i for i, item in enumerate(draft.items) if isinstance(only_constraint(item.value), Boxes)), None)
    if index is None or sheet is None or not any(doubt.why == UNSHOWN for doubt in draft.doubts):
        return draft
    spoken = [statement for statement in sheet.statements if statement.kind == "boxes"]
    odd = any(statement.fields.get("irregular") or _ODD.search(statement.sentence) for statement in spoken)
    rows, columns = USUAL_BOXES.get(draft.grid.rows, (0, 1))
    if rows != columns or draft.grid.rows < LEAST or odd:
        return draft
    if proves(draft, {index: ()}, Effort(SECONDS)) != 0.0:
        return draft
    items = list(draft.items)
    items[index] = replace(items[index], confidence=PROVED, escape=ESCAPE)
    return replace(draft, items=tuple(items), doubts=tuple(doubt for doubt in draft.doubts if doubt.why != UNSHOWN))
