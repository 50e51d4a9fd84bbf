"""Numbers in small frames in the corners of cells: tags and tickets, of which a wall passes for one more character."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import cv2
import numpy as np

from ingest.page import Box
from recognise.evidence import Glyph
from recognise.marks.text_ink import Print
from recognise.marks.text_looks import at_shares, read_all
from recognise.marks.text_places import CORNER, Place
from recognise.marks.text_readings import AGREEING, Reading, longest
from recognise.pixels.frame import Colours, Grey, Raster
from recognise.pixels.framing import ENDS, Frame, frame_around
from recognise.pixels.glyphs import CharacterReader
from recognise.pixels.ink import Ink

WIDEST, TALLEST = 0.75, 0.45
"""In cells: the inside of a tag; what is larger is a cell, or a cage."""
INKED = 2.0
"""So many times what noise reaches is ink of a wall."""
WALL, PALE, WHOLE = 0.04, 0.4, 0.95
"""In cells, how far beside the inside of a tag its walls are looked for; the part of the usual ink of a wall from which
on ink is of it, and the part of each wall that has some: a figure that seems to close a tag is not as long."""


def look_in_tags(
    corners: Sequence[Place], found: dict[Place, list[Reading]], seen: Print, reader: CharacterReader
) -> None:
    """Put in `found` what is read within the tags that stand in the corners of cells, where the looks agree on it."""
    tags = {place: tag.inside for place in corners if (tag := _tag_of(longest(found[place]), seen)) is not None}
    if not tags:
        return
    looks = at_shares(list(tags), _within(tags.values(), seen), seen)
    for place in tags:
        freed = read_all(place, looks, seen, reader)
        best = longest(freed)
        if best.text and sum(reading.text == best.text for reading in freed) >= AGREEING:
            found[place] = freed


def tags_of(glyphs: Iterable[Glyph], ink: Ink, raster: Raster) -> list[Frame]:
    """The tags in which small numbers stand, in the corners of cells."""
    small = (glyph.box for glyph in glyphs if glyph.size <= TALLEST and _is_in_corner(glyph))
    tags = (_tag(box, ink.all, ink.relative, raster, ink.floor) for box in small)
    return [tag for tag in tags if tag is not None]


def walls_of_tags(tags: Iterable[Frame]) -> Iterator[Box]:
    """The boxes of the four walls of each tag, without what stands in it."""
    for tag in tags:
        (x0, y0, x1, y1), (left, top, right, bottom) = tag.box, tag.inside
        yield from ((x0, y0, x1, top), (x0, bottom, x1, y1), (x0, y0, left, y1), (right, y0, x1, y1))


def _is_in_corner(glyph: Glyph) -> bool:
    x, y = glyph.centre
    return x % 1 <= CORNER[0] and y % 1 <= CORNER[1]


def _tag_of(reading: Reading, seen: Print) -> Frame | None:
    """The tag in which the surest character of a place stands; None where it stands in none."""
    if not reading.characters:
        return None
    surest = max(reading.characters, key=lambda one: one.guesses[0].probability)
    return _tag(surest.box, seen.whole, seen.relative, seen.raster, seen.floor)


def _tag(number: Box, ink: Grey, relative: Colours, raster: Raster, floor: float) -> Frame | None:
    """The tag round a number, or round one of its figures; None where none stands there. `ink` holds all ink."""
    frame = frame_around(number, ink, relative, raster, floor, largest=True)
    if frame is None or frame.is_round:
        return None
    x0, y0, x1, y1 = frame.inside
    small = x1 - x0 <= WIDEST and y1 - y0 <= TALLEST
    return frame if small and _is_walled(frame.inside, ink, raster, floor) else None


def _is_walled(inside: Box, ink: Grey, raster: Raster, floor: float) -> bool:
    """Whether all four sides of a tag are lines from end to end; a corner may be cut off."""
    x0, y0, x1, y1 = inside
    wide, high = ENDS * (x1 - x0), ENDS * (y1 - y0)
    level = [(x0 + wide, y, x1 - wide, y + WALL) for y in (y0 - WALL, y1)]
    upright = [(x, y0 + high, x + WALL, y1 - high) for x in (x0 - WALL, x1)]
    walls = [ink[raster.slices(box)].max(axis=0, initial=0.0) for box in level]
    walls += [ink[raster.slices(box)].max(axis=1, initial=0.0) for box in upright]
    least = INKED * floor
    return all(wall.size and np.mean(wall > max(least, PALE * np.median(wall))) >= WHOLE for wall in walls)


def _within(insides: Iterable[Box], seen: Print) -> Grey:
    """The ink within tags without what runs in from their walls, or cuts off a corner of them."""
    ink = np.zeros_like(seen.whole)
    for inside in insides:
        window = seen.raster.slices(inside)
        own = seen.whole[window]
        _, labels = cv2.connectedComponents((own > INKED * seen.floor).astype(np.uint8), connectivity=4)
        rim = np.concatenate([labels[0], labels[-1], labels[:, 0], labels[:, -1]])
        ink[window] = np.where(np.isin(labels, rim), 0, own)
    return ink
