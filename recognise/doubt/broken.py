"""Lattice lines that break off where a mark may stand.

A small number on a thick line of the lattice, set on a white ground, lies within the band that is taken away with the
line: no ink of it is left for the guard that looks at all ink. But the line breaks off for it. Where other marks of a
page stand on its lines, an edge whose line has a gap, as no mark explains it, is a place that a person must look at;
where many have one, the lines are dotted or worn, and gaps tell nothing.

A pale, thin number may leave no ink at all. But its line breaks off as far from the middle of its edge as it does for
the others of the page, and that is what no dust or wear does."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.draft import Polygon
from recognise.evidence import Flat
from recognise.geometry import bounds, extent, filled, middle
from recognise.pixels.bands import Lines
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.ink import Ink

GAP = 0.1
"""In cells: the gap that the smallest number needs, both its sides and the paper within it together."""
LEFT, PAPER, INKED = 0.5, 0.15, 0.35
"""Parts of a line's ink: from the first on it is there; under the second there is bare paper, as around a number; and
from the third on there is ink within the gap."""
OFF_MIDDLE, WIDEST = 0.05, 0.4
"""In cells: how far two narrow gaps together lie off the middle of their edge, and how far their ends are apart."""
ENDS = 2
"""Pixels of a gap that the blur of its line fills at both ends."""
CROSSING = 0.15
"""In cells: what is so near to a crossing is not looked at: lines may end there unevenly."""
BOW = 1
"""Pixels by which a line may lie beside its band."""
ON_LINE = 0.12
"""In cells: how far from a lattice line the middle of a mark that stands on it may lie."""
AS_OTHERS, ENOUGH = 0.06, 3
"""In cells: by how much the gaps differ that numbers of one look stand in; and how many that were read must stand in
such a gap to tell."""
MANY = 0.04
"""Part of all edges; where more have gaps, gaps tell nothing."""


@dataclass(frozen=True, slots=True)
class _Gap:
    """The gaps of one edge: the box, in cells, that holds them all; whether they are too narrow to show paper by
    themselves; whether something may stand in them; whether something stands there that was read; and how long they
    are, in cells, where they are one that shows paper right in the middle of its edge, else 0."""

    box: Box
    narrow: bool
    holds: bool
    read: bool
    in_middle: float


def broken_edges(ink: Ink, flat: Flat, claimed: Sequence[Polygon]) -> list[Box]:
    """Boxes, in cells, of gaps with ink in the lattice lines of a picture. `claimed` is all that items claim; where
    none of it stands on an edge there are none."""
    gaps, dotted, most = _told(ink, flat, claimed)
    found = [gap.box for gap in gaps if gap.holds and not gap.read and not (gap.narrow and dotted)]
    return found if len(found) <= most else []


def bare_gaps(ink: Ink, flat: Flat, claimed: Sequence[Polygon]) -> list[Box]:
    """Boxes, in cells, of gaps that nothing was read in, with or without ink, and in which lines break off as they do
    for the numbers of this page that were read."""
    gaps, dotted, most = _told(ink, flat, claimed)
    found = [gap.box for gap in gaps if not gap.read and _is_as_others(gap, gaps)]
    return found if len(found) <= most and not dotted else []


def _told(ink: Ink, flat: Flat, claimed: Sequence[Polygon]) -> tuple[list[_Gap], bool, float]:
    """The gaps of all lines within the grid, none where nothing claimed stands on an edge; whether the lines are
    dotted, and how many gaps of one kind tell something."""
    raster = Raster.of(flat)
    if not any(_stands_on_an_edge(bounds(polygon), raster) for polygon in claimed):
        return [], False, 0.0
    taken = filled(flat, claimed) > 0
    turned = Raster(raster.columns, raster.rows, raster.cell, raster.origin)
    gaps = list(_gaps(ink.all, taken, ink.horizontal, raster))
    gaps += [replace(gap, box=_turned(gap.box)) for gap in _gaps(ink.all.T, taken.T, ink.vertical, turned)]
    most = MANY * ((raster.rows - 1) * raster.columns + (raster.columns - 1) * raster.rows)
    # Dotted lines have narrow gaps everywhere, and now and then two as if a figure stood between them.
    return gaps, sum(gap.narrow and not gap.read for gap in gaps) > most, most


def _is_as_others(gap: _Gap, every: Sequence[_Gap]) -> bool:
    """Whether a line breaks off as it does for the numbers of this page that were read."""
    if not gap.in_middle:
        return False
    near = sum(other.read and abs(other.in_middle - gap.in_middle) <= AS_OTHERS for other in every)
    return near >= ENOUGH


def _turned(box: Box) -> Box:
    return box[1], box[0], box[3], box[2]


def _stands_on_an_edge(box: Box, raster: Raster) -> bool:
    """Whether a claim is that of a small mark on the border of two cells."""
    if extent(box) > 1:
        return False
    inside = min(box[:2]) > 0 and box[2] < raster.columns and box[3] < raster.rows
    off = [abs(v - round(v)) for v in middle(box)]
    return inside and min(off) <= ON_LINE and max(off) >= 0.5 - ON_LINE


def _is_in_two(gaps: npt.NDArray[np.intp], length: int, raster: Raster) -> bool:
    """Whether a line has two gaps as far from its middle: there ends the paper around a figure as wide as the line."""
    if len(gaps) < 2:
        return False
    start, stop = int(gaps[0]), int(gaps[-1]) + 1
    in_middle = abs((start + stop) / 2 - length / 2) <= OFF_MIDDLE * raster.cell
    return in_middle and len(gaps) < stop - start and GAP * raster.cell <= stop - start <= WIDEST * raster.cell


def _gaps(ink: Grey, taken: Mask, lines: Lines, raster: Raster) -> Iterator[_Gap]:
    """The edges that have gaps of the horizontal lines within the grid; for the vertical ones all is turned."""
    near = raster.px(CROSSING)
    for line in range(1, raster.rows):
        for column in range(raster.columns):
            darkness = float(lines.darkness[line, column])
            if not darkness:
                continue
            y, x = raster.origin + line * raster.cell, raster.origin + column * raster.cell
            first, last = y + int(lines.first[line, column]), y + int(lines.last[line, column]) + 1
            along = slice(x + near, x + raster.cell - near)
            shifts = [ink[first + by : last + by, along].mean(axis=0) for by in range(-BOW, BOW + 1)]
            profile = np.max(shifts, axis=0) / darkness
            gaps = np.flatnonzero(profile < LEFT)
            if len(gaps):
                wide = len(gaps) >= GAP * raster.cell and bool((profile < PAPER).any())
                start, stop = along.start + int(gaps[0]), along.start + int(gaps[-1]) + 1
                inked = ink[first:last, start + ENDS : stop - ENDS].max(initial=0.0) > INKED * darkness
                holds = bool(inked) and (wide or _is_in_two(gaps, len(profile), raster))
                read = bool(taken[first:last, along].any())
                off = abs((start + stop) / 2 - (x + raster.cell / 2))
                long = (stop - start) / raster.cell if wide and off <= OFF_MIDDLE * raster.cell else 0.0
                yield _Gap(raster.box(start, first - 1, stop - start, last - first + 2), not wide, holds, read, long)
