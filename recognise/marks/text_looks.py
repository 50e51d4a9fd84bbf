"""Looks at the places that hold characters: the ink of each with what touches it taken off in one way or another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from recognise.marks.lifted import lifted
from recognise.marks.own_shade import in_own_shade
from recognise.marks.shafts import without_shafts
from recognise.marks.text_ink import INSIDE, Print, cut_out, darkest_at, pieces_at, without_walls
from recognise.marks.text_places import Place
from recognise.marks.text_readings import AGREEING, SURE, Reading, is_part, longest, read_at
from recognise.marks.totals import leave_out_walls
from recognise.marks.under_circles import darker_than_circles, touched_by, without_circles
from recognise.pixels.blobs import Pieces
from recognise.pixels.frame import Grey
from recognise.pixels.glyphs import CharacterReader

SHARES = (0.25, 0.35, 0.5)
"""Of the darkest ink of a place: from here on ink is of a stroke. Worn strokes break at high shares, close ones touch
at low ones."""
MOST_LEFT = 0.12
"""The part of a place's ink that specks may be."""
NEARER, EDGE = 0.9, 1.5
"""As a part of the radius of a circle, how far from its middle digits are looked for that reach farther than usual; in
pixels, how near to where they are cut off they end."""
LOST = 0.12
"""Part of a figure's ink that is lost with a line: a stroke of it."""

Look = tuple[Grey, Pieces]
"""Ink of a grid, and its pieces."""


def at_shares(places: Sequence[Place], ink: Grey, seen: Print) -> list[Look]:
    """Some ink at several thresholds, which are set by that of the places."""
    inked = darkest_at(places, ink, seen.raster)
    return [(ink, pieces_at(inked, ink, share, seen)) for share in SHARES]


def read_all(place: Place, looks: Iterable[Look], seen: Print, reader: CharacterReader) -> list[Reading]:
    """What each of some looks reads at a place."""
    return [read_at(place, ink, pieces, seen.raster, reader) for ink, pieces in looks]


def look_beside_arrows(
    pointed: Sequence[Place], found: dict[Place, list[Reading]], seen: Print, reader: CharacterReader
) -> None:
    """Put in `found` what is read beside the grid with the little arrows taken out, where the looks agree on a number
    that has all that is read with them, and next to nothing is left over: arrows touch figures, and look like one
    more."""
    if not pointed:
        return
    looks = at_shares(pointed, without_shafts(pointed, seen), seen)
    for place in pointed:
        freed = read_all(place, looks, seen, reader)
        best = longest(freed)
        whole = len(best.text) >= len(longest(found[place]).text) and best.left <= MOST_LEFT
        if whole and sum(reading.text == best.text for reading in freed) >= AGREEING:
            found[place] = freed


def look_for_own_shade(
    on_edges: Sequence[Place], found: dict[Place, list[Reading]], seen: Print, reader: CharacterReader
) -> None:
    """Put in `found` what is read on edges of figures told by their own shade, where the looks at these agree on a text
    that has all that was surely read before."""
    ink, there = in_own_shade(on_edges, seen) if on_edges else (seen.whole, [])
    looks = at_shares(there, ink, seen) if there else []
    for place in there:
        told = read_all(place, looks, seen, reader)
        text = max(told, key=lambda reading: reading.score).text
        agreeing = sum(reading.text == text and _is_surely_text(reading) for reading in told) >= AGREEING
        before = [reading.text for reading in found[place] if _is_surely_text(reading)]
        if agreeing and all(other == text or is_part(other, text) for other in before):
            found[place] = told


def look_off_lines(
    corners: Sequence[Place], found: dict[Place, list[Reading]], seen: Print, reader: CharacterReader
) -> None:
    """Add to `found` what is read in corners with the lattice lines lifted off, where it is more than was read before,
    or nothing was surely read: what these leave behind may look like one more figure beside a whole number."""
    ink, regained = lifted(corners, seen)
    looks = at_shares(regained, ink, seen) if regained else []
    for place in regained:
        freed, best = read_all(place, looks, seen, reader), longest(found[place])
        if longest(freed).longest > best.longest or best.least < SURE:
            found[place] += freed


