"""Givens that do not stand in the middle of their cells: who sets a grid as a table in a word processor may leave them
at the top, at the left, or in a corner of the cell, as its text stands there.

Marks of several cells stand across lattice lines, candidates are several in a cell, and totals have two figures among
them and cages around them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np

from recognise.evidence import Glyph
from recognise.interpret.mark import Left
from recognise.interpret.places import cell_around, cell_at
from schema.cells import Cell

LEAST = 4
"""So many alike, in cells through which no line runs, are how the page sets its givens."""
ALIKE = 0.08
"""In cells: by no more than this do the places differ at which they stand in their cells."""
SMALLEST = 0.22
"""In cells: the height of the smallest given."""


def take_set_off(left: Left) -> list[Glyph]:
    """The givens of a page that sets them off the middles of their cells; none where one stands in the middle, or where
    cages may have totals in their corners."""
    inside = [(glyph, cell) for glyph in left.glyphs if (cell := cell_at(glyph.centre, left.size)) is not None]
    if left.fences or any(not _is_figure(glyph) or cell_around(glyph.centre, left.size) for glyph, _ in inside):
        return []
    on_lines = {cell for trace in left.traces for cell in trace.nodes}
    alone = Counter(cell for _, cell in inside)
    own = [(glyph, cell) for glyph, cell in inside if alone[cell] == 1 and _is_within(glyph, cell)]
    if (
        len([cell for _, cell in own if cell not in on_lines]) < LEAST
        or len(own) < len(inside)
        or not _stand_alike(own)
    ):
        return []
    return left.take_glyphs(lambda glyph: any(glyph is one for one, _ in own))


def _is_figure(glyph: Glyph) -> bool:
    return len(glyph.text) == 1 and glyph.text.isdigit() and glyph.size >= SMALLEST


def _is_within(glyph: Glyph, cell: Cell) -> bool:
    x0, y0, x1, y1 = glyph.box
    return cell.column - 1 <= x0 and x1 <= cell.column and cell.row - 1 <= y0 and y1 <= cell.row


def _stand_alike(own: Sequence[tuple[Glyph, Cell]]) -> bool:
    """Whether all stand on one line in their cells, and flush left, in one middle, or flush right."""
    x0, _, x1, y1 = np.array([glyph.box for glyph, _ in own]).T
    columns, rows = np.array([(cell.column, cell.row) for _, cell in own]).T
    flush = min(np.ptp(place - columns) for place in (x0, (x0 + x1) / 2, x1))
    return bool(flush <= ALIKE and np.ptp(y1 - rows) <= ALIKE)
