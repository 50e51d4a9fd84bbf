"""Little arrows beside the grid by their ink alone: a small piece, long for its width, that lies on a diagonal, or a
wedge without a shaft between a number and the corner of the lattice next to it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from ingest.page import Box, Point
from recognise.evidence import Glyph
from recognise.geometry import extent, middle, shared
from recognise.pixels.blobs import Blob, Pieces, mask_of
from recognise.pixels.frame import Raster
from recognise.pixels.leaning import lean_of

SLIM = 1.75
"""How slim they are by the spread of their ink at least: of a short one the head is most of it. Of 2,100 digits of 210
founts 17 lie along a diagonal, half of them as slim."""
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
TOUCHES = 0.2
"""As a part of the smaller of their boxes: so much a little arrow shares with that of a character at most. One that
points away from its number reaches into the corner of its box."""
LIKE, ALIKE = 2, 0.06
"""So many arrows that have a number or are seen by others tell another one, and how alike it is to them, in cells."""
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


def slanted(
    pieces: Pieces, raster: Raster, known: Iterable[Glyph], seen: Callable[[int, int, str], bool] = lambda *_: False
) -> Iterator[Slanted]:
    """The pieces of ink beside the grid that lie as little arrows into its diagonals do: next to a number, where one is
    `seen` by others (by its row, column and way), and those that are like them."""
    numbers = [glyph for glyph in known if raster.cell_of(*glyph.centre) is None and glyph.text.isdecimal()]
    found: list[Slanted] = []
    alone: list[Slanted] = []
    wedges: list[Box] = []
    for blob in pieces.blobs:
        box = blob.box(raster)
        x, y = middle(box)
        yield from _at_one_corner(blob, pieces, raster)
        beside = max(-x, x - raster.columns, -y, y - raster.rows)
        if not (0 < beside <= BESIDE and SIZES[0] <= min(box[2] - box[0], box[3] - box[1]) and extent(box) <= SIZES[1]):
            continue
        if any(are_one(box, glyph.box) for glyph in numbers):
            continue
        has_number = any(math.dist((x, y), glyph.centre) <= NEAR for glyph in numbers)
        way = _into_grid(lean_of(mask_of(blob, pieces), SLIM), x, y, raster)
        if way is not None:
            arrow = _at(box, way)
            (found if has_number or seen(arrow.row, arrow.column, arrow.way) else alone).append(arrow)
        elif has_number and _is_wedge(box):
            wedges.append(box)
    yield from found
    yield from (one for one in alone if sum(_is_like(one, other) for other in found) >= LIKE)
    yield from _wedges(wedges, numbers, raster)


def are_one(one: Box, other: Box) -> bool:
    """Whether two boxes have so much in common that they are of one piece of print."""
    least = min((box[2] - box[0]) * (box[3] - box[1]) for box in (one, other))
    return shared(one, other) > TOUCHES * least


def _is_like(one: Slanted, other: Slanted) -> bool:
    """Whether two arrows are of one size and stand alike at their corners of the lattice: a letter seldom does."""
    return all(abs(a - b) <= ALIKE for a, b in zip(_figure(one), _figure(other), strict=True))


def _figure(arrow: Slanted) -> tuple[float, float, float, float]:
    """The width and height of an arrow, and how far its tip stands before the corner of the lattice next to it."""
    x0, y0, x1, y1 = arrow.box
    right, down = next(way for way, name in WAYS.items() if name == arrow.way)
    tip = (x1 if right > 0 else x0), (y1 if down > 0 else y0)
    return x1 - x0, y1 - y0, right * (round(tip[0]) - tip[0]), down * (round(tip[1]) - tip[1])


def _at_one_corner(blob: Blob, pieces: Pieces, raster: Raster) -> Iterator[Slanted]:
    """Both of two arrows whose tips meet at a corner of the lattice: one piece, which a lattice line parts into two
    that lean towards each other. So exact a shape needs no number that was read before."""
    box = blob.box(raster)
    for along in (0, 1):
        across, line = 1 - along, round(middle(box)[along])
        outside = max(-middle(box)[across], middle(box)[across] - (raster.columns, raster.rows)[across])
        sizes = line - box[along], box[along + 2] - line, box[across + 2] - box[across]
        if not (0 < outside <= AT_CORNER and all(SIZES[0] <= size <= SIZES[1] for size in sizes)):
            continue
        ink, cut = mask_of(blob, pieces), raster.px(line - box[along])
        halves = np.split(ink, [cut], axis=across)
        boxes = _halved(box, along, line)
        ways = [
            _into_grid(lean_of(half, SLIM), *middle(part), raster) for half, part in zip(halves, boxes, strict=True)
        ]
        if all(ways) and [way[along] for way in ways if way] == [1, -1]:
            yield from (_at(part, way) for part, way in zip(boxes, ways, strict=True) if way)


def _halved(box: Box, along: int, line: float) -> tuple[Box, Box]:
    """The parts of a box before and behind a lattice line, along x (0) or y (1)."""
    x0, y0, x1, y1 = box
    return ((x0, y0, line, y1), (line, y0, x1, y1)) if along == 0 else ((x0, y0, x1, line), (x0, line, x1, y1))


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
