"""Cages that have no number, as the picture itself shows.

Where others have one, a cage without a number is asked about: it may have been missed. But print breaks the wall of a
cage off where its number stands. Where the walls of all that have one break off, and the wall of this one runs through
its corner, with bare paper inside of it, none was printed there. Nor was one where the numbers of the page stand inside
of their walls, and the corner of this cage is bare though one of its walls there is as dark as ever: the other may be
lost in a thick line. Numbers of several widths break off one of their walls, or none: then both have to be whole. Small
ones that stand on the wall show neither way: where the numbers of the page stand, this cage must have no more ink than
walls have farther on.

A dash of the wall may pass for a 1. Where the proof takes that for no number, and the picture shows as much, nothing is
left to ask."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import median

import numpy as np

from ingest.page import Box, Point
from recognise.doubt.alternatives import LOOKS_LIKE
from recognise.draft import Doubt, Draft, only_constraint
from recognise.evidence import Fence, Glyph
from recognise.interpret.cages import NO_NUMBER
from recognise.marks.text_places import hard_in_corner
from recognise.pixels.frame import Grey, Mask, Raster
from schema.cells import Cell
from schema.kinds.cage import Cage

ENOUGH = 3
"""Cages with a number that show what it does to the wall."""
AS_LONG, AS_MUCH = 0.6, 0.15
"""Parts of the shortest gap, and of the least ink, in the corners of such cages: more of it may be of a number."""
AS_DARK = 0.5
"""As a part of what the walls of numbered cages have: where a wall is paler, a number may have faded too."""
BETWEEN_DASHES = 0.1
"""In cells: the gaps of dashed walls are no longer, and what a wall leaves for a figure is."""
ALONG = 0.45
"""In cells: how far from its corner a wall is looked at along both sides; a number of two figures is as wide."""
OFF = 0.13
"""In cells: how far inside of the lattice a wall runs at most."""
WALL = 0.04
"""In cells: half of a wall with its blur."""
THERE = 0.35
"""Part of a wall's darkest ink from which on it is there."""
PAPER = 0.08
"""Ink (0 to 1) that paper reaches."""
TALLEST = 0.3
"""In cells: numbers of cages are no taller; givens are."""
FIGURE, FARTHER = 0.6, (0.3, 2.7)
"""In heights of a number: how wide the first figure of it is, and from where to where beyond it the walls are looked at
by themselves."""
DASHES = 80
"""The percentile of a wall's ink, along it, that its dashes have: gaps take up less than the rest."""
WRITTEN = 0.3
"""Part of the ink that the palest number has from which on one may stand there: corners without have 0.13 at most of
what is usual, a single pale figure on the wall 0.37 and more."""


@dataclass(frozen=True, slots=True)
class _Corner:
    """The first corner of a cage: the longest gap in its two walls, in cells, and in the one that has the lesser gaps,
    how dark they are, and the ink inside of it."""

    gap: float
    ink: float
    lesser: float
    dark: float


def without_numberless(
    draft: Draft, fences: Sequence[Fence], glyphs: Sequence[Glyph], level: Grey, raster: Raster
) -> Draft:
    """The draft without the questions for numbers of cages that have none. `level` is ink from 0 to 1 without shade and
    lattice lines."""
    asked = {doubt.item for doubt in draft.doubts if _asks_for_number(doubt, draft)}
    if not asked:
        return draft
    seen = {fence.cells: fence for fence in fences if fence.style != "border" and fence.where}
    numbered: list[_Corner] = []
    corners: dict[int, _Corner] = {}
    numbered_in: list[Point] = []
    asked_in: dict[int, Point] = {}
    for index, item in enumerate(draft.items):
        cage = only_constraint(item.value)
        if isinstance(cage, Cage) and cage.cells in seen:
            corner, at = _corner(seen[cage.cells], level, raster), _wall(seen[cage.cells], min(cage.cells))
            if index in asked:
                corners[index], asked_in[index] = corner, at
            elif cage.value is not None:
                numbered.append(corner)
                numbered_in.append(at)
    if len(numbered) < ENOUGH:
        return draft
    gap, ink = min(c.gap for c in numbered), min(c.ink for c in numbered)
    dark = median(c.dark for c in numbered)
    inside = median(c.gap for c in numbered) <= BETWEEN_DASHES
    beside_one = median(c.lesser for c in numbered) <= BETWEEN_DASHES

    def is_whole(corner: _Corner) -> bool:
        seen = corner.gap <= AS_LONG * gap or (inside and corner.lesser <= BETWEEN_DASHES)
        seen = seen or (beside_one and corner.gap <= BETWEEN_DASHES)
        return seen and corner.dark >= AS_DARK * dark

    written = _written(numbered_in, asked_in, glyphs, level, raster)
    none = {index for index, c in corners.items() if c.ink <= AS_MUCH * ink and is_whole(c) and index not in written}
    cages = (only_constraint(draft.items[index].value) for index in none)
    unread = {hard_in_corner(min(cage.cells)) for cage in cages if isinstance(cage, Cage)}
    kept = (d for d in draft.doubts if not (d.item in none and _asks_for_number(d, draft)) and d.why not in unread)
    return replace(draft, doubts=tuple(kept))


