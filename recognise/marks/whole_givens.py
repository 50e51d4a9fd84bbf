"""Givens in the light of the network of short texts, which sees the middle of a cell with all the ink that runs into
it.

The end of a line passes for a 1; a figure that a line runs into makes one piece with it, which nobody reads; and of
founts that it never saw, as those like handwriting, the network of characters reads many as none. On 10,000 middles of
cells in fonts that it never saw the network of short texts was wrong once above 0.99 (`FIGURES.md`); with the lattice
network's word beside it, it tells all three."""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Box
from recognise.evidence import Disc, Glyph, Guess, Trace
from recognise.geometry import box_at, holds
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.looking import FAINT
from recognise.marks.seen import Seen
from recognise.marks.short_texts import MIDDLE, around, cut, short_text_reader
from recognise.pixels.glyphs import labels_expected
from schema.cells import Cell

NOTHING, SURE, LIKELY = 0.98, 0.99, 0.5
"""How sure the network is that nothing stands in a cell where something was read, and of what was lost in a line; how
likely nothing stands elsewhere at most."""
FEW, PART, OFF = 4, (0.55, 0.85), 0.15
"""So many givens show how tall they are; as parts of that, how tall a given is that has lost its fine strokes; in
cells, how far off the middle that stands at most."""
SURELY_READ = 0.99
"""What was read so surely is none of these: in a fount that nobody knows, both networks may see nothing."""
AGREED, WEAK = 0.97, 0.8
"""How sure the network is at least of what both read; how sure a reading is at most that gives way to another."""
MOST = 0.8
"""The most that a given is believed that one look alone shows."""
RING = 0.06
"""In cells: how far the box of a ring that was cut out as one piece with its character is off the ring's."""
LEAST, INNER = 0.25, 0.25
"""In cells: the least height of a given, and how far off the middle of its cell its own lies."""
WIDE = 0.6
"""Width of a figure as a part of its height."""
BLACK = (0, 0, 0)
"""The colour of figures that nobody could cut out."""


def not_there(known: Iterable[Glyph], seen: Seen) -> list[Glyph]:
    """Those of what passes for givens in whose cells neither network sees characters. What is written by hand neither
    was taught to see: ask this only of what may be a mark."""
    doubtful = [
        (glyph, cell)
        for glyph in known
        if glyph.confidence < SURELY_READ
        and (cell := _given_in(glyph, seen)) is not None
        and seen.told.node(cell, "CHARACTERS") < MIDDLING[0]
    ]
    told = _read([cell for _, cell in doubtful], seen)
    return [
        glyph
        for (glyph, _), guesses in zip(doubtful, told, strict=True)
        if not guesses[0].text and guesses[0].probability >= NOTHING
    ]


def is_ring(glyph: Glyph, discs: Iterable[Disc]) -> bool:
    """Whether a character is the whole ring around it, which it touches, and not read by itself."""
    return any(
        disc.outline is not None
        and disc.fill is None
        and max(abs(a - b) for a, b in zip(glyph.box, box_at(disc.centre, disc.radius), strict=True)) <= RING
        for disc in discs
    )


def lost(known: Sequence[Glyph], traces: Iterable[Trace], seen: Seen) -> list[Glyph]:
    """Givens in cells in which nothing was read and both networks see characters, in the usual size of the page; not
    what is so pale beside those that were read that it shows through from the other side of the paper. In cells of
    lines the network has to be sure; in others there is ink that somebody must have set, and it may be of a fount that
    is like no other: what it most likely is counts, with what it may be as well. What is written by hand is told apart
    later."""
    full = {cell for glyph in known if (cell := seen.raster.cell_of(*glyph.centre)) and _may_be_all(glyph, cell)}
    givens = [glyph for glyph in known if _given_in(glyph, seen) is not None]
    if not givens:
        return []
    crossed = {cell for trace in traces for cell in trace.nodes}
    empty = [
        cell for cell in seen.told.cells() if cell not in full and seen.told.node(cell, "CHARACTERS") > MIDDLING[0]
    ]
    height = float(np.median([glyph.size for glyph in givens]))
    palest = FAINT * float(np.median([_darkest(glyph.box, seen) for glyph in givens]))
    empty = [cell for cell in empty if _darkest(_box(cell, height, 1), seen) >= palest]
    return [
        _told(cell, guesses, height)
        for cell, guesses in zip(empty, _read(empty, seen), strict=True)
        if _is_read(guesses, seen.told.node(cell, "CHARACTERS"), in_line=cell in crossed)
    ]


def _is_read(guesses: Sequence[Guess], likely: float, *, in_line: bool) -> bool:
    """Whether both networks together tell what stands in a cell, of which the lattice network says how `likely` it
    holds characters."""
    if in_line:
        return bool(guesses[0].text) and guesses[0].probability >= SURE and likely > DRAWN
    if likely <= DRAWN:
        return bool(guesses[0].text) and guesses[0].probability >= AGREED
    return any(guess.text for guess in guesses) and sum(g.probability for g in guesses if not g.text) <= LIKELY


