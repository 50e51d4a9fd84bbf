"""Lines along the sides of cells, set in from their edges, whatever they are made of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from recognise.pixels.frame import Mask
from recognise.vectors.cage_lines import DEEPEST, LEAST, THICKEST
from recognise.vectors.inks import Canvas, Ink
from recognise.vectors.patches import CELL
from schema.cells import Cell

STRETCH = (0.2, 0.8)
"""The part of a side that is looked at: near its ends run the lines of the other sides."""
STRAIGHT = 0.03
"""In cells: how far a cage's line may stray from its inset; a character beside an edge strays by more."""
COVER = 0.22
"""The part of the stretch that dashes cover at least, dots being the sparsest."""
WIDEST_GAP = 0.3
"""In cells: between two dashes."""
TOTAL_GAP = 0.52
"""In cells, from the start of the stretch: where the total stands in the line, at the left of an upper side or at the
top of a left one. Three figures and a sign are that wide."""

SIDES: tuple[tuple[int, int], ...] = ((-1, 0), (0, 1), (1, 0), (0, -1))
"""(rows, columns) from a cell to its neighbour above, right, below, left."""


@dataclass(frozen=True, slots=True)
class Side:
    """A line along one side of a cell: how far it is set in, how thick it is, what part of the stretch it covers, and
    how long its longest unbroken piece is; in cells."""

    inset: float
    thickness: float
    cover: float
    longest: float


Sides = dict[tuple[Cell, tuple[int, int]], Side]


def all_sides(inks: Sequence[Ink], canvas: Canvas) -> Sides:
    """The lines that inks draw along the sides of cells."""
    mask, raster = np.zeros(canvas.shape, dtype=np.bool_), canvas.raster
    for ink in inks:
        mask[ink.whole.window] |= ink.whole.mask
    found: Sides = {}
    for row in range(raster.rows):
        for column in range(raster.columns):
            top, left = row * CELL + raster.origin, column * CELL + raster.origin
            cell = mask[top : top + CELL, left : left + CELL]
            if not cell.any():
                continue
            # Each side as an array whose rows run away from the edge and whose columns run along it.
            for way, view in zip(SIDES, (cell, cell.T[::-1], cell[::-1], cell.T), strict=True):
                side = _side(view, way)
                if side is not None:
                    found[Cell(row + 1, column + 1), way] = side
    return found


def _side(view: Mask, way: tuple[int, int]) -> Side | None:
    """The line along the upper side of `view`; None where there is none."""
    first, last = (round(part * CELL) for part in STRETCH)
    strip = view[: round((DEEPEST + THICKEST / 2) * CELL), first:last]
    columns = np.flatnonzero(strip.any(axis=0))
    # Totals stand at the start of an upper or a left side.
    may_hold_total = way in ((-1, 0), (0, -1))
    total = int(columns[0]) if may_hold_total and len(columns) and columns[0] > WIDEST_GAP * CELL else 0
    if len(columns) == 0 or len(columns) < COVER * (last - first - total):
        return None
    depths = np.arange(strip.shape[0])[:, None] + 0.5
    counts = strip.sum(axis=0)[columns]
    middles = (strip * depths).sum(axis=0)[columns] / counts / CELL
    inset, thickness = float(np.median(middles)), float(np.median(counts)) / CELL
    straight = (np.abs(middles - inset) <= STRAIGHT) & (counts / CELL <= THICKEST)
    if not LEAST <= inset <= DEEPEST or thickness > THICKEST or straight.mean() < 0.8:
        return None
    steps = np.diff(np.concatenate([[-1], columns, [last - first]]))
    gaps = (steps - 1) / CELL
    allowed = np.where(np.arange(len(gaps)) == 0, TOTAL_GAP if may_hold_total else WIDEST_GAP, WIDEST_GAP)
    if (gaps > allowed).any():
        return None
    runs = np.split(columns, np.flatnonzero(np.diff(columns) > 1) + 1)
    return Side(inset, thickness, len(columns) / (last - first), max(map(len, runs)) / CELL)
