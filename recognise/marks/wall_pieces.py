"""What was read of the walls of cages: dashes that pass for figures, alone or together with a total beside them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from recognise.evidence import Fence, Glyph
from recognise.geometry import holds
from recognise.marks.lines import MIDDLING
from recognise.marks.text_ink import Wall
from recognise.marks.text_places import corner_of
from recognise.marks.text_readings import DASH_LIKE
from recognise.pixels.frame import Grey, Raster
from schema.cells import Cell

WALL = 0.05
"""In cells: half the width of what a cage's wall takes up."""
THICK = 0.09
"""The same of the thickest walls, which are 0.1 wide, where they are measured a little off: dashes as wide as long."""
BEGINS = 0.6
"""In cells from its left: no total begins farther to the right."""
NOTHING_ELSE = 0.9
"""Part of the ink of what was read that lies on walls where it is a piece of them: a bend, a few dashes."""


def walls_of(fences: Sequence[Fence]) -> list[Wall]:
    """The straight pieces of the walls of cages."""
    return [side for fence in fences for side in zip(fence.where, (*fence.where[1:], *fence.where[:1]), strict=True)]


def pieces_of_walls(known: Sequence[Glyph], fences: Sequence[Fence], drawn: Grey, raster: Raster) -> list[Glyph]:
    """Those of the characters read on a grid that are dashes or bends of the walls of cages, away from the corners of
    cells, where totals stand and may lie in line with a wall; dashes also there, where no cage has its first cell.
    `drawn` is the ink without the lattice."""
    walls, first = walls_of(fences), {fence.cells[0] for fence in fences}
    on_walls = np.zeros(drawn.shape, np.bool_)
    for (x0, y0), (x1, y1) in walls:
        on_walls[raster.slices((min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)), raster.px(THICK))] = True

    def is_piece(glyph: Glyph) -> bool:
        cell = raster.cell_of(*glyph.centre)
        if cell is None:
            return False
        if _stands_as_total(glyph, cell):
            return cell not in first and _is_dash(glyph, walls)
        window = raster.slices(glyph.box)
        ink = drawn[window]
        return _is_dash(glyph, walls) or float(ink[on_walls[window]].sum()) >= NOTHING_ELSE * float(ink.sum()) > 0

    return [glyph for glyph in known if is_piece(glyph)]


def _stands_as_total(glyph: Glyph, cell: Cell) -> bool:
    return holds(corner_of(cell), glyph.centre) and glyph.box[0] - (cell.column - 1) < BEGINS


def _is_dash(glyph: Glyph, walls: Sequence[Wall]) -> bool:
    """Whether what was read as a 1 is a dash in a wall."""
    x0, y0, x1, y1 = glyph.box
    if glyph.text not in DASH_LIKE or x1 - x0 > WALL:
        return False
    return any(
        abs(xa - xb) < WALL > abs(glyph.centre[0] - xa) and min(ya, yb) - WALL <= y0 and y1 <= max(ya, yb) + WALL
        for (xa, ya), (xb, yb) in walls
    )


def hangs_on_wall(glyph: Glyph, walls: Sequence[Wall]) -> bool:
    """Whether what was hard to read reaches up over a level wall: a total, and the dashes over it that it touches."""
    x, y = glyph.centre
    over = any(
        abs(ya - yb) < WALL and min(xa, xb) <= x <= max(xa, xb) and glyph.box[1] < ya < y
        for (xa, ya), (xb, yb) in walls
    )
    return over and glyph.confidence < MIDDLING[1]