def _asks_for_number(doubt: Doubt, draft: Draft) -> bool:
    """Whether a doubt asks for the number of a cage that has none, or of which the proof takes it for none."""
    if doubt.why == NO_NUMBER:
        return True
    if doubt.item is None or not doubt.why.startswith(LOOKS_LIKE):
        return False
    cage = only_constraint(draft.items[doubt.item].value)
    return isinstance(cage, Cage) and cage.value is None


def _written(
    numbered: Sequence[Point], asked: Mapping[int, Point], glyphs: Sequence[Glyph], level: Grey, raster: Raster
) -> frozenset[int]:
    """Those of the corners asked about that have ink where the first figure of the page's numbers stands, beyond that
    of a wall."""
    own = [_from(glyph, at) for at in numbered for glyph in glyphs if glyph.text and _is_in_corner(glyph, at)]
    if not own:
        return frozenset()
    left, top, _, foot = map(float, np.median(own, axis=0))
    tall = foot - top

    middle = left + FIGURE * tall / 2, top + tall / 2
    # Held against the palest, for a narrow figure upon a wall of dots hides as much of that as it inks.
    least = min(_beyond_walls(at, middle, tall, level, raster) for at in numbered)
    beyond = {index: _beyond_walls(at, middle, tall, level, raster) for index, at in asked.items()}
    return frozenset(index for index, ink in beyond.items() if ink >= WRITTEN * least)


def _beyond_walls(corner: Point, middle: Point, tall: float, level: Grey, raster: Raster) -> float:
    """The ink of a figure in the corner where walls turn, its `middle` and height given, beyond what the walls have
    farther on wherever they have a dash."""
    x, y = corner[0] + middle[0], corner[1] + middle[1]
    wide = FIGURE * tall
    x0, y0, x1, y1 = box = (x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2)
    near, far = (share * tall for share in FARTHER)
    upright = np.percentile(level[raster.slices((x0, y1 + near, x1, y1 + far))], DASHES, axis=0)
    lying = np.percentile(level[raster.slices((x1 + near, y0, x1 + far, y1))], DASHES, axis=1)
    there = level[raster.slices(box)]
    walls = np.maximum(upright[None, : there.shape[1]], lying[: there.shape[0], None])
    return float(np.maximum(there - walls - PAPER, 0).sum())


def _from(glyph: Glyph, at: Point) -> Box:
    """The box of a character, from the corner of a cage's wall."""
    x0, y0, x1, y1 = glyph.box
    return x0 - at[0], y0 - at[1], x1 - at[0], y1 - at[1]


def _is_in_corner(glyph: Glyph, at: Point) -> bool:
    """Whether a character is the number in the corner of a cage."""
    x, y = glyph.centre[0] - at[0], glyph.centre[1] - at[1]
    return -OFF <= x <= ALONG and -OFF <= y <= ALONG and glyph.box[3] - glyph.box[1] <= TALLEST


def _corner(fence: Fence, level: Grey, raster: Raster) -> _Corner:
    """What is seen in the top left corner of a cage's first cell."""
    first = min(fence.cells)
    x, y = _wall(fence, first)
    across = level[raster.slices((x, y - WALL, x + ALONG, y + WALL))].max(axis=0)
    down = level[raster.slices((x - WALL, y, x + WALL, y + ALONG))].max(axis=1)
    dark = max(float(across.max(initial=0.0)), float(down.max(initial=0.0)))
    lesser, gap = sorted(_longest(run < THERE * dark) / raster.cell for run in (across, down))
    inside = level[raster.slices((x + WALL, y + WALL, x + ALONG, y + ALONG))]
    return _Corner(gap, float(np.maximum(inside - PAPER, 0).sum()) / raster.cell**2, lesser, dark)


def _wall(fence: Fence, first: Cell) -> tuple[float, float]:
    """Where the wall turns in the corner of a cell."""
    left, top = first.column - 1, first.row - 1
    x, y = min(fence.where, key=lambda point: np.hypot(point[0] - left, point[1] - top))
    return min(x, left + OFF), min(y, top + OFF)


def _longest(flags: Mask) -> int:
    """The longest run of set flags."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], flags.astype(np.int8), [0]))))
    return int((edges[1::2] - edges[::2]).max(initial=0))
