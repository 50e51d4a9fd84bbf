"""Tints by how deep the ground of each cell is (`depths.py`), where that parts tinted cells from bare ones.

The two sorts are those of which the lattice network is sure. Where their depths lie well apart, they tell the cells of
which it is not; and a cell between them, printed at half its tint or under print of the other side, is in doubt
whatever it was taken for."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot

import numpy as np

from ingest.page import Colour
from recognise.evidence import Tint
from recognise.pixels.depths import Depths
from recognise.quantiles import percentile
from schema.cells import Cell

SAME = 3
"""Levels of 255 by which cells of one tint may differ: no step of colour between them was measured."""

Tints = tuple[tuple[Tint, ...], tuple[str, ...]]
"""Tints, and words on cells in doubt."""

SURELY_BARE, SURELY_TINTED = 0.1, 0.9
"""The cells that the network is so sure of say what the depths of the two sorts are."""
AGAINST = 0.05
"""A cell of which the network is as sure as this, or of the other sort, is not told by its depth alone."""
MOST = 0.05
"""Part of the cells of each sort that may lie farther than its bound: ink and stains cover some."""
APART = 0.35
"""Between the bounds of the two sorts, in tints: in a shadow, and beside marks nobody found, they meet."""
SIDE, PLAINLY = 1 / 3, 1 / 5
"""Of the way between the bounds from either: nearer to one a cell is of its sort, and so near it is plainly, though the
network is sure of nothing: coarse screens leave half of a tint bare."""
TRACE, FAR, MOST_TRACE = 0.1, 8, 0.25
"""The part of a tint that no bare cell shows, at least and at most, and the multiple of how far these lie from paper
that it is: of 7 pages with tints on even paper the bare cells had 0.08 at most. Where paper is less even than the last
says, bare cells may show more."""


@dataclass(frozen=True, slots=True)
class Parted:
    """The `depths` of cells, and between what bounds (`low`, `high`) neither sort lies; from `trace` on a cell is none
    of the bare ones."""

    depths: Mapping[Cell, float]
    low: float
    high: float
    trace: float

    def side(self, cell: Cell, part: float = SIDE) -> bool | None:
        """Whether a cell is tinted by its depth; None between the two sorts, and where it has none."""
        depth = self.depths.get(cell)
        margin = part * (self.high - self.low)
        if depth is None or self.low + margin < depth < self.high - margin:
            return None
        return depth > (self.low + self.high) / 2

    def is_pale(self, cell: Cell) -> bool:
        """Whether a cell that passes for bare has what no bare cell has of a tint."""
        return self.depths.get(cell, 0.0) >= self.trace

    def tells(self, cell: Cell, likely: float, is_tinted: bool) -> bool:
        """Whether a cell is tinted that was taken so, or not: where the network is sure and does not agree, and where
        it is not sure, its depth decides."""
        side, seen = self.side(cell), likely > 1 / 2
        if not AGAINST < likely < 1 - AGAINST:
            return is_tinted if side is None or is_tinted is seen else side
        if side is not None:
            return side
        return seen if cell in self.depths else is_tinted

    def is_told(self, cell: Cell, likely: float) -> bool:
        """Whether its depth tells a cell, or the network is sure of it."""
        return cell in self.depths or not SURELY_BARE <= likely <= SURELY_TINTED

    def bears_out(self, cell: Cell, likely: float, is_tinted: bool) -> bool:
        """Whether the depth of a cell says what it was taken for, and the network does not plainly say otherwise."""
        sure = likely >= SURELY_TINTED if is_tinted else likely <= SURELY_BARE
        opposed = likely <= SURELY_BARE if is_tinted else likely >= SURELY_TINTED
        pale = not is_tinted and self.is_pale(cell)
        return self.side(cell, SIDE if sure else PLAINLY) is is_tinted and not opposed and not pale


def parted(depths: Depths, chance: Mapping[Cell, float]) -> Parted | None:
    """The depths of a grid's cells, where those that the network is sure of lie well apart."""
    bare = [cell for cell, likely in chance.items() if likely < SURELY_BARE]
    tinted = [cell for cell, likely in chance.items() if likely > SURELY_TINTED]
    found = depths.of(bare, tinted)
    both = [[found[cell] for cell in sort if cell in found] for sort in (bare, tinted)]
    if not all(both):
        return None
    low, high = (float(percentile(np.array(s), 100 * p)) for s, p in zip(both, (1 - MOST, MOST), strict=True))
    spread = float(np.median(np.abs(both[0])))
    trace = max(TRACE, FAR * spread)
    return Parted(found, low, high, trace if trace <= MOST_TRACE else high) if high - low >= APART else None


def by_depth(
    tints: Sequence[Tint],
    notes: Sequence[str],
    chance: Mapping[Cell, float],
    split: Parted,
    open_ones: Collection[Cell] = (),
) -> Tints:
    """Tints as the depths of cells leave them, with words on cells of neither sort. They are certain where depths bear
    out all of them, and bare cells, and nothing else was in doubt where cells show no ground. Of cells without a depth
    those in `open_ones` are in doubt too, and those that the network takes for bare, unless they are as others that are
    bare by their depths."""
    taken = {tint.cell: tint for tint in tints}
    if not taken:
        return tuple(tints), tuple(notes)
    tinted = sorted(cell for cell, likely in chance.items() if split.tells(cell, likely, cell in taken))
    covered = [cell for cell in tinted if cell not in split.depths and chance[cell] < 1 / 2]
    bare = [cell for cell in covered if _is_as_bare_ones(cell, taken, set(taken).difference(tinted))]
    opposed = [cell for cell in covered if chance[cell] <= SURELY_BARE]
    tinted = [cell for cell in tinted if cell not in bare]
    doubtful = [cell for cell in split.depths if not split.bears_out(cell, chance[cell], cell in tinted)]
    doubtful = sorted({*doubtful, *open_ones, *opposed}.difference(bare))
    told = all(tint.certain for tint in tints) or all(map(split.is_told, chance, chance.values()))
    certain = told and not doubtful
    found = [taken.get(cell) or replace(_nearest(cell, tints), cell=cell) for cell in tinted]
    asked = [f"whether {named(doubtful)} {'are' if doubtful[1:] else 'is'} tinted was hard to tell"] if doubtful else []
    return tuple(replace(tint, certain=certain) for tint in found), () if certain else (*notes, *asked)


def _is_as_bare_ones(cell: Cell, taken: Mapping[Cell, Tint], bare: Collection[Cell]) -> bool:
    """Whether a cell of which a mark leaves no ground was taken for tinted with cells beside it of one ground with it,
    and these are `bare`."""
    beside = [other for other in taken if other.beside(cell) and same_ground(taken[other].colour, taken[cell].colour)]
    return bool(beside) and all(other in bare for other in beside)


def same_ground(one: Colour, other: Colour) -> bool:
    """Whether no step of colour was measured between two cells."""
    return all(abs(a - b) <= SAME for a, b in zip(one, other, strict=True))


def _nearest(cell: Cell, tints: Sequence[Tint]) -> Tint:
    return min(tints, key=lambda tint: hypot(tint.cell.row - cell.row, tint.cell.column - cell.column))


def named(cells: Sequence[Cell]) -> str:
    """Some cells in words."""
    return ", ".join(map(str, cells[:4])) + (" and more" if len(cells) > 4 else "")
