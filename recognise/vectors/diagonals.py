"""Long diagonals: thin lines from corner to corner of the grid, whole, in pieces or dashed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from recognise.evidence import Shape
from recognise.geometry import extent
from recognise.grouping import grouped
from recognise.pixels.frame import Raster
from recognise.vectors.inks import Ink, near
from recognise.vectors.patches import CELL
from recognise.vectors.place import Floats

ASIDE = 0.12
"""In cells: how far from the way between the corners any of its ink lies."""
CORNER = 0.3
"""In cells, along a row: how near to its corners the line comes. Lines through cells end in the middle of one, 0.5
from it, but for half their width."""
WIDEST_GAP = 0.45
"""In cells, along a row: between two dashes, or where a figure stands on ground of its own."""
COVER, MANY = 0.25, 2
"""The part of the way that dashes cover at least; dots may cover less, where there are so many in each cell."""
OBLONG = 1.5
"""A piece is so much longer along the diagonal than across it; a dot on it is a mark, unless it is small."""
DOT = 0.1
"""In cells: the largest dot of a dotted line."""


@dataclass(frozen=True, slots=True)
class Diagonals:
    """The lines found, and the indices of the inks that draw them."""

    shapes: tuple[Shape, ...]
    inks: frozenset[int]


def find_diagonals(inks: Sequence[tuple[int, Ink]], raster: Raster) -> Diagonals:
    """The long diagonals among inks given with their indices."""
    shapes: list[Shape] = []
    used: set[int] = set()
    if raster.rows != raster.columns:
        return Diagonals((), frozenset())
    for direction in ("down", "up"):
        for pieces in _by_colour(list(_pieces(inks, direction, raster))):
            dotted = len(pieces) >= MANY * raster.rows
            if _covers(np.concatenate([along for _, _, along in pieces]), raster.rows, dotted):
                shapes.append(_shape(pieces[0][1], direction, raster))
                used |= {index for index, _, _ in pieces}
    return Diagonals(tuple(shapes), frozenset(used))


_Piece = tuple[int, Ink, Floats]
"""Index, ink, and where along the way (in cells along a row) it has ink."""


def _pieces(inks: Sequence[tuple[int, Ink]], direction: str, raster: Raster) -> Iterator[_Piece]:
    """The inks that lie wholly along one diagonal."""
    for index, ink in inks:
        left, top, right, bottom = ink.box
        x, y = (left + right) / 2, (top + bottom) / 2
        if abs(y - x if direction == "down" else raster.rows - y - x) > 2 * ASIDE:
            continue
        rows, columns = np.nonzero(ink.whole.mask)
        xs = (columns + ink.whole.left + 0.5 - raster.origin) / CELL
        ys = (rows + ink.whole.top + 0.5 - raster.origin) / CELL
        if direction == "up":
            ys = raster.rows - ys
        across, along = (ys - xs) / np.sqrt(2), (ys + xs) / 2
        if np.abs(across).max() > ASIDE or along.min() < -ASIDE or along.max() > raster.rows + ASIDE:
            continue
        if np.ptp(along) * np.sqrt(2) >= OBLONG * np.ptp(across) or max(right - left, bottom - top) <= DOT:
            yield index, ink, along


def _by_colour(pieces: Sequence[_Piece]) -> list[list[_Piece]]:
    return grouped(pieces, lambda group, piece: near(group[0][1].colour, piece[1].colour))


def _covers(along: Floats, size: int, dotted: bool) -> bool:
    """Whether ink at these places makes a line from one corner to the other; a `dotted` one has little ink."""
    inked = np.unique(np.round(along * CELL)) / CELL
    gaps = np.diff(np.concatenate([[0.0], inked, [float(size)]]))
    within = gaps[1:-1].max(initial=0.0) <= WIDEST_GAP
    return bool(within and max(gaps[0], gaps[-1]) <= CORNER and (dotted or len(inked) >= COVER * size * CELL))


def _shape(ink: Ink, direction: str, raster: Raster) -> Shape:
    size = float(raster.rows)
    start, end = ((0.0, 0.0), (size, size)) if direction == "down" else ((0.0, size), (size, 0.0))
    # Of a row of dots each is as wide as the line.
    width = extent(ink.box) if extent(ink.box) <= DOT else ink.width
    aside = max(width, 1 / CELL) / np.sqrt(8)
    lean = aside if direction == "down" else -aside
    where = (
        (start[0] + lean, start[1] - aside),
        (end[0] + lean, end[1] - aside),
        (end[0] - lean, end[1] + aside),
        (start[0] - lean, start[1] + aside),
    )
    return Shape("diagonal", (0.0, 0.0, size, size), ink.colour, "vector", 1.0, where, direction)
