"""All marks of a flattened grid, read by the lattice network and measured on its picture."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

import cv2
import numpy as np

from ingest.page import Box, Point
from recognise.evidence import Disc, Fence, Flat, Glyph, Shape, Trace
from recognise.geometry import holds, overlap
from recognise.marks.agree import agreed
from recognise.marks.cages import find_cages
from recognise.marks.found import Marks
from recognise.marks.like_others import like_others
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.looking import Looking
from recognise.marks.network import Chances, LatticeReader
from recognise.marks.places import (
    CELL_CIRCLE,
    Spots,
    box_at,
    capsules,
    cell_spots,
    corner_spots,
    diagonals,
    edge_spots,
)
from recognise.marks.pointers import POINTER, is_pointer, pointers
from recognise.marks.slanted import slanted
from recognise.marks.spoken import SILENT, Spoken, weighed
from recognise.marks.standing import Standing
from recognise.marks.strokes import Stroke, measure, tip_beyond
from recognise.marks.text_ink import Print
from recognise.marks.text_places import Place, corner_of, small_places
from recognise.marks.texts import read_texts
from recognise.marks.traces import find_traces
from recognise.pixels.blobs import Pieces, find_pieces
from recognise.pixels.closer import look_closer
from recognise.pixels.frame import Mask, Raster
from recognise.pixels.framing import frames_of_all
from recognise.pixels.glyphs import CharacterReader
from recognise.pixels.ink import Ink
from recognise.pixels.tracing import overshoots, painted
from schema.cells import Cell

SPARE = 0.06
"""In cells: how far the ink of a mark may stand outside of its shape as read."""
PAST_DIGIT, PAST_HEAD, PAST_CIRCLE = 0.2, 0.36, 0.44
"""As parts of the way to the next cell: where a line is clear of what stands in the middle of a cell."""
PAST_INK = 0.04
"""The same, from the box of a character on: its blur."""
LARGE_DIGIT = 0.2, 0.3
"""In cells: half the width and half the height of one."""
HEAD = 0.24
"""In cells: how far an arrow head reaches to all sides of its tip."""
HALF_CELL = 0.5
PLATE = 0.2
"""In cells: half the width of the patch of paper on which characters stand between cells."""
UNLIKE_MARKS = frozenset("2345689")
"""Figures that no dot, bar or sign looks like."""
WALL = 0.05
"""In cells: half the width of what a cage's wall takes up."""
DASH_LIKE = ("1", "I", "L")
"""What an upright dash is read as."""


class MarkReader:
    """Finds marks by the lattice network; characters that stand with them are read by `reader`."""

    def __init__(self, reader: CharacterReader, lattice: LatticeReader | None = None, spoken: Spoken = SILENT) -> None:
        self._reader = reader
        self._lattice = lattice or LatticeReader()
        self._spoken = spoken

    def guided_by(self, spoken: Spoken) -> MarkReader:
        """A reader that knows what the rules of the page speak of."""
        return MarkReader(self._reader, self._lattice, spoken)

    def __call__(self, flat: Flat, ink: Ink, pieces: Pieces, known: Sequence[Glyph], tubes: Sequence[Trace]) -> Marks:
        """The marks of a grid; see `recognise.marks.found.MarkFinder`."""
        return _marks(self._lattice.look(flat), self._spoken, ink, flat, pieces, known, tubes, self._reader)


