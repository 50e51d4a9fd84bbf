"""Lines of a grid on the other side of the paper, which show through beside those of this one.

They are straight, as pale as print that shows through, and lie all at one distance beside lattice lines of this grid,
for a page sets its grids in cells of one size. No mark does: lines run through the middles of cells, walls of cages
close to their borders, and the two sides of a tube as far from both borders. Nor does a mark run from the frame to the
frame, or out over it: lines begin and end in the middles of cells."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Box
from recognise.draft import Draft
from recognise.geometry import bounds, middle
from recognise.pixels.frame import Grey, Raster
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
PALER, STRONGEST = 0.4, 0.45
"""As a part of its ink, what the paler parts of such a line have; and the most ink that is none of a pen or a press."""
SHORTEST, FOLLOWED, OUT, OFF_MIDDLE = 0.2, 3.0, 0.5, 0.46
"""In cells: how long a piece is at least of which the rest is followed, how long the stroke is then, and how far beyond
the frame it goes on; and how far off the lattice lines it lies at most, for lines run through the middles."""
ASIDE, LEAST = 0.15, 30
"""In cells: how far beside a piece its paper is looked at; and the percentile along it that shows its ink: a line that
ends halfway has none there."""


def without_other_side(draft: Draft, ink: Ink, raster: Raster) -> Draft:
    """A draft without what is asked of ink that is lines of the other side."""
    stray = [bounds(doubt.where) for doubt in draft.doubts if doubt.stray and doubt.where]
    pale = [box for box in stray if _is_pale(box, ink, raster)]
    dropped = {box for upright in (True, False) for box in _lines(_strips(pale, upright), upright)}
    for upright, level, turned in ((True, ink.level, raster), (False, ink.level.T, _turned(raster))):
        for box in stray:
            across, along = _sides(box, upright)
            if across <= WIDE and along >= SHORTEST and _leaves(box if upright else _swapped(box), level, turned):
                dropped.add(box)
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


def _leaves(box: Box, level: Grey, raster: Raster) -> bool:
    """Whether an upright piece, beside the lattice lines, is of a pale stroke that runs from frame to frame, or out
    over the frame."""
    x0, y0, x1, y1 = box
    place, own = (x0 + x1) / 2, _ridge(box, level, raster)
    if not BESIDE[0] <= abs(place - round(place)) <= OFF_MIDDLE or not 0 < own <= STRONGEST:
        return False

    def is_inked(half: int) -> bool:
        part = x0, half / 2, x1, (half + 1) / 2
        return bool(level[raster.slices(part)].size) and _ridge(part, level, raster) >= PALER * own

    first = last = round(y0 + y1 - 0.5)
    while 2 * raster.rows >= first > -2 and is_inked(first - 1):
        first -= 1
    while -1 <= last < 2 * raster.rows + 1 and is_inked(last + 1):
        last += 1
    if first <= 0 and last >= 2 * raster.rows - 1:
        return True
    out = first <= -2 * OUT or last >= 2 * (raster.rows + OUT) - 1
    return out and (last - first + 1) / 2 >= FOLLOWED


def _ridge(box: Box, level: Grey, raster: Raster) -> float:
    """How much more ink an upright strip has than the paper to both its sides, away from what else stands there."""
    x0, y0, x1, y1 = box
    strip, left, right = (
        np.percentile(level[raster.slices(part)].mean(axis=1), LEAST)
        for part in (box, (x0 - ASIDE, y0, x0 - ASIDE / 2, y1), (x1 + ASIDE / 2, y0, x1 + ASIDE, y1))
    )
    return float(strip - max(left, right))


def _turned(raster: Raster) -> Raster:
    return Raster(raster.columns, raster.rows, raster.cell, raster.origin)


def _swapped(box: Box) -> Box:
    return box[1], box[0], box[3], box[2]


def _sides(box: Box, upright: bool) -> tuple[float, float]:
    """How far a box reaches across the way of its line and along it."""
    wide, high = box[2] - box[0], box[3] - box[1]
    return (wide, high) if upright else (high, wide)
