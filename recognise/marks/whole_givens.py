"""Givens in the light of the network of short texts, which sees the middle of a cell with all the ink that runs into
it.

The end of a line passes for a 1; and a figure that a line runs into makes one piece with it, which nobody reads. On
10,000 middles of cells in fonts that it never saw the network was wrong once above 0.99 (`FIGURES.md`); with the
lattice network's word beside it, it tells both."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from ingest.page import Box
from recognise.evidence import Glyph, Guess, Trace
from recognise.geometry import holds
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.looking import FAINT
from recognise.marks.seen import Seen
from recognise.marks.short_texts import MIDDLE, around, cut, short_text_reader
from recognise.pixels.glyphs import labels_expected
from schema.cells import Cell

NOTHING, SURE = 0.98, 0.99
"""How sure the network is that nothing stands in a cell where something was read, and of what was lost."""
SURELY_READ = 0.99
"""What was read so surely is none of these: in a fount that nobody knows, both networks may see nothing."""
MOST = 0.8
"""The most that a given is believed that one look alone shows."""
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


def lost(known: Sequence[Glyph], traces: Iterable[Trace], seen: Seen) -> list[Glyph]:
    """Givens in cells of lines in which nothing was read and both networks see characters, in the usual size of the
    page; not what is so pale beside those that were read that it shows through from the other side of the paper."""
    full = {cell for glyph in known if (cell := seen.raster.cell_of(*glyph.centre)) and _may_be_all(glyph, cell)}
    givens = [glyph for glyph in known if _given_in(glyph, seen) is not None]
    if not givens:
        return []
    crossed = sorted({cell for trace in traces for cell in trace.nodes} - full)
    empty = [cell for cell in crossed if seen.told.node(cell, "CHARACTERS") > DRAWN]
    height = float(np.median([glyph.size for glyph in givens]))
    palest = FAINT * float(np.median([_darkest(glyph.box, seen) for glyph in givens]))
    empty = [cell for cell in empty if _darkest(_box(cell, height, 1), seen) >= palest]
    return [
        Glyph(
            _box(cell, height, len(best.text)), (Guess(best.text, min(MOST, best.probability)),), height, BLACK, "ocr"
        )
        for cell, guesses in zip(empty, _read(empty, seen), strict=True)
        if (best := guesses[0]).text and best.probability >= SURE
    ]


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
