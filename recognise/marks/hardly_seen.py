"""Numbers on edges where the network hardly sees any, because a line of another colour runs through them.

Where rules speak of numbers between cells, whatever stands there may be one. It counts only where several looks at it
read the same figures, surely and with next to nothing left over, as tall as the numbers that the page surely has; the
network's doubt is asked about all the same. A V or 7 looks like a sign: where one seems to stand, of which no rule
speaks, it counts if the page surely has that very text on other edges."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from dataclasses import replace
from statistics import median

from ingest.page import Point
from recognise.evidence import Glyph
from recognise.marks.spoken import Spoken
from recognise.marks.text_looks import MOST_LEFT
from recognise.marks.text_places import Place, on_edge
from recognise.marks.text_readings import AGREEING, SURE, Reading

LIKE_STROKES, ON_PATCH = frozenset("147"), frozenset("1")
"""Figures that a bit of a line looks like, or a sign on one; and where a patch of paper cuts the lattice line off, as
it does round numbers, a bit of another line."""
AS_TALL = 0.15
"""As a part of their usual height: how much the numbers on the edges of a page differ in it."""


def perhaps_on_edge(place: Point, told: Mapping[str, float], spoken: Spoken, *, patched: bool = False) -> list[Place]:
    """The place of a number that may stand on an edge, where the rules speak of such and the network would rather see
    characters than any mark."""
    marks = {name: chance for name, chance in told.items() if name != "NONE"}
    characters = max(marks, key=lambda name: marks[name]) == "CHARACTERS"
    return [replace(on_edge(place), perhaps=True, patched=patched)] if "text" in spoken.edges and characters else []


def texts_of_edges(readings: Mapping[Place, Sequence[Reading]]) -> frozenset[str]:
    """The texts that are surely read on edges where characters plainly stand, in no circle or frame."""
    plain = (place for place in readings if place.on_lattice and not place.perhaps and not place.radius)
    return frozenset(readings[place][0].text for place in plain if readings[place] and _agree(readings[place]))


def _agree(readings: Sequence[Reading]) -> bool:
    """Whether enough looks surely read what the first of them does."""
    sure = (one for one in readings if one.text == readings[0].text and one.least >= SURE and one.left <= MOST_LEFT)
    return len(list(sure)) >= AGREEING


def is_told(place: Place, best: Reading, readings: Sequence[Reading], known: Container[str] = ()) -> bool:
    """Whether enough looks agree at a place where perhaps nothing stands; `known` is what the page has on edges."""
    alike = [reading for reading in readings if reading.text == best.text]
    if not place.on_lattice:
        return len(alike) >= AGREEING
    strokes = ON_PATCH if place.patched else LIKE_STROKES
    figures = best.text.isdecimal() and not strokes.issuperset(best.text)
    figures |= place.signed and best.text in known
    return figures and sum(one.least >= SURE and one.left <= MOST_LEFT for one in alike) >= AGREEING


def without_odd_ones(places: Sequence[Place], glyphs: Sequence[Glyph]) -> list[Glyph]:
    """The glyphs without those at places of perhaps no number that are not as tall as the numbers at the other
    places; of what was told without its ink nobody knows how tall it is."""
    sizes = {id(glyph): glyph.size for glyph in glyphs if _at(places, glyph, perhaps=False) and glyph.text.isdecimal()}
    usual = median(sizes.values()) if sizes else 0.0
    return [
        glyph
        for glyph in glyphs
        if glyph.how == "shape"
        or id(glyph) in sizes
        or not _at(places, glyph, perhaps=True)
        or abs(glyph.size - usual) <= AS_TALL * usual
    ]


def _at(places: Sequence[Place], glyph: Glyph, *, perhaps: bool) -> bool:
    """Whether a glyph stands on an edge at one of the places where a number stands, or perhaps none does."""
    x, y = glyph.centre
    edges = (place.box for place in places if place.on_lattice and place.perhaps == perhaps)
    return any(box[0] <= x <= box[2] and box[1] <= y <= box[3] for box in edges)