def _told(cell: Cell, guesses: Sequence[Guess], height: float) -> Glyph:
    """A given that nobody could cut out, in the middle of its cell."""
    texts = sorted(guesses, key=lambda guess: not guess.text)
    believed = tuple(Guess(guess.text, min(MOST, guess.probability)) for guess in texts)
    return Glyph(_box(cell, height, len(believed[0].text)), believed, height, BLACK, "ocr")


def in_part(known: Sequence[Glyph], taken: Container[Cell], seen: Seen) -> list[tuple[Glyph, Glyph]]:
    """Those of the characters in the middle of cells that are no givens because their fine strokes were lost, too small
    or letters, each as large as the givens of the page: both networks see a given there. Not where a mark has `taken`
    the cell: small numbers stand in circles and on lines."""
    heights = [glyph.size for glyph in known if _given_in(glyph, seen) is not None]
    if len(heights) < FEW:
        return []
    height = float(np.median(heights))
    labels = set(labels_expected(seen.raster.rows, seen.raster.columns))
    small = [
        (glyph, cell)
        for glyph in known
        if PART[0] * height <= glyph.size <= (PART[1] if glyph.text in labels else 1 / PART[1]) * height
        and (cell := seen.raster.cell_of(*glyph.centre)) is not None
        and cell not in taken
        and max(abs(at - middle) for at, middle in zip(glyph.centre, cell.centre, strict=True)) <= OFF
        and seen.told.node(cell, "CHARACTERS") >= MIDDLING[1]
    ]
    told = zip(small, _read([cell for _, cell in small], seen), strict=True)
    return [
        (glyph, _completed(glyph, cell, guesses, height))
        for (glyph, cell), guesses in told
        if guesses[0].probability >= (AGREED if guesses[0].text == glyph.text else SURE) and guesses[0].text
    ]


def _completed(glyph: Glyph, cell: Cell, guesses: Sequence[Guess], height: float) -> Glyph:
    """A given of which a part was read, as large as the others: as what that was, or as the network sees all of it."""
    if guesses[0].text != glyph.text:
        return _told(cell, guesses, height)
    return replace(glyph, box=_box(cell, height, len(glyph.text)), size=height)


def heard(known: Iterable[Glyph], seen: Seen) -> list[tuple[Glyph, Glyph]]:
    """Those of the givens that were not surely read of which the network has something to say, each with what counts
    instead: what both read is as sure as the surer, and what the network surely reads is likelier than another weak
    reading, but stays in doubt."""
    doubtful = [
        (glyph, cell)
        for glyph in known
        if glyph.confidence < SURELY_READ and (cell := _given_in(glyph, seen)) is not None
    ]
    told = _read([cell for _, cell in doubtful], seen)
    pairs = [(glyph, _weighed(glyph, guesses)) for (glyph, _), guesses in zip(doubtful, told, strict=True)]
    return [(before, after) for before, after in pairs if after != before]


def _weighed(glyph: Glyph, guesses: Sequence[Guess]) -> Glyph:
    """A given that was not surely read, after the network."""
    first, sure = guesses[0], guesses[0].probability
    own, *others = glyph.guesses
    if first.text == own.text and sure >= AGREED:
        return replace(glyph, guesses=(Guess(own.text, max(own.probability, sure)), *others))
    if first.text and first.text != own.text and sure >= SURE and own.probability < WEAK:
        told = [Guess(first.text, MOST)]
        rest = [
            Guess(guess.text, guess.probability * (1 - MOST)) for guess in glyph.guesses if guess.text != first.text
        ]
        return replace(glyph, guesses=(*told, *rest))
    return glyph


def _may_be_all(glyph: Glyph, cell: Cell) -> bool:
    """Whether a character is all that stands in the middle of its cell: a given, or a number in a circle there."""
    x, y = cell.centre
    return glyph.size >= LEAST or holds((x - INNER, y - INNER, x + INNER, y + INNER), glyph.centre)


def _darkest(box: Box, seen: Seen) -> float:
    """The darkest ink in a box, specks aside, 0 to 1."""
    inside = seen.ink.relative[seen.raster.slices(box)].min(axis=-1)
    return 1 - float(np.percentile(inside, 2)) if inside.size else 0.0


def _given_in(glyph: Glyph, seen: Seen) -> Cell | None:
    """The cell in the middle of which a character of a given's size stands."""
    cell = seen.raster.cell_of(*glyph.centre)
    if cell is None or glyph.size < LEAST:
        return None
    x, y = cell.centre
    inner = x - INNER, y - INNER, x + INNER, y + INNER
    return cell if holds(inner, glyph.centre) else None


def _read(cells: Sequence[Cell], seen: Seen) -> list[tuple[Guess, ...]]:
    raster = seen.raster
    margin = raster.origin / raster.cell
    windows = [cut(seen.ink.relative, around(cell.centre, MIDDLE), raster.cell, margin) for cell in cells]
    return short_text_reader().read(windows, labels_expected(raster.rows, raster.columns))


def _box(cell: Cell, height: float, figures: int) -> Box:
    (x, y), wide = cell.centre, WIDE * height * figures
    return x - wide / 2, y - height / 2, x + wide / 2, y + height / 2