def _marks(
    told: Chances,
    spoken: Spoken,
    ink: Ink,
    flat: Flat,
    pieces: Pieces,
    known: Sequence[Glyph],
    tubes: Sequence[Trace],
    reader: CharacterReader,
) -> Marks:
    chances = weighed(told, spoken)
    raster = Raster.of(flat)
    standing = Standing(ink, raster, known)
    looking = Looking(ink.all, ink.drawn, ink.relative, raster, ink.floor, standing)

    on_ways = [edge_spots(told, looking, spoken), corner_spots(chances, looking)]

    middles = _in_the_middle(known, raster, chances)

    def stroke(one: Cell, other: Cell) -> Stroke:
        ways = (one, other), (other, one)
        start, end = (max(clear_of(way[0], chances), _past(way, middles.get(way[0]))) for way in ways)
        part = start, 1 - end
        return measure((one, other), part, ink.drawn, ink.relative, raster, ink.floor, _hidden(one, other, on_ways))

    def radius(cell: Cell) -> float | None:
        found = looking.round_at(cell.centre, CELL_CIRCLE, on_lattice=False)
        return found.radius if found else None

    def tip(before: Cell, last: Cell) -> float:
        return tip_beyond(before, last, ink.drawn, raster, ink.floor)

    lines = find_traces(chances, stroke, radius, standing.between, raster, spoken, tip)
    cages = find_cages(chances, ink.drawn, ink.relative, raster, ink.floor, standing.along, unspoken=spoken.no_cages)
    spots = [
        *on_ways,
        cell_spots(chances, looking, lines.circled, spoken),
        capsules(chances, looking),
        diagonals(chances),
        pointers(
            chances,
            any(_beside(glyph, raster) for glyph in known),
            slanted(pieces, raster, known) if spoken.arrowed else (),
            spoken.unspoken if spoken.bare and not spoken.arrowed else 1.0,
        ),
    ]
    dashes = [glyph for glyph in known if _is_dash(glyph, cages.fences, raster)]
    known = [glyph for glyph in known if glyph not in dashes]
    first = [fence.cells[0] for fence in cages.fences]
    small, small_notes = small_places(chances, known, standing.holds_characters, first)
    texts = [place for place in _texts(spots) if place.on_lattice or not _read_already(place, known)]
    places = [*texts, *small]
    glyphs, text_notes = read_texts(places, _print(flat, ink, pieces), reader) if places else ([], [])
    glyphs = like_others(texts, glyphs, ink.all, raster)
    drawn = [shape for found in spots for shape in found.shapes]
    glyphs = [
        glyph
        for glyph in glyphs
        if not _worse(glyph, known, small) and not any(is_pointer(glyph, shape) for shape in drawn)
    ]
    drawn += [shape for found in spots for place, shape in found.unless_written if not _is_written(place, glyphs)]
    replaced = tuple(
        glyph
        for glyph in (*dashes, *known)
        if glyph in dashes
        or any(_stands_in(place.box, glyph) for place in texts)
        or _read_again(glyph, glyphs, small)
        or any(is_pointer(glyph, shape) for shape in drawn)
    )
    traces = agreed(lines, tubes, chances, tubed=not spoken.links or "TUBE" in spoken.links)
    own = {trace.nodes[node].centre for trace in traces for node, _ in trace.discs}
    discs = tuple(disc for found in spots for disc in found.discs if disc.centre not in own)
    characters = [*(glyph for glyph in known if glyph not in replaced), *glyphs]
    on_edges = [place.box for place in texts if place.on_lattice and not place.radius]
    bare = [glyph.box for glyph in glyphs if any(holds(box, glyph.centre) for box in on_edges)]
    # A ring is told by the network, with what stands in it.
    frames = [
        frame for frame in frames_of_all(bare, ink.all, ink.relative, raster, ink.floor) if isinstance(frame, Shape)
    ]
    drawn += frames
    shapes = tuple(_where_drawn(shape, characters, pieces, raster) for shape in drawn)
    framed = [frame.box for frame in frames]
    answered = [glyph for glyph in glyphs if _is_plainly_text(glyph, framed)]
    unread = [words for found in spots for place, words in found.unless_read if not _is_written(place, answered)]
    of_spots = [*(note for found in spots for note in found.notes), *unread]
    notes = (*lines.notes, *cages.notes, *of_spots, *small_notes, *text_notes)
    tint = {cell: chances.node(cell, "TINT") for cell in chances.cells()}
    size = ink.drawn.shape[0], ink.drawn.shape[1]
    explained = _explained(traces, cages.fences, discs, shapes, glyphs, raster, size)
    return Marks(traces, cages.fences, discs, shapes, tuple(glyphs), replaced, tint, notes, explained)


def _is_written(place: Point, glyphs: Iterable[Glyph]) -> bool:
    """Whether any characters were read at a place on an edge."""
    return any(math.dist(glyph.centre, place) <= PLATE for glyph in glyphs)


