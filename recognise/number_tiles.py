"""Tiles and small discs on which numbers are printed: they make a number stand out, and mark nothing by themselves."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ingest.page import Box, Colour, Point
from recognise.colours import colours_apart
from recognise.draft import Polygon, box_polygon
from recognise.evidence import Disc, Evidence, Glyph, Shape
from recognise.geometry import disc_polygon, holds, middle, side_of

TILES = frozenset(("square", "bar", "diamond", "circle"))
"""Shapes that may be the tile of a number."""
FRAMES, WHITE = TILES | {"outline"}, (255, 255, 255)
"""And those that may be a frame round one, on paper."""
OFF_MIDDLE, ON_CROSSING = 0.15, 0.42
"""In cells, from the middle of a cell, both ways: nearer stands a mark of that cell; farther, where four cells meet, a
mark of these."""
PADDING, SMALL = 0.15, 0.35
"""In cells: how far at most a tile reaches beyond its number, and how tall that is."""
CENTRED, RIM = 0.12, 0.04
"""In cells: how far the middle of a number beside the grid is from that of its tile, and what the pen of a disc's rim
adds to it."""
APART = 100
"""Grey levels by which number and tile differ at least: otherwise nobody could read it."""
LEAST_GIVENS = 6
"""So many givens, each on a tile of one colour of which no other cell has one, are how the page prints its givens: what
marks cells marks some that are empty, or it would tell nothing."""
ALIKE = 0.1
"""In cells: how much the tiles of one row differ in size at most; those of narrow numbers stand for no other."""


@dataclass(frozen=True, slots=True)
class Told:
    """The marks that are no tiles of numbers; and outlines of those tiles, which account for their ink."""

    shapes: tuple[Shape, ...]
    discs: tuple[Disc, ...]
    tiles: tuple[Polygon, ...]


def without_number_tiles(
    shapes: Sequence[Shape], discs: Sequence[Disc], glyphs: Sequence[Glyph], seen: Sequence[Box], grid: Evidence
) -> Told:
    """Shapes and discs without those that are there for a small number off the middle of a cell; and, beside the grid,
    without the empty tiles of a row of which others hold numbers. `seen` are boxes of all that is drawn or read: a tile
    on which any of them stands is not empty."""
    tiles = [shape for shape in shapes if _is_tile(shape)]
    beside = [shape for shape in tiles if side_of(middle(shape.box), grid.rows, grid.columns)]
    full = [shape for shape in beside if any(_stands_in(glyph, shape.box) for glyph in glyphs)]
    empty = [one for one in beside if one not in full and any(_is_alike(one, other) for other in full)]
    empty = [one for one in empty if not any(box != one.box and holds(one.box, middle(box)) for box in seen)]
    small = [one for one in tiles if one not in beside and _is_place(one.box, 0.0)]
    small = [one for one in small if _holds_number(one.box, one.colour, glyphs)]
    small += _under_givens(tiles, glyphs, grid)
    small += _frames_of_all([shape for shape in shapes if shape.name in FRAMES and not shape.filled], glyphs)
    round_ones = [one for one in discs if one.fill and _is_place(one.box, OFF_MIDDLE)]
    round_ones = [one for one in round_ones if one.fill and _holds_number(one.box, one.fill, glyphs)]
    return Told(
        tuple(shape for shape in shapes if shape not in empty and shape not in small),
        tuple(disc for disc in discs if disc not in round_ones),
        (
            *(box_polygon(shape.box) for shape in (*small, *full, *empty)),
            *(disc_polygon(disc.centre, disc.radius + RIM) for disc in round_ones),
        ),
    )


def _frames_of_all(frames: Sequence[Shape], glyphs: Sequence[Glyph]) -> list[Shape]:
    """The frames round small numbers off the middle of a cell, where each number in such a place has one: some with and
    some without are told apart by them."""
    numbers = [glyph for glyph in glyphs if glyph.text.isdigit() and glyph.size <= SMALL]
    numbers = [glyph for glyph in numbers if _is_place(glyph.box, OFF_MIDDLE)]
    around = [one for one in frames if _is_place(one.box, OFF_MIDDLE) and _holds_number(one.box, WHITE, numbers)]
    framed = all(any(holds(one.box, glyph.centre) for one in around) for glyph in numbers)
    return around if framed else []


def _under_givens(tiles: Sequence[Shape], glyphs: Sequence[Glyph], grid: Evidence) -> list[Shape]:
    """The tiles of one colour in the middles of cells, where every given stands on one, and nothing else does."""
    figures = [glyph for glyph in glyphs if glyph.text.isdigit() and not side_of(glyph.centre, grid.rows, grid.columns)]
    givens = {_cell_of(glyph.centre): glyph for glyph in figures if _is_in_middle(glyph.centre)}
    found: list[Shape] = []
    for colour in dict.fromkeys(one.colour for one in tiles):
        own = {
            _cell_of(middle(one.box)): one for one in tiles if one.colour == colour and _is_in_middle(middle(one.box))
        }
        shown = all(colours_apart(glyph.colour, colour) >= APART for glyph in givens.values())
        if len(givens) >= LEAST_GIVENS and own.keys() == givens.keys() and shown:
            found += own.values()
    return found


def _cell_of(point: Point) -> tuple[int, int]:
    return int(point[1] // 1), int(point[0] // 1)


def _is_in_middle(point: Point) -> bool:
    return max(abs(at % 1 - 0.5) for at in point) < OFF_MIDDLE


def _is_tile(shape: Shape) -> bool:
    return shape.filled and shape.name in TILES


def _is_place(box: Box, least: float) -> bool:
    """Whether something stands off the middle of its cell, but on no crossing; off both middle lines by `least`."""
    off = sorted(abs(at % 1 - 0.5) for at in middle(box))
    return off[0] >= least and off[1] >= OFF_MIDDLE and off[0] < ON_CROSSING


def _holds_number(box: Box, colour: Colour, glyphs: Iterable[Glyph]) -> bool:
    """Whether a small number stands in a box, close to all of its sides, in a colour that shows on it."""
    left, top, right, bottom = box
    for glyph in glyphs:
        room = (glyph.box[0] - left, glyph.box[1] - top, right - glyph.box[2], bottom - glyph.box[3])
        shows = colours_apart(glyph.colour, colour) >= APART
        if glyph.text.isdigit() and glyph.size <= SMALL and shows and min(room) >= 0 and max(room) <= PADDING:
            return True
    return False


def _stands_in(glyph: Glyph, box: Box) -> bool:
    """Whether a number stands in the middle of a box, so that no other one may."""
    off = (abs(a - b) for a, b in zip(glyph.centre, middle(box), strict=True))
    return glyph.text.isdigit() and max(off) <= CENTRED


def _is_alike(one: Shape, other: Shape) -> bool:
    sizes = [sorted((s.box[2] - s.box[0], s.box[3] - s.box[1])) for s in (one, other)]
    return one.colour == other.colour and all(abs(a - b) <= ALIKE for a, b in zip(*sizes, strict=True))
