"""Lines of a grid on the other side of the paper, which show through beside those of this one.

They are straight, as pale as print that shows through, and lie all at one distance beside lattice lines of this grid,
for a page sets its grids in cells of one size. No mark does: lines run through the middles of cells, walls of cages
close to their borders, and the two sides of a tube as far from both borders."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Box
from recognise.draft import Draft
from recognise.geometry import bounds, middle
from recognise.pixels.frame import Raster
from recognise.pixels.ink import Ink

PALE = 0.2
"""As a part of the ink of this side's lattice lines: of two worn pages that show their other side its lines have 0.17
and 0.19."""
DARKEST = 95
"""Percentile of ink at which a piece shows how dark it is."""
WIDE, LONG = 0.12, 0.3
"""In cells: how wide a piece of such a line is at most, and how long at least."""
BESIDE = (0.15, 0.44)
"""In cells: how far from the nearest lattice line it lies."""
ALIKE, OPPOSITE = 0.03, 0.06
"""In cells: how far pieces stray from their common distance, and from the same distance on the other side of a lattice
line where a tube has its second wall."""
LINES, TOGETHER = 2, 4.0
"""So many lines lie so at least, and so many cells long are their pieces together."""


def without_other_side(draft: Draft, ink: Ink, raster: Raster) -> Draft:
    """A draft without what is asked of ink that is lines of the other side."""
    stray = [bounds(doubt.where) for doubt in draft.doubts if doubt.stray and doubt.where]
    pale = [box for box in stray if _is_pale(box, ink, raster)]
    dropped = {box for upright in (True, False) for box in _lines(_strips(pale, upright), upright)}
    doubts = (d for d in draft.doubts if not (d.stray and d.where and bounds(d.where) in dropped))
    return replace(draft, doubts=tuple(doubts)) if dropped else draft


def _is_pale(box: Box, ink: Ink, raster: Raster) -> bool:
    """Whether ink is as much paler than the lattice lines as print of the other side."""
    darkness = np.concatenate([lines.darkness.ravel() for lines in (ink.horizontal, ink.vertical)])
    usual = float(np.median(darkness[darkness > 0])) if darkness.any() else 0.0
    return bool(np.percentile(ink.level[raster.slices(box)], DARKEST) <= PALE * usual)


def _strips(boxes: Sequence[Box], upright: bool) -> list[Box]:
    """Those of some boxes that are upright or lying strips."""
    sides = ((box, _sides(box, upright)) for box in boxes)
    return [box for box, (across, along) in sides if across <= WIDE and along >= LONG]


def _lines(pieces: Sequence[Box], upright: bool) -> Iterator[Box]:
    """The pieces that lie beside several lattice lines at one distance, on one side of them."""
    places = [middle(box)[0 if upright else 1] for box in pieces]
    for place in places:
        offset = place - round(place)
        own = [at for at, other in enumerate(places) if abs(other - round(other) - offset) <= ALIKE]
        opposite = any(abs(other - round(other) + offset) <= OPPOSITE for other in places)
        lines = {round(places[at]) for at in own}
        long = sum(_sides(pieces[at], upright)[1] for at in own)
        if BESIDE[0] <= abs(offset) <= BESIDE[1] and len(lines) >= LINES and long >= TOGETHER and not opposite:
            yield from (pieces[at] for at in own)


def _sides(box: Box, upright: bool) -> tuple[float, float]:
    """How far a box reaches across the way of its line and along it."""
    wide, high = box[2] - box[0], box[3] - box[1]
    return (wide, high) if upright else (high, wide)
