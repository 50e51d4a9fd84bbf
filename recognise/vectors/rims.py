"""Rims of tinted patches: lines set in from the sides of a patch that lattice lines hide in part, so that they close
nowhere by themselves. The patch says how they go on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from recognise.evidence import Edges, Fence, Tint
from recognise.grouping import areas
from recognise.vectors.cage_lines import lines_of_cages
from recognise.vectors.cage_sides import COVER, SIDES, STRETCH, Side, all_sides
from recognise.vectors.cages import Cages, explained_by, fence_along, line_style
from recognise.vectors.inks import Canvas, Ink, near
from schema.cells import Cell

SEEN = 0.5
"""The part of a patch's sides, those at thick lines aside, along which its rim is seen at least."""
THICK = 0.05
"""In cells: a lattice line as thick may hide a rim."""
DEEP = 0.1
"""In cells: how far inside of a patch its rim runs at most, and how wide the strip is that is taken for it."""


def find_rims(inks: Sequence[tuple[int, Ink]], tints: Sequence[Tint], edges: Edges, canvas: Canvas) -> Cages:
    """The rims of patches among inks given with their indices, as fences round these; `edges` are the lattice lines."""
    fences: list[Fence] = []
    used: set[int] = set()
    patches = _patches(tints)
    for group in lines_of_cages(inks, canvas) if patches else ():
        its = [ink for _, ink in group]
        style = line_style(list(all_sides(its, canvas).values()), its)
        for patch in patches:
            fence = fence_along(patch, [Side(DEEP / 2, DEEP, 1.0, 1.0)], style, its[0].colour)
            rim = set(explained_by([fence], group, canvas))
            if _is_rim([ink for index, ink in group if index in rim], patch, edges, canvas):
                fences.append(fence)
                used |= rim
    return Cages(tuple(fences), frozenset(used))


def _is_rim(inks: Iterable[Ink], patch: frozenset[Cell], edges: Edges, canvas: Canvas) -> bool:
    """Whether inks run along so many of the sides of a patch that are not at thick lines."""
    mask = np.zeros(canvas.shape, dtype=np.bool_)
    for ink in inks:
        left, top, right, bottom = ink.box
        if min(right - left, bottom - top) <= DEEP:
            # A line thinner than pixels, cut to a region, has gaps in its mask.
            mask[canvas.raster.slices(ink.box)] = True
        else:
            mask[ink.whole.window] |= ink.whole.mask
    found = []
    for cell, (down, right) in _border(patch):
        if _thickness(cell, (down, right), edges) >= THICK:
            continue
        # The strip along one side, without its ends, where other sides have theirs.
        x, y = cell.centre[0] + right * (0.5 - DEEP / 2), cell.centre[1] + down * (0.5 - DEEP / 2)
        across, along = (DEEP / 2, 0.5 - STRETCH[0])[:: 1 if right else -1]
        strip = mask[canvas.raster.slices((x - across, y - along, x + across, y + along))]
        found.append(bool(strip.any(axis=1 if right else 0).mean() >= COVER))
    return sum(found) >= max(SEEN * len(found), 1)


def _thickness(cell: Cell, way: tuple[int, int], edges: Edges) -> float:
    """How thick the lattice line on a side of a cell is."""
    row, column = cell.row - 1, cell.column - 1
    return float(edges.horizontal[row + (way[0] > 0), column] if way[0] else edges.vertical[row, column + (way[1] > 0)])


def _patches(tints: Iterable[Tint]) -> list[frozenset[Cell]]:
    """Cells of one tint that hang together by their sides."""
    colours = {tint.cell: tint.colour for tint in tints}
    return [frozenset(patch) for patch in areas(colours, lambda one, other: near(colours[one], colours[other]))]


def _border(patch: frozenset[Cell]) -> list[tuple[Cell, tuple[int, int]]]:
    return [(cell, way) for cell in sorted(patch) for way in SIDES if cell.stepped(*way) not in patch]