def _is_plainly_text(glyph: Glyph, framed: Iterable[Box]) -> bool:
    """Whether what was read on an edge can be no dot, bar or sign, which may look like one figure or letter: a longer
    text, another figure, or one in a frame."""
    plain = len(glyph.text) > 1 or glyph.text in UNLIKE_MARKS or any(holds(box, glyph.centre) for box in framed)
    return plain and glyph.confidence >= MIDDLING[1]


def _print(flat: Flat, ink: Ink, pieces: Pieces) -> Print:
    """What small characters are read from: the page closer by, where it has more to show."""
    close = look_closer(flat, ink)
    if close is None:
        return Print(ink.all, ink.drawn, ink.relative, pieces, Raster.of(flat), ink.floor)
    found = find_pieces(close.drawn, close.raster, pieces.tones)
    return Print(close.whole, close.drawn, close.relative, found, close.raster, ink.floor)


def clear_of(cell: Cell, chances: Chances) -> float:
    """How far from the middle of a cell a line through it can be seen as what it is."""
    if max(chances.node(cell, name) for name in ("BULB", "CIRCLE", "CAPSULE")) > DRAWN:
        return PAST_CIRCLE
    return PAST_HEAD if chances.node(cell, "HEAD") > DRAWN else PAST_DIGIT


def _in_the_middle(known: Iterable[Glyph], raster: Raster, chances: Chances) -> dict[Cell, Box]:
    """The boxes of characters that stand over the middles of cells; of those that were not read, on lines, the box of
    a large digit."""
    unread = (cell for cell in chances.cells() if chances.node(cell, "CHARACTERS") > DRAWN)
    found = {cell: box_at(cell.centre, *LARGE_DIGIT) for cell in unread}
    by_cell = ((raster.cell_of(*glyph.centre), glyph.box) for glyph in known)
    return found | {cell: box for cell, box in by_cell if cell is not None and holds(box, cell.centre)}


def _past(way: tuple[Cell, Cell], box: Box | None) -> float:
    """How far along the way from a cell to the next, as part of it, a character in the middle of the first reaches."""
    if box is None:
        return 0.0
    (x, y), (end_x, end_y) = (cell.centre for cell in way)
    reaches = (
        (box[2] - x if end_x > x else x - box[0]) if end_x != x else math.inf,
        (box[3] - y if end_y > y else y - box[1]) if end_y != y else math.inf,
    )
    return min(min(reaches) + PAST_INK, PAST_CIRCLE)


def _hidden(one: Cell, other: Cell, spots: Iterable[Spots]) -> float:
    """How far, in cells, marks on the middle of the way between two cells hide it."""
    (x0, y0), (x1, y1) = one.centre, other.centre
    middle = (x0 + x1) / 2, (y0 + y1) / 2
    places = [(disc.centre, disc.radius + SPARE) for found in spots for disc in found.discs]
    places += [(place.middle, max(place.radius, PLATE)) for found in spots for place in found.texts]
    return max((radius for centre, radius in places if math.dist(centre, middle) <= PLATE), default=0.0)


def _beside(glyph: Glyph, raster: Raster) -> bool:
    return raster.cell_of(*glyph.centre) is None


def _is_dash(glyph: Glyph, fences: Iterable[Fence], raster: Raster) -> bool:
    """Whether what was read as a 1 is a dash in the wall of a cage, away from the corner of its cell, where its total
    stands and may lie in line with the wall."""
    x0, y0, x1, y1 = glyph.box
    cell = raster.cell_of(*glyph.centre)
    if glyph.text not in DASH_LIKE or x1 - x0 > WALL or cell is None or holds(corner_of(cell), glyph.centre):
        return False
    sides = (side for fence in fences for side in zip(fence.where, (*fence.where[1:], fence.where[0]), strict=True))
    return any(
        abs(xa - xb) < WALL > abs(glyph.centre[0] - xa) and min(ya, yb) - WALL <= y0 and y1 <= max(ya, yb) + WALL
        for (xa, ya), (xb, yb) in sides
    )


def _texts(spots: Iterable[Spots]) -> list[Place]:
    return [place for found in spots for place in found.texts]


