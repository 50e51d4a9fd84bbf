"""Numbers that stand alone beside a side of the grid from which no clue was read.

The guard that looks at all ink looks at the rows in which clues were read. The clues of other sides say how far out and
how large such numbers stand: a single one that was missed shows as a thing like them, in line with a row or column,
with bare paper before and behind it. What stands there in company is text, unless most of it keeps step with the
cells."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ingest.page import Box
from recognise.draft import Polygon
from recognise.geometry import bounds, middle, overlap
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.printed import joined_pieces

DARK = 0.3
"""Ink (0 to 1) of print that is told from paper without a look at the paper itself."""
FRAME = 0.08
"""In cells: beside the grid its frame and the blur of that end here."""
JOIN = 0.05
"""In cells: the digits of one number are nearer than twice this; an advertisement below it may be little farther."""
AREA = 0.006
"""In square cells: the ink of a small 1."""
AS_FAR, AS_TALL = 0.15, (0.6, 1.6)
"""In cells: how much nearer or farther than a clue of another side one of this side stands; and how many times as high
it is."""
WIDEST = 0.95
"""In cells: how wide numbers are."""
IN_LINE = 0.25
"""In cells: how far off the middle of its row or column a clue stands."""
BARE = 0.3
"""In cells: the bare paper around what stands alone."""
COMPANY, IN_STEP = 2, 0.6
"""So many things in one row may be clues that were missed; of more this part must stand as clues do, which no text
does: the figures of one clue may stand apart."""

SAME_LINE = 0.5
"""As a part of its height: words of one line share at least this, with or without letters that go up or down."""


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of the grid: `axis` is that across it (0 for x), `line` where the grid ends, `out` the way out."""

    axis: int
    line: float
    out: int

    def depth(self, box: Box) -> float:
        """How far outside of the grid the middle of a box lies."""
        return self.out * (middle(box)[self.axis] - self.line)

    def holds(self, box: Box) -> bool:
        """Whether a box lies outside of the grid here."""
        return all(self.out * (box[end] - self.line) >= 0 for end in (self.axis, self.axis + 2))

    def strip(self, raster: Raster, reach: float) -> Box:
        """What is looked at, so far out."""
        low, high = sorted((self.line + self.out * FRAME, self.line + self.out * reach))
        return (low, 0, high, raster.rows) if self.axis == 0 else (0, low, raster.columns, high)


def lone_numbers(level: Grey, claimed: Sequence[Polygon], raster: Raster) -> Iterator[Box]:
    """Boxes, in cells, of what may be a clue beside a side with none. `level` is ink from 0 to 1 without shade and
    lattice lines, `claimed` all that items claim."""
    boxes = [bounds(polygon) for polygon in claimed]
    sides = [_Side(0, 0, -1), _Side(0, raster.columns, 1), _Side(1, 0, -1), _Side(1, raster.rows, 1)]
    known = [(side, [box for box in boxes if side.holds(box)]) for side in sides]
    reach = max((side.depth(box) for side, its in known for box in its), default=0.0) + BARE
    things = {side: list(_things(level, side.strip(raster, reach), raster)) for side in sides if reach > BARE}
    # A number and its arrow may be one thing.
    clues = [(side, box) for side, its in known for box in its]
    clues += [(side, thing) for side, its in known for thing in things.get(side, ()) if _is_one_of(thing, its)]
    like = [(side.depth(box), box[3] - box[1]) for side, box in clues]
    for side in (side for side, its in known if not its):
        there = [thing for thing in things.get(side, ()) if _is_like(thing, side, like)]
        alone = [thing for thing in there if _is_alone(thing, side, level, raster)]
        if side.axis == 1:
            others = [thing for thing in things.get(side, ()) if thing not in there]
            alone = [thing for thing in alone if not _is_in_text(thing, others)]
        # Lines of text keep no step with the rows or columns: what mostly does is a whole side of clues.
        if len(there) <= COMPANY or len(alone) >= IN_STEP * len(there):
            yield from alone


def _is_one_of(thing: Box, clues: Sequence[Box]) -> bool:
    return any(overlap(thing, clue) for clue in clues)


def _things(level: Grey, strip: Box, raster: Raster) -> Iterator[Box]:
    part = raster.slices(strip)
    for (y, x), thing in joined_pieces(level[part] > DARK, raster.px(JOIN), AREA * raster.cell**2):
        places = np.argwhere(thing)
        (top, left), (bottom, right) = places.min(axis=0), places.max(axis=0) + 1
        yield raster.box(
            part[1].start + x + int(left), part[0].start + y + int(top), int(right - left), int(bottom - top)
        )


def _is_like(thing: Box, side: _Side, clues: Sequence[tuple[float, float]]) -> bool:
    """Whether it is as far out and as high as a clue of another side, and no wider than a number."""
    depth, tall = side.depth(thing), thing[3] - thing[1]
    low, high = AS_TALL
    alike = any(abs(depth - far) <= AS_FAR and low * high_one <= tall <= high * high_one for far, high_one in clues)
    return alike and thing[2] - thing[0] <= WIDEST


def _is_alone(thing: Box, side: _Side, level: Grey, raster: Raster) -> bool:
    """Whether it is in line with a row or column, and has bare paper before and behind it, as a line of text runs, and
    above and below it too where columns of text stand beside the grid."""
    if abs(middle(thing)[1 - side.axis] % 1 - 0.5) > IN_LINE:
        return False
    x0, y0, x1, y1 = thing
    above = BARE if side.axis == 0 else 0.0
    left = x0 - BARE if x0 < raster.columns else max(x0 - BARE, raster.columns + FRAME)
    right = x1 + BARE if x1 > 0 else min(x1 + BARE, -FRAME)
    around = _dark(level, (left, y0 - above, right, y1 + above), raster)
    return around - _dark(level, thing, raster) < AREA / 2 * raster.cell**2


def _is_in_text(thing: Box, others: Sequence[Box]) -> bool:
    """Whether it stands in a line of text: with several things at its height that are no clues, as words are."""
    low, high = thing[1], thing[3]
    beside = (min(high, other[3]) - max(low, other[1]) for other in others)
    return sum(shared > SAME_LINE * (high - low) for shared in beside) > COMPANY


def _dark(level: Grey, box: Box, raster: Raster) -> int:
    return int(np.count_nonzero(level[raster.slices(box)] > DARK))