def look_beside_walls(
    walled: Sequence[Place], found: dict[Place, list[Reading]], seen: Print, reader: CharacterReader
) -> None:
    """Add to `found` what is read in corners of cells with the lattice and without the walls of cages; where parts of a
    number went with the lattice, that alone counts."""
    if not walled:
        return
    peeled = without_walls(walled, seen)
    looks = at_shares(walled, peeled, seen)
    for place in walled:
        beside = read_all(place, looks, seen, reader)
        alone = _is_cut(longest(beside), peeled, seen)
        found[place] = beside if alone else [*found[place], *beside]
    leave_out_walls(found, walled)


def look_beyond_cut(
    circles: Iterable[Place], found: dict[Place, list[Reading]], seen: Print, reader: CharacterReader
) -> None:
    """Put in `found` what is read in circles nearer to their lines, of digits that reach where these are cut off, where
    the looks surely read as many: a 7 that has lost the end of its bar is a 1."""
    hollow = [place for place in circles if place.radius and not place.dark and place.frame is None]
    cut = [place for place in hollow if any(_reaches_cut(look, place, seen) for look in _as_longest(found[place]))]
    looks = at_shares(cut, cut_out(cut, seen, NEARER), seen) if cut else []
    for place in cut:
        nearer, before = read_all(place, looks, seen, reader), longest(found[place])
        best = longest(nearer)
        sure = [reading for reading in nearer if reading.least >= SURE and reading.left <= MOST_LEFT]
        agreeing = sum(reading.text == best.text for reading in sure) >= AGREEING
        if agreeing and len(best.text) == len(before.text) and sorted(best.text) != sorted(before.text):
            found[place] = nearer


def _as_longest(readings: Sequence[Reading]) -> list[Reading]:
    """The looks that show what the best one does, of which the darkest may miss the edges of strokes."""
    best = longest(readings).text
    return [reading for reading in readings if reading.text == best]


def _reaches_cut(reading: Reading, place: Place, seen: Print) -> bool:
    """Whether a character that was read in a circle ends where the circle's line is cut off."""
    edge = INSIDE * place.radius - EDGE / seen.raster.cell
    for character in reading.characters:
        blob = character.blob
        rows, columns = slice(blob.y, blob.y + blob.height), slice(blob.x, blob.x + blob.width)
        own = np.argwhere(blob.among(reading.pieces.labels[rows, columns]))[:, ::-1] + (blob.x, blob.y)
        away = np.linalg.norm((own + 0.5 - seen.raster.origin) / seen.raster.cell - place.middle, axis=1)
        if away.size and away.max() >= edge:
            return True
    return False


def look_past_circles(
    circles: Sequence[Place], found: dict[Place, list[Reading]], seen: Print, reader: CharacterReader
) -> None:
    """Add to `found` what is read in corners without the ink of the circles that reach into them, and of what is darker
    than these."""
    touched = [place for place in found if place.in_corner and touched_by(place, circles)]
    if not touched:
        return
    inks = (taken_off(seen.drawn, circles, seen.raster) for taken_off in (without_circles, darker_than_circles))
    looks = [look for ink in inks for look in at_shares(touched, ink, seen)]
    for place in touched:
        found[place] = [*found[place], *read_all(place, looks, seen, reader)]


def _is_surely_text(reading: Reading) -> bool:
    """Whether a number or letters are surely read and next to nothing is left over; nothing on an edge has both."""
    told = reading.text.isdecimal() or reading.text.isalpha()
    return told and reading.least >= SURE and reading.left <= MOST_LEFT


def _is_cut(reading: Reading, peeled: Grey, seen: Print) -> bool:
    """Whether the ink without the lattice has lost a part of a number that is surely read without the wall alone: walls
    that run close to a lattice line are taken out with it, and what they touch."""
    if not reading.characters or reading.least < SURE:
        return False
    lost = [
        float(np.maximum(whole - seen.drawn[window], 0).sum()) > LOST * float(whole.sum())
        for window in (seen.raster.slices(character.box) for character in reading.characters)
        if (whole := peeled[window]).size
    ]
    return any(lost)
