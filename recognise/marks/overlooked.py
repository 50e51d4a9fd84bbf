"""Short texts that nothing else saw: a number between two cells, a total in a corner. Where some of a sort were read,
the network of short texts looks at all other places of that sort."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from ingest.page import Box, Point
from recognise.evidence import Glyph, Guess
from recognise.geometry import holds
from recognise.marks.short_text_classes import SIGNS
from recognise.marks.text_ink import Print
from recognise.marks.text_places import SMALL_TALLEST, Place, corner_of, on_edge, perhaps_small
from recognise.marks.whole_texts import read_whole
from recognise.pixels.glyphs import DIGITS, OPERATIONS
from schema.cells import Cell

SEEN, EMPTY = 0.7, 0.02
"""How likely texts are together at least, of those that the network tells, and no text at most."""
NOTHING = 0.999
"""How likely no text is at least where the lattice network, which thinks small characters possible, is not believed: of
228 totals on worn pages, eleven of which that network did not see, none was so likely to be nothing."""
NEAR = 0.2
"""In cells: what was read so near to the middle of an edge stands on it."""


def overlooked(
    places: Sequence[Place], glyphs: Sequence[Glyph], known: Sequence[Glyph], seen: Print
) -> dict[Place, str]:
    """The edges and corners of cells at which the network sees characters and nobody looked, or where perhaps none
    stand and nobody read any, with what it sees there; `places` are those that were looked at, `glyphs` what was read
    there. What was `known` before is none of it where the network reads the same."""
    rows, columns = seen.raster.rows, seen.raster.columns
    read = [place for place in places if any(holds(place.box, glyph.centre) for glyph in glyphs)]
    others: list[Place] = []
    if any(_is_between(place) for place in read):
        looked_at = [place.middle for place in places if not place.in_corner] + [glyph.centre for glyph in glyphs]
        others += [on_edge(at) for at in _edges(rows, columns) if not _is_near(at, looked_at)]
    if any(place.in_corner for place in read):
        # Where the figures of a number were begun, a part of the corner was looked at.
        looked_in = {place.box[:2] for place in places if place.in_corner}
        others += [_corner(box) for box in _corners(rows, columns) if box[:2] not in looked_in]
        others += [replace(at, perhaps=False) for at in places if at.in_corner and at.perhaps and at not in read]
    told = zip(others, read_whole(others, seen), strict=True)
    return {
        place: guesses[0].text
        for place, guesses in told
        if _is_text(guesses) and not _is_known(place, guesses[0].text, known)
    }


def perhaps_overlooked(cells: Sequence[Cell], seen: Print, read: Iterable[Place] = ()) -> list[str]:
    """Words on cells that may have small characters in their corners, unless the network is sure that none stand
    there; nothing of those that were `read`."""
    known = {place.box[:2] for place in read}
    others = [cell for cell in cells if corner_of(cell)[:2] not in known]
    told = zip(others, read_whole([_corner(corner_of(cell)) for cell in others], seen), strict=True)
    return [perhaps_small(cell) for cell, guesses in told if _no_text(guesses) < NOTHING]


def _no_text(guesses: Sequence[Guess]) -> float:
    """How likely no text stands there, or a sign, which is none."""
    return sum(guess.probability for guess in guesses if not guess.text or set(guess.text) & set(SIGNS))


def _is_text(guesses: Sequence[Guess]) -> bool:
    """Whether some text stands there, whichever; signs are none."""
    empty = _no_text(guesses)
    return empty < EMPTY and sum(guess.probability for guess in guesses) - empty >= SEEN


def _is_known(place: Place, text: str, known: Iterable[Glyph]) -> bool:
    """Whether just this text, and nothing else, was read at a place before."""
    read = [glyph.text for glyph in known if holds(place.box, glyph.centre) and glyph.size <= place.tallest]
    return read == [text]


def _is_between(place: Place) -> bool:
    """Whether a place lies on the edge between two cells, in no circle."""
    whole = [abs(value - round(value)) < NEAR for value in place.middle]
    return place.on_lattice and not place.radius and whole[0] != whole[1]


def _is_near(at: Point, known: Iterable[Point]) -> bool:
    return any(abs(at[0] - x) <= NEAR and abs(at[1] - y) <= NEAR for x, y in known)


def _edges(rows: int, columns: int) -> list[Point]:
    """The middles of the edges between two cells."""
    upright = [(column, row + 0.5) for row in range(rows) for column in range(1, columns)]
    return [*upright, *((column + 0.5, row) for row in range(1, rows) for column in range(columns))]


def _corners(rows: int, columns: int) -> list[Box]:
    return [corner_of(Cell(row, column)) for row in range(1, rows + 1) for column in range(1, columns + 1)]


def _corner(box: Box) -> Place:
    return Place(box, DIGITS + OPERATIONS, SMALL_TALLEST, on_lattice=False, in_corner=True)
