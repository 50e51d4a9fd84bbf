"""The numbers beside a grid, read: rings of them as they stand (`outside.py`), of each side in the look that shows
more."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from itertools import chain, islice
from typing import get_args

import numpy as np

from ingest.page import Box
from recognise.evidence import Flat, Glyph
from recognise.geometry import holds, middle
from recognise.pixels.blobs import Blob, Pieces, beside_grid
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import Character, CharacterReader, as_glyph, character_sized, read_characters
from recognise.pixels.hues import by_colour
from recognise.pixels.ink import Ink
from recognise.pixels.leaning import lean
from recognise.pixels.looks import GROWN
from recognise.pixels.next_door import is_next_door
from recognise.pixels.on_a_line import is_on_a_line
from recognise.pixels.outside import (
    ENOUGH,
    Ring,
    begins_far,
    find_rings,
    goes_on_as_text,
    has_low_pieces,
    is_of_a_table,
)
from recognise.pixels.sides import Sides
from recognise.pixels.touching import parted
from schema.grid import Side

DIGITS = "0123456789"
MOSTLY = 0.5
"""A ring of which less than this part reads as numbers is text that happens to stand in line, or asked about."""
SEVERAL = 2
"""So many sure letters in what is hardly read are those of a text, or of a table."""
AS_WIDE = 0.9
"""A figure is no wider than this part of its height."""
SURE_OTHERWISE, OTHERWISE = 0.8, 0.5
"""Another look that is so sure of another number leaves a number this part of its confidence."""


def read_outside(
    pieces: Pieces, ink: Ink, flat: Flat, reader: CharacterReader, printed: Sequence[Box]
) -> tuple[list[Ring], list[Glyph], Mapping[Side, Sequence[Box]]]:
    """The rings of numbers, as rings and as glyphs, and what stands in those of a side that is none. Each side is
    looked at twice, as dark as the ink in the grid and as dark as what stands there, and the look that shows more
    numbers is taken, or more figures of them: what is pale is lost at some thresholds. A number that the other look
    shows otherwise is in doubt. `printed` are the characters in the grid: the edge of a shadow has not their sharp
    sides."""
    seen = (pieces, beside_grid(ink, Raster.of(flat)))
    around = [blob for look in seen for blob in look.blobs]
    looks = [_rings(look, around, ink, flat, reader, printed) for look in seen]
    taken: list[Numbers] = []
    for side in get_args(Side):
        sides = [[numbers for numbers in look if numbers.ring.side == side] for look in looks]
        best = max(sides, key=readable_of)
        others = [glyph for look in sides if look is not best for numbers in look for glyph in numbers.glyphs]
        taken += [
            replace(numbers, glyphs=tuple(doubted(glyph, others) for glyph in numbers.glyphs)) for numbers in best
        ]
    rings = [numbers.ring for numbers in taken if numbers.glyphs]
    taken = [numbers for numbers in taken if not begins_far(numbers.ring, rings, Raster.of(flat))]
    unsettled: dict[Side, Sequence[Box]] = {}
    for numbers in taken:
        if numbers.in_doubt:
            unsettled[numbers.ring.side] = (*unsettled.get(numbers.ring.side, ()), *numbers.in_doubt)
    return [numbers.ring for numbers in taken], [glyph for numbers in taken for glyph in numbers.glyphs], unsettled


@dataclass(frozen=True, slots=True)
class Numbers:
    """A ring as read; `readable` of its numbers are numbers, `in_doubt` is what stands in it and is none. One that is
    hardly read has no `glyphs`: it is put to a person."""

    ring: Ring
    glyphs: tuple[Glyph, ...]
    readable: int
    in_doubt: tuple[Box, ...]


def readable_of(rings: Sequence[Numbers]) -> tuple[int, int, int]:
    """How many numbers of some rings are read, how many figures in all, and what may be a number and is none."""
    read = [numbers for numbers in rings if numbers.glyphs]
    figures = sum(len(glyph.text) for numbers in read for glyph in numbers.glyphs)
    hardly = sum(len(numbers.in_doubt) for numbers in rings if not numbers.glyphs)
    return sum(numbers.readable for numbers in read), figures, hardly


def doubted(glyph: Glyph, others: Iterable[Glyph]) -> Glyph:
    """A number, half as sure if another look shows another one in its place, and not only a part of it."""
    here = [other for other in others if holds(other.box, glyph.centre) or holds(glyph.box, other.centre)]
    if all(other.text in glyph.text or other.confidence < SURE_OTHERWISE for other in here):
        return glyph
    return glyph.less_sure(OTHERWISE)


def _rings(
    pieces: Pieces, around: Sequence[Blob], ink: Ink, flat: Flat, reader: CharacterReader, printed: Sequence[Box]
) -> list[Numbers]:
    """The rings among some pieces, without little arrows beside their numbers; a ring with anything but digits in it is
    text. `around` are all pieces."""
    raster = Raster.of(flat)
    upright = (
        blob
        for blob in character_sized(pieces, raster)
        if raster.cell_of(*middle(blob.box(raster))) or not lean(blob, pieces)
    )
    whole = (blob for blob in upright if not _is_cut_off(blob, flat))
    rings = find_rings(whole, raster)
    rings = [
        ring
        for ring in rings
        if not is_of_a_table(ring, around, raster) and not is_next_door(ring, ink.level, flat, ink.floor)
    ]
    blobs = [placed.blob for ring in rings for _, members in ring.clues for placed in members]
    read = iter(read_characters(blobs, pieces, ink.drawn, raster, reader, DIGITS, numbers=True))
    kept: list[Numbers] = []
    hardly: list[Numbers] = []
    for ring in rings:
        numbers = [
            parted(list(islice(read, len(members))), pieces, ink.drawn, raster, reader) for _, members in ring.clues
        ]
        numbers = [_mended(number, pieces, ink, raster, reader) for number in numbers]
        digits = [all(c.is_digit for c in number) for number in numbers]
        sure = all(c.is_digit and c.guesses[0].probability >= SURE_OTHERWISE for number in numbers for c in number)
        if not sure and (
            goes_on_as_text(ring, around, raster)
            or is_on_a_line(ring, ink.level, raster, ink.floor)
            or _is_shade(ring, pieces, ink, flat, printed)
        ):
            continue
        alike = (part for number in numbers for part in by_colour(number, pieces, ink.relative))
        glyphs = tuple(as_glyph(part, pieces, ink.relative) for part in alike)
        unread = (members for (_, members), read_so in zip(ring.clues, digits, strict=True) if not read_so)
        strays = (*ring.strays, *chain.from_iterable(unread))
        # With low pieces these may be little arrows beside their numbers, which are read with these.
        if np.mean(digits) >= MOSTLY and (all(digits) or not has_low_pieces(ring)):
            kept.append(Numbers(ring, glyphs, sum(digits), tuple(stray.box for stray in strays)))
        elif sum(_is_letter(c) for number in numbers for c in number) < SEVERAL:
            boxes = tuple(placed.box for _, members in ring.clues for placed in members)
            hardly.append(Numbers(ring, (), sum(digits), boxes))
    return [*kept, *(numbers for numbers in hardly if _stands_plainly(numbers, kept))]


def _mended(
    number: Sequence[Character], pieces: Pieces, ink: Ink, raster: Raster, reader: CharacterReader
) -> list[Character]:
    """A number as it was read; one whose pieces are no figures, and together no wider than one, as the figure that
    these surely are: what is pale breaks."""
    if len(number) < 2 or all(character.is_digit for character in number):
        return list(number)
    blob = reduce(Blob.with_, (character.blob for character in number))
    if blob.width > AS_WIDE * blob.height:
        return list(number)
    (whole,) = read_characters([blob], pieces, ink.drawn, raster, reader, DIGITS, numbers=True)
    return [whole] if whole.is_digit and whole.guesses[0].probability >= SURE_OTHERWISE else list(number)


def _is_letter(character: Character) -> bool:
    """Whether a character is surely a letter, though numbers are expected."""
    first = character.free[0]
    return first.text.isalpha() and first.probability >= SURE_OTHERWISE


def _stands_plainly(numbers: Numbers, others: Iterable[Numbers]) -> bool:
    """Whether what is hardly read stands as numbers do, and no text: several of them in line with rows or columns, and
    nothing else. Then a person must look at it."""
    many = len(numbers.ring.clues)
    beside = any(other.ring.side != numbers.ring.side for other in others)
    return not numbers.ring.strays and ((many >= ENOUGH and numbers.readable > 0) or (many > 1 and beside))


def _is_shade(ring: Ring, pieces: Pieces, ink: Ink, flat: Flat, printed: Sequence[Box]) -> bool:
    """Whether the only number of a ring fades out as no print does."""
    if len(ring.clues) != 1:
        return False
    sides = Sides(ink.level, np.ones(ink.level.shape, np.bool_), Raster.of(flat), printed, flat.screened)
    return sides.are_soft(pieces.mask([placed.blob for _, members in ring.clues for placed in members]), (0, 0))


def _is_cut_off(blob: Blob, flat: Flat) -> bool:
    """Whether a piece reaches the edge of the picture: what is cut off there, or the edge itself, is no number."""
    if flat.beyond is None:
        return False
    rows, columns = (
        slice(max(0, start - GROWN), start + length + GROWN)
        for start, length in ((blob.y, blob.height), (blob.x, blob.width))
    )
    return bool(flat.beyond[rows, columns].any())
