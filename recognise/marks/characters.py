"""The characters that stand with marks: which places are read, and what counts beside what was read before."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from ingest.page import Box
from recognise.colours import colours_apart
from recognise.evidence import Fence, Glyph, Shape, Trace
from recognise.geometry import holds, within
from recognise.grouping import grouped
from recognise.marks.hardly_seen import without_odd_ones
from recognise.marks.like_others import like_others
from recognise.marks.lines import MIDDLING
from recognise.marks.on_lines import read_on_lines
from recognise.marks.overlooked import overlooked, perhaps_overlooked
from recognise.marks.places import Spots
from recognise.marks.pointers import is_pointer
from recognise.marks.seen import Seen
from recognise.marks.text_ink import Print, Wall
from recognise.marks.text_places import Place, corner_of, hard_to_read, on_line_above, small_places
from recognise.marks.texts import read_texts
from recognise.marks.wall_pieces import hangs_on_wall, pieces_of_walls, walls_of
from recognise.pixels.blobs import find_pieces
from recognise.pixels.closer import look_closer
from recognise.pixels.glyphs import CharacterReader

ONE_COLOUR, ONE_WIDTH = 40, 1.5
"""Of 255, in any channel, and as a part of the narrower: lines of one kind differ by no more."""

AS_WIDE = 0.93
"""Part of the longer side of its box that the shorter one of a square has at least."""


@dataclass(frozen=True, slots=True)
class Characters:
    """What was read at the places of marks (`texts`) and of small numbers (`small`); what was `known` before, without
    the `dashes` of cages that passed for it; words on places in doubt."""

    glyphs: tuple[Glyph, ...]
    texts: tuple[Place, ...]
    small: tuple[Place, ...]
    known: tuple[Glyph, ...]
    dashes: tuple[Glyph, ...]
    notes: tuple[str, ...]

    @property
    def on_edges(self) -> list[Box]:
        """The boxes of those that stand on the lattice, in no circle."""
        places = [place.box for place in self.texts if place.on_lattice and not place.radius]
        return [glyph.box for glyph in self.glyphs if any(holds(box, glyph.centre) for box in places)]

    def is_small(self, glyph: Glyph) -> bool:
        """Whether a character is one of the small ones in the corner of a cell, and no given."""
        return any(is_small_at(place, glyph) and glyph.size <= place.tallest for place in self.small)

    def replaced(self, drawn: Sequence[Shape]) -> tuple[Glyph, ...]:
        """Those read before in whose place others stand now, or a little arrow or a sign of `drawn`."""
        gone = (
            glyph
            for glyph in self.known
            if any(place.is_of(glyph) for place in self.texts)
            or _read_again(glyph, self.glyphs, self.small)
            or any(is_pointer(glyph, shape) or _is_of_sign(glyph, shape) or _is_square(glyph, shape) for shape in drawn)
        )
        return (*self.dashes, *gone)


def read_characters(
    seen: Seen,
    spots: Sequence[Spots],
    fences: Sequence[Fence],
    lines: Sequence[Trace],
    known: Sequence[Glyph],
    reader: CharacterReader,
) -> Characters:
    """The characters at the places of marks in `spots`, and the small ones in the corners of cells, the first ones of
    cages and the ends of lines above all. `known` are those read before."""
    walls = walls_of(fences)
    dashes = pieces_of_walls(known, fences, seen.ink.drawn, seen.raster)
    known = [glyph for glyph in known if glyph not in dashes]
    first = [fence.cells[0] for fence in fences]
    plain = by_look([line for line in lines if not line.discs and not line.heads])
    ends = [[line.ends for line in alike] for alike in plain]
    texts = [place for found in spots for place in found.texts]
    small, doubtful = small_places(seen.chances, known, seen.standing.holds_characters, first, ends, texts)
    again = [place for place in texts if _may_be_more(place, known)]
    texts = [place for place in texts if place.on_lattice or place in again or not _read_already(place, known)]
    before = _read_before(spots, known)
    places = [*texts, *small]
    close = _print(seen) if places or doubtful else None
    numbered = {corner_of(cell) for cell in (*first, *(cell for alike in ends for line in alike for cell in line))}
    glyphs, notes, more = (
        read_at_places(places, numbered, known, close, reader, walls, before) if places and close else ([], [], [])
    )
    texts += [place for place in more if place.on_lattice]
    small = with_found(small, more)
    glyphs = read_on_lines(small, glyphs, lines, close, reader, walls) if close else glyphs
    notes = [*perhaps_overlooked(doubtful, close, small), *notes] if close else notes
    glyphs = without_odd_ones(texts, glyphs)
    glyphs = like_others(texts, glyphs, seen.ink.all, seen.raster, walls)
    texts = [place for place in texts if not place.perhaps or any(stands_in(place.box, glyph) for glyph in glyphs)]
    alike = [place for place in again if not _has_more(place, glyphs, known)]
    glyphs = [glyph for glyph in glyphs if not any(stands_in(place.box, glyph) for place in alike)]
    texts = [place for place in texts if place not in alike]
    drawn = [shape for found in spots for shape in found.shapes]
    counting = (
        glyph
        for glyph in glyphs
        if not is_worse(glyph, known, small) and not any(is_pointer(glyph, shape) for shape in drawn)
    )
    dashes += [glyph for glyph in known if hangs_on_wall(glyph, walls) and _is_in_small(glyph, small, glyphs)]
    return Characters(tuple(counting), tuple(texts), tuple(small), tuple(known), tuple(dashes), tuple(notes))


def read_at_places(
    places: Sequence[Place],
    numbered: Collection[Box],
    known: Sequence[Glyph],
    seen: Print,
    reader: CharacterReader,
    walls: Sequence[Wall],
    before: Sequence[tuple[Place, float]],
) -> tuple[list[Glyph], list[str], list[Place]]:
    """What `read_texts` reads, with words on places that are none of these and hold characters that are not `known`;
    those of them are read as well, and returned, that are `numbered` corners, where cages or lines begin, or at which
    both networks read the same."""
    glyphs, notes = read_texts(places, seen, reader, walls, before)
    missed = overlooked(places, glyphs, known, seen)
    if not missed:
        return glyphs, notes, []
    boxes = {place.box for place in missed}
    looked = [*(place for place in places if place.box not in boxes), *missed]
    again, notes = read_texts(looked, seen, reader, walls, before)
    own = {place: [glyph for glyph in again if place.is_of(glyph)] for place in missed}
    alike = {at for at, text in missed.items() if [glyph.text for glyph in own[at]] == [text]}
    # What looks like a 1 on an edge may be a dash of a line.
    more = [at for at, text in missed.items() if at.box in numbered or (at in alike and (at.in_corner or text != "1"))]
    left = {id(glyph) for place in missed if place not in more for glyph in own[place]}
    size = seen.raster.rows, seen.raster.columns
    asked = dict.fromkeys((*notes, *(hard_to_read(place, size) for place in missed if place not in more)))
    return [glyph for glyph in again if id(glyph) not in left], list(asked), more


def with_found(small: Iterable[Place], found: Sequence[Place]) -> list[Place]:
    """The places of small numbers with those that were found in corners, each once: some may have been looked at
    before."""
    boxes = {place.box for place in found}
    return [*(place for place in small if place.box not in boxes), *(place for place in found if place.in_corner)]


def by_look(lines: Sequence[Trace]) -> list[list[Trace]]:
    """Plain lines by their look: of one kind, print draws all in one colour and width."""

    def is_alike(group: Sequence[int], at: int) -> bool:
        one, other = lines[group[0]], lines[at]
        narrow, wide = sorted((one.width, other.width))
        return colours_apart(one.colour, other.colour) <= ONE_COLOUR and wide <= ONE_WIDTH * narrow

    return [[lines[at] for at in group] for group in grouped(range(len(lines)), is_alike)]


def _print(seen: Seen) -> Print:
    """What small characters are read from: the page closer by, where it has more to show."""
    ink = seen.ink
    close = look_closer(seen.flat, ink)
    if close is None:
        return Print(ink.all, ink.drawn, ink.relative, seen.pieces, seen.raster, ink.floor)
    found = find_pieces(close.drawn, close.raster, seen.pieces.tones)
    return Print(close.whole, close.drawn, close.relative, found, close.raster, ink.floor)


def _is_of_sign(glyph: Glyph, shape: Shape) -> bool:
    """Whether what was read as a character, and was hard to read, is a part of a sign that is surely one: the lattice
    line was cut out of it."""
    sure = shape.name == "sign" and shape.confidence >= MIDDLING[1] > glyph.confidence
    return sure and within(glyph.box, shape.box)


def _is_square(glyph: Glyph, shape: Shape) -> bool:
    """Whether what was hardly read as a character is the outline of a square in a cell that is surely one: print with
    rounded corners makes it look like a 0, which no fount sets as wide as high."""
    x0, y0, x1, y1 = glyph.box
    sure = shape.name == "square" and shape.confidence >= MIDDLING[1] > glyph.confidence
    return sure and within(glyph.box, shape.box) and min(x1 - x0, y1 - y0) >= AS_WIDE * max(x1 - x0, y1 - y0)


def _read_already(place: Place, known: Iterable[Glyph]) -> bool:
    """Whether all numbers beside the grid were read that stand at a place: two that are close look like one."""
    return sum(stands_in(place.box, glyph) for glyph in known) >= place.numbers


def _read_before(spots: Iterable[Spots], known: Sequence[Glyph]) -> list[tuple[Place, float]]:
    """Where the middles of numbers beside the grid are that were read before, across."""
    return [(place, glyph.centre[0]) for found in spots for place in found.texts if (glyph := _alone_at(place, known))]


def _alone_at(place: Place, known: Iterable[Glyph]) -> Glyph | None:
    """What was read at a place beside the grid, where that is one number."""
    read = [glyph for glyph in known if stands_in(place.box, glyph)] if place.arrows else []
    return read[0] if len(read) == 1 else None


def _may_be_more(place: Place, known: Iterable[Glyph]) -> bool:
    """Whether what was read of a number with a little arrow, single figures, may be parts of one: the arrow's shaft
    touches another."""
    read = [glyph for glyph in known if stands_in(place.box, glyph)]
    return bool(place.arrows and read) and place.numbers == 1 and all(len(glyph.text) == 1 for glyph in read)


def _has_more(place: Place, found: Iterable[Glyph], known: Iterable[Glyph]) -> bool:
    """Whether the number at a place that was read once more has what was read before and more."""
    before = [glyph.text for glyph in known if stands_in(place.box, glyph)]
    now = (glyph.text for glyph in found if stands_in(place.box, glyph))
    return any(len(text) > 1 and all(one in text for one in before) for text in now)


def is_worse(glyph: Glyph, known: Iterable[Glyph], small: Iterable[Place]) -> bool:
    """Whether a small number was read better before: with more characters, and as surely. With as many, what was read
    now has the word, for it was looked at in more ways: if it is in doubt, there was a reason."""
    for place in small:
        if is_small_at(place, glyph):
            before = [k for k in known if is_small_at(place, k) and k.size <= place.tallest]
            return any(len(k.text) > len(glyph.text) and k.confidence >= glyph.confidence for k in before)
    return False


def _read_again(glyph: Glyph, found: Sequence[Glyph], small: Iterable[Place]) -> bool:
    """Whether a small number is among those that were read anew, or one of them with the ink around it."""
    if any(other.text == glyph.text and within(other.box, glyph.box) for other in found):
        return True
    return _is_in_small(glyph, [place for place in small if glyph.size <= place.tallest], found)


def _is_in_small(glyph: Glyph, small: Iterable[Place], found: Iterable[Glyph]) -> bool:
    """Whether a character stands in the place of a small number, and one was read there anew."""
    own = [place for place in small if is_small_at(place, glyph)]
    return any(is_small_at(place, other) for place in own for other in found)


def is_small_at(place: Place, glyph: Glyph) -> bool:
    """Whether a character stands in the corner of a cell that is a place, and not on the lattice line over it."""
    return stands_in(place.box, glyph) and not on_line_above(place, glyph.box)


def stands_in(box: Box, glyph: Glyph) -> bool:
    """Whether the middle of a character lies in a box."""
    return box[0] <= glyph.centre[0] <= box[2] and box[1] <= glyph.centre[1] <= box[3]
