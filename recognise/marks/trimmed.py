"""Digits in circles that walls of cages run into, cut to the size of the others: what a wall adds lies outside."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np

from recognise.glyphs.window import window
from recognise.marks.text_ink import Print, Wall, cut_out, past_walls, runs_through
from recognise.marks.text_places import Place
from recognise.marks.text_readings import Reading
from recognise.pixels.blobs import Blob, picture
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.glyphs import DIGITS, Character, CharacterReader
from recognise.pixels.touching import PAD

CERTAIN = 0.97
"""How sure a digit is at least whose size the others have."""
LARGER = 1.1
"""So many times as wide or as high as a digit is what a wall has run into."""
OFF_WALLS = 0.25
"""Part of the ink of such a piece that lies off the walls: half of a digit's does, and nothing of a bend's."""

Size = tuple[int, int]
"""Width and height in pixels."""


def trimmed(
    circles: Mapping[Place, Sequence[Reading]], walls: Sequence[Wall], seen: Print, reader: CharacterReader
) -> dict[Place, list[Reading]]:
    """What stands in circles that walls run into, where it is cut to the size of the digits of all circles; each with
    what is read in it as it is."""
    crossed = [place for place in circles if any(runs_through(wall, place) for wall in walls)]
    size = _usual_size(reading for readings in circles.values() for reading in readings)
    if size is None or not crossed:
        return {}
    ink = cut_out(crossed, seen)
    off_walls = past_walls(ink, walls, seen.raster)
    return {
        place: [cut for r in circles[place] for cut in _trimmed(r, size, (ink, off_walls), seen.raster, reader)]
        for place in crossed
    }


def _usual_size(readings: Iterable[Reading]) -> Size | None:
    """The widest of the digits that are surely read in circles, and their usual height; None where there are none."""
    sure = [c.blob for reading in readings for c in reading.characters if c.guesses[0].probability >= CERTAIN]
    return (max(blob.width for blob in sure), round(np.median([blob.height for blob in sure]))) if sure else None


def _trimmed(
    reading: Reading, size: Size, inks: tuple[Grey, Grey], raster: Raster, reader: CharacterReader
) -> list[Reading]:
    """What the pieces of a reading that are no characters, and that a wall runs into, read as when they are cut to the
    size of a digit at any of their corners, or in line with the digits beside them. `inks` are all ink and that off the
    walls."""
    ink, off_walls = inks
    known = {label for character in reading.characters for label in character.blob.labels}
    found = []
    for blob in reading.near:
        own = _window(blob)
        mask = np.isin(reading.pieces.labels[own], blob.labels)
        alone = float(off_walls[own][mask].sum()) / max(float(ink[own][mask].sum()), 1e-6)
        if known.intersection(blob.labels) or not OFF_WALLS <= alone < 1 or not _is_larger(blob, size):
            continue
        for x, y in _places(blob, size, reading.characters):
            character = _cut(blob, (x, y), size, reading, ink, raster, reader)
            found += [Reading((character,), reading.pieces, reading.near, reading.left)] if character else []
    return found


def _window(blob: Blob) -> tuple[slice, slice]:
    return slice(blob.y, blob.y + blob.height), slice(blob.x, blob.x + blob.width)


def _is_larger(blob: Blob, size: Size) -> bool:
    """Whether a piece is larger than a digit one way, and no smaller the other."""
    wide, tall = blob.width / size[0], blob.height / size[1]
    return max(wide, tall) >= LARGER and min(wide, tall) >= 1 / LARGER


def _places(blob: Blob, size: Size, beside: Sequence[Character]) -> Iterator[tuple[int, int]]:
    """Where in a piece (its own upper left corner is 0, 0) a digit may stand."""
    right, bottom = max(blob.width - size[0], 0), max(blob.height - size[1], 0)
    level = (c.blob.y - blob.y for c in beside if c.blob.y < blob.y + blob.height and blob.y < c.blob.y + c.blob.height)
    rows = {0, bottom} | {y for y in level if 0 <= y <= bottom}
    return ((x, y) for x in sorted({0, right}) for y in sorted(rows))


def _cut(
    blob: Blob, at: tuple[int, int], size: Size, reading: Reading, ink: Grey, raster: Raster, reader: CharacterReader
) -> Character | None:
    """What stands in a part of a piece, if it is a digit."""
    left, top = min(blob.x, PAD), min(blob.y, PAD)
    own = picture(blob, reading.pieces, ink)[top : top + blob.height, left : left + blob.width]
    own = own[at[1] : at[1] + size[1], at[0] : at[0] + size[0]]
    tall, wide = own.shape
    paper = np.pad(own, PAD, constant_values=255)
    (guesses,) = reader.read([window(paper, (PAD, PAD, PAD + wide, PAD + tall))], DIGITS)
    if not guesses or not guesses[0].text or guesses[0].text not in DIGITS:
        return None
    alone = Blob(blob.x + at[0], blob.y + at[1], wide, tall, int((own < 255).sum()), blob.labels)
    return Character(alone, alone.box(raster), guesses, guesses)
