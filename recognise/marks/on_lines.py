"""Small numbers printed on lines: read again with the ink of the line taken for paper.

Where a line runs through the corner of a cell it is one piece with the figures that stand there, and as dark as some of
their strokes. Print is darker on it by as much as on paper: what is divided by the colour of the line is left as if
none were there."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np

from ingest import channels
from ingest.page import Box, Colour, Point
from recognise.evidence import Glyph, Trace
from recognise.marks.lines import MIDDLING
from recognise.marks.text_ink import Print, Wall
from recognise.marks.text_places import Place
from recognise.marks.texts import read_texts
from recognise.pixels.blobs import find_pieces
from recognise.pixels.glyphs import CharacterReader

FIGURES = (0.5, 0.3)
"""In cells: the part of a cell, from its top left, in which the figures of small numbers stand."""
NEXT = 0.05
"""In cells: stations along a line at which it is looked for in a corner."""
NO_INK = 0.02
"""Where there is less ink, nothing is known of how much of it is the lattice's."""
DARK = 0.2
"""Ink of the palest line that hides figures: paler ones leave them as they are."""


def read_on_lines(
    places: Iterable[Place],
    glyphs: Sequence[Glyph],
    lines: Iterable[Trace],
    seen: Print,
    reader: CharacterReader,
    walls: Sequence[Wall] = (),
) -> list[Glyph]:
    """The glyphs, those at corners that a line runs through and in which no number was surely read as they are read
    without it, where that is surer."""
    found = list(glyphs)
    for colour, crossed in _crossed(places, found, lines).items():
        again, _ = read_texts(crossed, without_line(colour, seen), reader, walls)
        for place in crossed:
            before = [glyph for glyph in found if place.is_of(glyph)]
            now = [glyph for glyph in again if place.is_of(glyph)]
            if now and all(glyph.text.isdecimal() for glyph in now) and _least(now) > _least(before):
                found = [glyph for glyph in found if glyph not in before] + now
    return found


def without_line(colour: Colour, seen: Print) -> Print:
    """The same print as if what has a colour were paper."""
    shade = np.maximum(np.array(colour, np.float32) / 255, NO_INK)
    relative = np.minimum(seen.relative / shade, 1.0).astype(np.float32)
    whole = np.ascontiguousarray(1.0 - channels.least(relative), np.float32)
    kept = np.where(seen.whole > NO_INK, seen.drawn / np.maximum(seen.whole, NO_INK), 1.0)
    drawn = (whole * kept).astype(np.float32)
    pieces = find_pieces(drawn, seen.raster, seen.pieces.tones)
    return Print(whole, drawn, relative, pieces, seen.raster, seen.floor)


def _crossed(
    places: Iterable[Place], glyphs: Sequence[Glyph], lines: Iterable[Trace]
) -> Mapping[Colour, Sequence[Place]]:
    """The corners in which no number was surely read, by the colour of the line that runs through them."""
    drawn = [line for line in lines if not line.outlined and 1 - min(line.colour) / 255 >= DARK]
    found: dict[Colour, list[Place]] = {}
    for place in places:
        own = [glyph for glyph in glyphs if place.is_of(glyph)]
        if place.in_corner and _least(own) < MIDDLING[1]:
            through = [line for line in drawn if _runs_through(line, place.box)]
            if through:
                found.setdefault(min(through, key=lambda line: sum(line.colour)).colour, []).append(place)
    return found


def _least(glyphs: Sequence[Glyph]) -> float:
    return min((glyph.confidence for glyph in glyphs), default=0.0)


def _runs_through(line: Trace, corner: Box) -> bool:
    """Whether a line runs where the figures in a corner stand."""
    x0, y0 = corner[:2]
    x1, y1 = x0 + FIGURES[0], y0 + FIGURES[1]
    return any(
        math.dist((x, y), (min(max(x, x0), x1), min(max(y, y0), y1))) < line.width / 2 for x, y in _stations(line)
    )


def _stations(line: Trace) -> Iterator[Point]:
    """Places along a line."""
    for a, b in line.links:
        one, other = line.nodes[a].centre, line.nodes[b].centre
        for part in np.linspace(0, 1, round(math.dist(one, other) / NEXT) + 1).tolist():
            yield one[0] + part * (other[0] - one[0]), one[1] + part * (other[1] - one[1])
