"""Faint marks that the thick lines of the lattice may hide.

Small pale signs printed under the lines between boxes leave nothing that a camera sees. Where many stand on the thin
lines of a page, by no order that a setter follows, and not one on its thick lines, that cannot be told from chance: a
person must look."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median

import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.draft import Doubt, Draft, Given
from recognise.evidence import Edges
from recognise.geometry import bounds
from recognise.pixels.frame import Grey, Raster
from schema.cells import Cell

THICK = 1.4
"""As a part of the usual line: the lines between boxes are at least this thick."""
FAINT = 0.3
"""Ink (0 to 1) at the darkest spot of a mark: one that is darker shows where it sticks out from under a line."""
CHANCE = 0.01
"""How likely it is, at most, that of marks strewn over all lines none stands on a thick one."""
ALL = 0.9
"""Who prints the signs of all pairs within boxes prints none between them: from this part of the thin edges on."""
HIDDEN = "faint marks may be hidden under the thick lines: many were seen on the thin lines, and none on these"


def under_lines(draft: Draft, edges: Edges, level: Grey, raster: Raster) -> tuple[Doubt, ...]:
    """A doubt about the thick lines of a picture as a whole, where faint marks keep clear of them beyond chance.
    `level` is ink from 0 to 1 without lattice lines."""
    inner = np.concatenate([edges.horizontal[1:-1].ravel(), edges.vertical[:, 1:-1].ravel()])
    drawn = inner[inner > 0]
    marks = list(_on_edges(draft))
    if not len(drawn) or not marks or median(_darkest(box, level, raster) for _, box in marks) > FAINT:
        return ()
    thick = drawn > THICK * float(np.median(drawn))
    thin = np.count_nonzero(~thick)
    if not thick.any() or len(marks) > ALL * thin or (thin / len(drawn)) ** len(marks) > CHANCE:
        return ()
    least = float(drawn[thick].min())
    return () if any(_thickness(pair, edges) >= least for pair, _ in marks) else (Doubt(HIDDEN),)


def _on_edges(draft: Draft) -> Iterator[tuple[tuple[Cell, Cell], Box]]:
    """The pairs of cells between which a mark stands, and the box in cells in which it was seen."""
    for item in draft.items:
        if isinstance(item.value, Given) or item.where is None:
            continue
        for constraint in item.value:
            cells = tuple(constraint.cells_of(draft.grid))
            if "edge" in constraint.marks and len(cells) == 2:
                yield (cells[0], cells[1]), bounds(item.where)


def _darkest(box: Box, level: Grey, raster: Raster) -> float:
    return float(level[raster.slices(box)].max(initial=0.0))


def _thickness(pair: tuple[Cell, Cell], edges: Edges) -> float:
    one, other = sorted(pair)
    lines: npt.NDArray[np.float64] = edges.vertical if one.row == other.row else edges.horizontal
    return float(lines[other.row - 1, other.column - 1])
