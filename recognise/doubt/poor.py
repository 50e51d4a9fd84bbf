"""A picture too poor to read says so, and what would help: no puzzle is made of guesses."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

import numpy as np

from recognise.draft import Doubt
from recognise.evidence import Evidence, Lattice
from recognise.grids.mesh import step
from recognise.hand.strokes import FEATURES, Thing, things
from recognise.marks.spoken import SILENT, Spoken
from recognise.pixels.frame import Raster
from recognise.pixels.ink import Ink
from schema.cells import Cell

SURE = 0.9
"""A character is read from this confidence on."""
READ = 0.5
"""Share of what stands in the cells that must be read; a page of which less is would be a page of guesses."""
ENOUGH = 8
"""Things in cells: of fewer, the share says nothing."""
SMALLEST = 20.0
"""Pixels of the picture a cell: below that a digit is less than ten pixels high, and 6 and 8 are alike."""
SHARP = 9.0
"""Steepness of the sides of strokes, in full ink a cell: sharp print reaches 30, a photo out of focus 11."""
PALE = 0.3
"""Ink (0 to 1) of the strokes."""
GRAINY = 0.15
"""What noise reaches, in ink (0 to 1)."""
LOST_LINES = "not all lines of the grid show in the picture; fine marks may be lost like them (scan it in grey)"


def too_poor(
    evidence: Evidence, ink: Ink, lattice: Lattice, raster: Raster, written: Collection[Cell] = ()
) -> str | None:
    """What is wrong with the picture of a grid and what to do about it, in words; None where it can be read, or where
    it is not the picture that is to blame. What is `written` by hand need not be read."""
    if any(glyph.how == "vector" for glyph in evidence.glyphs):
        return None
    seen = [thing for thing in things(ink, raster) if thing.cell not in written]
    sure = sum(glyph.confidence >= SURE and glyph.text != "" for glyph in evidence.glyphs)
    if len(seen) < ENOUGH or sure >= READ * len(seen):
        return None
    faults = list(_faults(seen, ink, lattice))
    return f"the picture is too poor to read: {'; '.join(faults)}" if faults else None


def lost_lines(lattice: Lattice, spoken: Spoken = SILENT) -> tuple[Doubt, ...]:
    """A doubt about all that is printed as fine as the lines of the grid that the picture has lost; none where the page
    has no marks by its rules but numbers that are as large as givens."""
    return (Doubt(LOST_LINES),) if lattice.broken and not spoken.markless else ()


def _faults(seen: Sequence[Thing], ink: Ink, lattice: Lattice) -> Iterator[str]:
    features = dict(zip(FEATURES, np.median([thing.features for thing in seen], axis=0), strict=True))
    pixels = step(lattice.points)
    if pixels < SMALLEST:
        yield f"a cell is {pixels:.0f} pixels wide (photograph it from nearer, or scan it at a higher resolution)"
    if features["sharp"] < SHARP:
        yield "it is blurred (hold the camera still and parallel to the page, lay the page flat, and let it focus)"
    if features["dark"] < PALE:
        yield "the print is pale (give it more light, without glare)"
    if ink.floor > GRAINY:
        yield "it is grainy (give it more light)"
