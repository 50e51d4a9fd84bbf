"""The long diagonals, told by the network cell by cell and measured where it is in doubt."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np

from recognise.evidence import Shape, Trace
from recognise.marks.edge_shapes import BLACK
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.network import Chances
from recognise.marks.places import Spots
from recognise.marks.shown_through import PALE, PALEST
from recognise.marks.spoken import SILENT, Spoken
from recognise.marks.strokes import measure
from recognise.pixels.frame import Raster
from recognise.pixels.ink import Ink
from schema.cells import Cell

ALONG = (0.2, 0.8)
"""Part of the way between the middles of two cells on which a diagonal is looked at: clear of digits."""
WIDTH = 0.06
"""In cells: diagonals are drawn no wider."""
WAYS = {"down": "DOWN", "up": "UP"}
"""The class of the network for each direction."""


def diagonals(chances: Chances, ink: Ink, raster: Raster, spoken: Spoken = SILENT) -> Spots:
    """The long diagonals. One in doubt with next to no ink, where the other is plainly drawn, shows through from the
    other side of the paper, where diagonals of a page run the other way; so does any as pale
    where the rules speak of none."""
    if chances.rows != chances.columns:
        return Spots()
    cells = {way: diagonal_cells(way, chances.rows) for way in WAYS}
    told = {way: [chances.node(cell, name) for cell in cells[way]] for way, name in WAYS.items()}
    seen = {way: sum(chance > DRAWN for chance in told[way]) for way in WAYS}
    sure = {way: float(np.mean(told[way])) for way in WAYS}
    found = [way for way in WAYS if seen[way] > chances.rows / 2]
    inks = {way: _darkness(cells[way], ink, raster) for way in found} if len(found) > 1 or spoken.no_diagonals else {}
    ghosts = [
        way
        for way in inks
        if (sure[way] < MIDDLING[1] and inks[way] < min(PALE * max(inks.values()), PALEST))
        or (spoken.no_diagonals and inks[way] < PALEST)
    ]
    notes = [f"what looks like a line {way} from corner to corner is hardly printed" for way in ghosts]
    notes += [
        f"whether a line runs {way} from corner to corner was hard to tell"
        for way in WAYS
        if 1 < seen[way] < chances.rows and way not in ghosts
    ]
    box = (0.0, 0.0, float(chances.columns), float(chances.rows))
    drawn = [way for way in found if way not in ghosts]
    return Spots(
        (), tuple(Shape("diagonal", box, BLACK, "shape", sure[w], direction=w) for w in drawn), (), tuple(notes)
    )


def links_of_diagonals(chances: Chances) -> frozenset[frozenset[Cell]]:
    """The links along the long diagonals that the network is sure of in every cell."""
    if chances.rows != chances.columns:
        return frozenset()
    size = chances.rows
    plain = [w for w, name in WAYS.items() if min(chances.node(c, name) for c in diagonal_cells(w, size)) > MIDDLING[1]]
    return frozenset(link for way in plain for link in diagonal_links(way, size))


def diagonal_cells(way: str, size: int) -> list[Cell]:
    """The cells of a long diagonal (one of `WAYS`), from the left."""
    return [Cell(n, n if way == "down" else size + 1 - n) for n in range(1, size + 1)]


def diagonal_links(way: str, size: int) -> list[frozenset[Cell]]:
    """The links along a long diagonal, in its order."""
    return [frozenset(pair) for pair in pairwise(diagonal_cells(way, size))]


def _darkness(cells: Sequence[Cell], ink: Ink, raster: Raster) -> float:
    """The usual ink along a diagonal, 0 to 1, with what noise has."""
    strokes = [measure(pair, ALONG, ink.drawn, ink.relative, raster, ink.floor) for pair in pairwise(cells)]
    return float(np.median([stroke.ink for stroke in strokes]))


def as_lines(shapes: Iterable[Shape], size: int) -> list[Trace]:
    """The diagonals among some shapes as lines through the cells of a grid of so many rows."""
    ways = [shape.direction for shape in shapes if shape.name == "diagonal" and shape.direction in WAYS]
    links = tuple(pairwise(range(size)))
    return [Trace(tuple(diagonal_cells(way, size)), links, BLACK, WIDTH, False, "shape") for way in ways]
