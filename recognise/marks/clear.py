"""How much of the way between two cells a line can be measured on: clear of digits, circles, heads and marks."""

from __future__ import annotations

import math
from collections.abc import Iterable

from ingest.page import Box
from recognise.evidence import Glyph
from recognise.geometry import box_at, extent, holds, middle
from recognise.marks.beside import drawn_chance
from recognise.marks.lines import DRAWN
from recognise.marks.network import Chances
from recognise.marks.places import Spots
from recognise.pixels.frame import Raster
from schema.cells import Cell

PAST_DIGIT, PAST_HEAD, PAST_CIRCLE = 0.2, 0.36, 0.44
"""As parts of the way to the next cell: where a line is clear of what stands in the middle of a cell."""
PAST_INK = 0.04
"""The same, from the box of a character on: its blur."""
LARGE_DIGIT = 0.2, 0.3
"""In cells: half the width and half the height of one."""
BLUR = 0.06
"""In cells: how far the ink of a dot may stand outside of its circle as measured."""
WIDE = 0.2
"""In cells: half the width of a wide line, with its blur, across another at a right angle."""
PLATE = 0.2
"""In cells: half the width of the patch of paper on which characters stand between cells."""


def clear_of(cell: Cell, chances: Chances) -> float:
    """How far from the middle of a cell a line through it can be seen as what it is."""
    if max(chances.node(cell, name) for name in ("BULB", "CIRCLE", "CAPSULE")) > DRAWN:
        return PAST_CIRCLE
    return PAST_HEAD if chances.node(cell, "HEAD") > DRAWN else PAST_DIGIT


def in_the_middle(known: Iterable[Glyph], raster: Raster, chances: Chances) -> dict[Cell, Box]:
    """The boxes of characters that stand over the middles of cells; of those that were not read, on lines, the box of
    a large digit."""
    unread = (cell for cell in chances.cells() if chances.node(cell, "CHARACTERS") > DRAWN)
    found = {cell: box_at(cell.centre, *LARGE_DIGIT) for cell in unread}
    by_cell = ((raster.cell_of(*glyph.centre), glyph.box) for glyph in known)
    return found | {cell: box for cell, box in by_cell if cell is not None and holds(box, cell.centre)}


def past(way: tuple[Cell, Cell], box: Box | None) -> float:
    """How far along the way from a cell to the next, as part of it, a character in the middle of the first reaches."""
    if box is None:
        return 0.0
    (x, y), (end_x, end_y) = (cell.centre for cell in way)
    reaches = (
        (box[2] - x if end_x > x else x - box[0]) if end_x != x else math.inf,
        (box[3] - y if end_y > y else y - box[1]) if end_y != y else math.inf,
    )
    return min(min(reaches) + PAST_INK, PAST_CIRCLE)


def hidden(one: Cell, other: Cell, spots: Iterable[Spots]) -> float:
    """How far, in cells, marks on the middle of the way between two cells hide it."""
    (x0, y0), (x1, y1) = one.centre, other.centre
    halfway = (x0 + x1) / 2, (y0 + y1) / 2
    places = [(disc.centre, disc.radius + BLUR) for found in spots for disc in found.discs]
    places += [(middle(shape.box), extent(shape.box) / 2 + BLUR) for found in spots for shape in found.shapes]
    places += [(place.middle, max(place.radius, PLATE)) for found in spots for place in found.texts]
    return max((radius for centre, radius in places if math.dist(centre, halfway) <= PLATE), default=0.0)


def crossed(one: Cell, other: Cell, chances: Chances) -> float:
    """How far, in cells, a line from the one to the other of the two cells beside both hides the middle of their way;
    0 where the network sees none."""
    corners = Cell(one.row, other.column), Cell(other.row, one.column)
    return WIDE if one not in corners and drawn_chance(chances.link(*corners)) > DRAWN else 0.0
