"""Which lattice lines the marks on them hide: a bar is darker or paler than the line under it, and as long as what is
measured of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.evidence import Evidence
from recognise.grids.edges import ALONG, CORE

Mask = npt.NDArray[np.bool_]

HIDDEN = 0.25
"""In cells: what covers so much of a line's middle part decides its median, blur of the mark's ends included."""
OPEN = ("diagonal", "capsule")
"""Shapes whose box is no ink of theirs."""


def covered(marks: Iterable[Box], rows: int, columns: int) -> tuple[Mask, Mask]:
    """The edges below cells (rows - 1, columns) and right of them (rows, columns - 1) of which marks (boxes in cells)
    hide so much that their own thickness cannot be told."""
    down, right = np.zeros((rows - 1, columns), np.bool_), np.zeros((rows, columns - 1), np.bool_)
    for x0, y0, x1, y1 in marks:
        for line, cell in _hidden((x0, x1), (y0, y1), rows - 1, columns):
            down[line, cell] = True
        for line, cell in _hidden((y0, y1), (x0, x1), columns - 1, rows):
            right[cell, line] = True
    return down, right


def marks_on_edges(evidence: Evidence) -> list[Box]:
    """The boxes of all small things that may stand on lattice lines."""
    discs = [disc.box for disc in evidence.discs]
    shapes = [shape.box for shape in evidence.shapes if shape.name not in OPEN]
    return discs + shapes + [glyph.box for glyph in evidence.glyphs]


def _hidden(
    along: tuple[float, float], across: tuple[float, float], lines: int, cells: int
) -> Iterator[tuple[int, int]]:
    """(line, cell) of each inner edge that a mark hides, which lies on these stretches along and across the lines."""
    for line in range(lines):
        if across[0] < line + 1 + CORE and across[1] > line + 1 - CORE:
            for cell in range(cells):
                if min(along[1], cell + 1 - ALONG) - max(along[0], cell + ALONG) >= HIDDEN:
                    yield line, cell
