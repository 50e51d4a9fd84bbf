"""Ink that is a wavy line's own, where it swings out of the straight way that the line claims.

A wave swings from side to side all along its way, each time as far and as soon as before, and wherever it does, the ink
across its way is one stroke, no thicker and no darker than elsewhere. What stands beside a line, or runs into it, is a
second stroke there or makes the line's thicker; what bends once is no wave."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.geometry import middle
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.own_ink import DARKER, EVEN, OwnInk, profiles

Floats = npt.NDArray[np.float64]

REACH = 0.2
"""In cells: no wave swings farther to a side of its way, its own width with it."""
LEAST_SWING = 0.025
"""In cells: the sides of straight lines stray by less, in blur, grain and where a picture is not quite flat."""
OFTEN, CROSSINGS = 3.0, 6
"""A wave crosses its way so often in each cell at least, and so often in all: what crosses it less is a bow."""
ONE_STROKE = 0.7
"""Part of the way along which the ink of a wave is one stroke; the rest are digits that stand on it."""
FARTHER, THICKER = 1.4, 1.25
"""By how much farther than usual at its crests a wave may swing, and by how much thicker it may be than usual where it
is steepest: grain and blur."""
MOST = 90
"""Percentile of how far off its way a wave is, and of how thick, that is usual at its crests and where it is
steepest."""
ACROSS = 9
"""Places looked at across the ink of a line."""


@dataclass(frozen=True, slots=True)
class _Way:
    """One link of a line: its places (n x 2, in cells), clear of its bends, how far aside the middle of the ink across
    each is, how thick that ink is and how dark at its darkest, and whether it is one stroke."""

    places: Floats
    across: Floats
    off: Floats
    thick: Floats
    dark: Floats
    one: npt.NDArray[np.bool_]


def without_waves(boxes: Sequence[Box], lines: Sequence[OwnInk], level: Grey, raster: Raster) -> list[Box]:
    """The boxes of ink, in cells, without those that are the swings of wavy lines. `level` is ink from 0 to 1 without
    the lattice's lines."""
    if not boxes:
        return []
    own = [box for line in lines for box in _swings(boxes, line, level, raster)]
    return [box for box in boxes if box not in own]


def _swings(boxes: Sequence[Box], line: OwnInk, level: Grey, raster: Raster) -> Iterator[Box]:
    """The boxes that are swings of one line."""
    trace = line.trace
    if trace.outlined or trace.dashed or trace.cored:
        return
    near = [box for box in boxes if any(_is_beside(box, *ends) for ends in _ends(line))]
    ways = [_way(*ends, line, level, raster) for ends in _ends(line)] if near else []
    if not ways or not _is_wave(ways):
        return
    swing = FARTHER * float(np.percentile(np.abs(np.concatenate([w.off[w.one] for w in ways])), MOST))
    thick = THICKER * float(np.percentile(np.concatenate([w.thick[w.one] for w in ways]), MOST))
    dark = float(np.median(np.concatenate([w.dark[w.one] for w in ways]))) + DARKER
    for box in near:
        alone = [_is_swing(box, way, swing, thick, dark) for way in ways]
        if True in alone and False not in alone:
            yield box


def _ends(line: OwnInk) -> Iterator[tuple[Floats, Floats]]:
    nodes = line.trace.nodes
    return ((np.array(nodes[a].centre), np.array(nodes[b].centre)) for a, b in line.trace.links)


def _is_beside(box: Box, start: Floats, end: Floats) -> bool:
    """Whether the middle of a box lies beside a link, within a wave's reach."""
    way = end - start
    length = float(np.hypot(*way))
    x, y = np.array(middle(box)) - start
    along, aside = (x * way[0] + y * way[1]) / length, (y * way[0] - x * way[1]) / length
    return bool(-REACH <= along <= length + REACH and abs(aside) <= REACH)


def _way(start: Floats, end: Floats, line: OwnInk, level: Grey, raster: Raster) -> _Way:
    """A link as the ink across it shows it."""
    inked = profiles(start, end, REACH, line.ink.astype(np.float32), raster) > 0.5
    centre = inked.shape[1] // 2
    firsts, lasts = inked.argmax(axis=1) - centre, centre - inked[:, ::-1].argmax(axis=1)
    count = inked.sum(axis=1)
    # Grain leaves holes in a stroke, no wider than its sides are uneven.
    one = (count > 0) & (lasts - firsts + 1 - count <= raster.px(EVEN))
    way = (end - start) / np.hypot(*(end - start))
    places = np.linspace(start, end, len(inked))
    bends = [line.trace.nodes[node].centre for node, arms in line.arms.items() if len(arms) > 1]
    clear = np.all([np.hypot(*(places - bend).T) > line.width for bend in bends] or [count >= 0], axis=0)
    off, thick = (firsts + lasts) / 2 / raster.cell, (lasts - firsts + 1) / raster.cell
    dark = np.asarray(profiles(start, end, REACH, level, raster).max(axis=1, where=inked, initial=0.0), np.float64)
    return _Way(places[clear], np.array((-way[1], way[0])), off[clear], thick[clear], dark[clear], one[clear])


def _is_wave(ways: Sequence[_Way]) -> bool:
    """Whether a line swings from side to side of its way, all along."""
    crossings, length = 0, 0.0
    for way in ways:
        length += float(np.hypot(*(way.places[-1] - way.places[0])))
        off = way.off[way.one]
        sides = np.sign(off[np.abs(off) > LEAST_SWING])
        crossings += int(np.count_nonzero(np.diff(sides)))
    one = np.concatenate([way.one for way in ways])
    return int(np.count_nonzero(one)) >= ONE_STROKE * len(one) and crossings >= max(CROSSINGS, OFTEN * length)


def _is_swing(box: Box, way: _Way, swing: float, thick: float, dark: float) -> bool | None:
    """Whether the line is all the ink that stands along a box: one stroke, no farther off, no thicker and no darker
    than it is elsewhere; None where this part of it does not stand there."""
    parts = way.off[:, None] + way.thick[:, None] * np.linspace(-0.5, 0.5, ACROSS)
    x, y = np.moveaxis(way.places[:, None] + parts[..., None] * way.across, -1, 0)
    left, top, right, bottom = box[0] - EVEN, box[1] - EVEN, box[2] + EVEN, box[3] + EVEN
    there = ((x >= left) & (x <= right) & (y >= top) & (y <= bottom)).any(axis=1)
    alone = way.one[there] & (np.abs(way.off[there]) <= swing) & (way.thick[there] <= thick)
    return bool((alone & (way.dark[there] <= dark)).all()) if there.any() else None