def _where_drawn(shape: Shape, characters: Iterable[Glyph], pieces: Pieces, raster: Raster) -> Shape:
    """A little arrow beside the grid where it really is, which is the largest piece in its place that is no character:
    numbers and arrows are told to belong together by how near they are."""
    if shape.name != "arrow":
        return shape
    x, y = (shape.box[0] + shape.box[2]) / 2, (shape.box[1] + shape.box[3]) / 2
    reach = HALF_CELL * (shape.box[2] - shape.box[0]) / (2 * POINTER)
    taken = [glyph.box for glyph in characters]
    boxes = [
        box
        for box in (blob.box(raster) for blob in pieces.blobs)
        if max(abs((box[0] + box[2]) / 2 - x), abs((box[1] + box[3]) / 2 - y)) <= reach
        and not any(overlap(box, other) for other in taken)
    ]
    largest = max(boxes, key=lambda box: (box[2] - box[0]) * (box[3] - box[1]), default=shape.box)
    return replace(shape, box=largest)


def _read_already(place: Place, known: Iterable[Glyph]) -> bool:
    """Whether all numbers beside the grid were read that stand at a place: two that are close look like one."""
    return sum(_stands_in(place.box, glyph) for glyph in known) >= place.numbers


def _worse(glyph: Glyph, known: Iterable[Glyph], small: Iterable[Place]) -> bool:
    """Whether a small number was read better before: with more characters, and as surely. With as many, what was read
    now has the word, for it was looked at in more ways: if it is in doubt, there was a reason."""
    for place in small:
        if _stands_in(place.box, glyph):
            before = [k for k in known if _stands_in(place.box, k) and k.size <= place.tallest]
            return any(len(k.text) > len(glyph.text) and k.confidence >= glyph.confidence for k in before)
    return False


def _read_again(glyph: Glyph, found: Iterable[Glyph], small: Iterable[Place]) -> bool:
    """Whether a small number is among those that were read anew."""
    own = [place for place in small if _stands_in(place.box, glyph) and glyph.size <= place.tallest]
    return any(_stands_in(place.box, other) for place in own for other in found)


def _stands_in(box: Box, glyph: Glyph) -> bool:
    return box[0] <= glyph.centre[0] <= box[2] and box[1] <= glyph.centre[1] <= box[3]


def _explained(
    traces: Sequence[Trace],
    fences: Iterable[Fence],
    discs: Iterable[Disc],
    shapes: Iterable[Shape],
    glyphs: Iterable[Glyph],
    raster: Raster,
    size: tuple[int, int],
) -> Mask:
    """The pixels of all that was found."""
    mask = (painted(traces, raster, size, SPARE) | overshoots(traces, raster, size, SPARE)).astype(np.uint8)
    for trace in traces:
        for node in trace.heads:
            centre = _pixels((trace.nodes[node].centre,), raster)[0]
            cv2.circle(mask, (int(centre[0]), int(centre[1])), raster.px(HEAD + SPARE), 1, -1)
    for fence in fences:
        cv2.polylines(mask, [_pixels(fence.where, raster)], True, 1, raster.px(2 * (WALL + SPARE)))
    for disc in discs:
        centre = _pixels((disc.centre,), raster)[0]
        cv2.circle(mask, (int(centre[0]), int(centre[1])), raster.px(disc.radius + SPARE), 1, -1)
    for box in (*(_own(shape) for shape in shapes), *(glyph.box for glyph in glyphs)):
        if box is not None:
            mask[raster.slices(box, raster.px(SPARE))] = 1
    for shape in shapes:
        if shape.name == "diagonal":
            (x0, y0), (x1, y1) = _pixels((shape.box[:2], shape.box[2:]), raster)
            ends = ((x0, y0), (x1, y1)) if shape.direction == "down" else ((x0, y1), (x1, y0))
            start, end = ((int(x), int(y)) for x, y in ends)
            cv2.line(mask, start, end, 1, raster.px(2 * (WALL + SPARE)))
    return mask.view(np.bool_)


def _own(shape: Shape) -> Box | None:
    """The box that a shape's ink fills; none for a line across the grid."""
    return None if shape.name == "diagonal" else shape.box


def _pixels(points: Iterable[Point], raster: Raster) -> np.ndarray:
    return np.rint([[raster.at(x), raster.at(y)] for x, y in points]).astype(np.int32)
