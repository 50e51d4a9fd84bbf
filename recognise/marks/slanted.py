"""Little arrows beside the grid by their ink alone: a small piece, long for its width, that lies on a diagonal, or a
wedge without a shaft between a number and the corner of the lattice next to it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from ingest.page import Box, Point
from recognise.evidence import Glyph
from recognise.geometry import extent, middle, overlap
from recognise.pixels.blobs import Pieces
from recognise.pixels.frame import Raster
from recognise.pixels.leaning import lean

SIZES = (0.12, 0.5)
"""In cells: how long a little arrow is along a row or column."""
NEAR = 0.95
"""In cells: so far from the middle of its number stands the middle of a little arrow at most."""
BESIDE = 1.0
"""In cells: so far from the grid."""
WEDGE = (0.1, 0.3)
"""In cells: how long a wedge, which is a head without a shaft, is along a row and a column."""
AT_CORNER = 0.3
"""In cells: so far from a corner of the lattice its middle lies at most."""
ON_DIAGONAL = ((0.3, 0.8), 0.2)
"""In cells: how far from that corner, by row and by column, the middle of its number lies, and by how much the two
differ at most."""
WAYS = {(1, 1): "SE", (-1, 1): "SW", (1, -1): "NE", (-1, -1): "NW"}
"""Directions by their steps, x and y."""


@dataclass(frozen=True, slots=True)
class Slanted:
    """A little arrow as measured: the place beside the grid (row and column, 0 being before the first), its direction,
    its box in cells."""

    row: int
    column: int
    way: str
    box: Box


def slanted(pieces: Pieces, raster: Raster, known: Iterable[Glyph]) -> Iterator[Slanted]:
    """The pieces of ink beside the grid, next to a number, that lie as little arrows into its diagonals do."""
    numbers = [glyph for glyph in known if raster.cell_of(*glyph.centre) is None and glyph.text.isdecimal()]
    wedges: list[Box] = []
    for blob in pieces.blobs if numbers else ():
        box = blob.box(raster)
        x, y = middle(box)
        beside = max(-x, x - raster.columns, -y, y - raster.rows)
        if not (0 < beside <= BESIDE and SIZES[0] <= min(box[2] - box[0], box[3] - box[1]) and extent(box) <= SIZES[1]):
            continue
        if any(overlap(box, glyph.box) for glyph in numbers) or not any(
            math.dist((x, y), glyph.centre) <= NEAR for glyph in numbers
        ):
            continue
        way = _into_grid(lean(blob, pieces), x, y, raster)
        if way is not None:
            yield _at(box, way)
        elif _is_wedge(box):
            wedges.append(box)
    yield from _wedges(wedges, numbers, raster)


def _at(box: Box, way: tuple[int, int]) -> Slanted:
    x, y = middle(box)
    return Slanted(math.floor(y) + 1, math.floor(x) + 1, WAYS[way], box)


def _is_wedge(box: Box) -> bool:
    """Whether a piece is as small as a wedge, and at a corner of the lattice."""
    sizes, place = (box[2] - box[0], box[3] - box[1]), middle(box)
    at_corner = math.dist(place, [round(v) for v in place]) <= AT_CORNER
    return at_corner and WEDGE[0] <= min(sizes) <= max(sizes) <= WEDGE[1]


def _wedges(boxes: Iterable[Box], numbers: Iterable[Glyph], raster: Raster) -> Iterator[Slanted]:
    """The wedges that lie between a number and a corner of the lattice next to it. One that lies so to two numbers
    belongs to the one that has no other."""
    possible = {
        number.centre: [(box, way) for box in boxes for way in _way_through(box, number.centre, raster)]
        for number in numbers
    }
    while any(len(found) == 1 for found in possible.values()):
        box, way = next(found[0] for found in possible.values() if len(found) == 1)
        yield _at(box, way)
        possible = {
            number: [other for other in found if other[0] != box]
            for number, found in possible.items()
            if found != [(box, way)]
        }


def _way_through(box: Box, number: Point, raster: Raster) -> Iterator[tuple[int, int]]:
    """The way on a diagonal from a number through the corner of the lattice at a box, where it leads into the grid."""
    corner = tuple(round(v) for v in middle(box))
    right, down = (at - own for at, own in zip(corner, number, strict=True))
    (least, most), uneven = ON_DIAGONAL
    near, far = sorted((abs(right), abs(down)))
    way = (1 if right > 0 else -1), (1 if down > 0 else -1)
    column, row = (at if step > 0 else at - 1 for at, step in zip(corner, way, strict=True))
    inside = 0 <= column < raster.columns and 0 <= row < raster.rows
    if inside and least <= near and far <= most and far - near <= uneven:
        yield way


def _into_grid(leaning: int, x: float, y: float, raster: Raster) -> tuple[int, int] | None:
    """The way along a piece that leads into the grid; None where both lead past it."""
    right = 1 if x < 0 else -1 if x > raster.columns else 0
    down = 1 if y < 0 else -1 if y > raster.rows else 0
    for way in WAYS:
        if leaning and way[0] * way[1] == leaning and right in (0, way[0]) and down in (0, way[1]):
            return way
    return None
