"""Whether a lattice with what stands in it is a puzzle: filled answers, tables, calendars and word grids are not."""

from __future__ import annotations

import statistics
from dataclasses import dataclass

from recognise.evidence import Evidence
from recognise.interpret.glyphs import sort_glyphs

FILLED = 0.97
"""From this share of cells with a character on, the grid is an answer, not a question. A puzzle that gives all but two
cells of 81 is beyond anything printed."""

SURE = 0.6
"""Characters are counted from this confidence on."""

TEXT_LENGTH = 3
"""Characters in one cell from which on it holds text: no digit of a grid up to 25 wide has three."""


@dataclass(frozen=True, slots=True)
class Judgement:
    """Whether it is a puzzle, and if not, what it is taken for."""

    is_puzzle: bool
    taken_for: str = ""


def judge(evidence: Evidence) -> Judgement:
    """Tell a puzzle from the grids that stand beside puzzles on a page."""
    glyphs = sort_glyphs(evidence)
    cells = evidence.rows * evidence.columns
    held = {cell: group for cell, group in glyphs.in_cells.items() if max(g.confidence for g in group) >= SURE}
    if len(held) >= FILLED * cells:
        return Judgement(False, "a filled grid")
    texts = [g.text for group in held.values() for g in group]
    if texts and statistics.mean(len(t) >= TEXT_LENGTH for t in texts) > 0.2:
        return Judgement(False, "a table")
    crowded = sum(len(group) > 2 for group in held.values())
    if held and crowded > 0.3 * len(held):
        return Judgement(False, "a table")
    return Judgement(True)
