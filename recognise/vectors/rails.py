"""The lines of a lattice in a rendered picture: where they are inked, and what of other strokes crosses them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Flat
from recognise.pixels.frame import Mask


@dataclass(frozen=True, slots=True)
class Rail:
    """A straight piece of a line, in pixels of the flat picture: from `low` to `high` across and from `start` to `end`
    along, the last of each exclusive."""

    upright: bool
    low: int
    high: int
    start: int
    end: int

    @property
    def box(self) -> tuple[int, int, int, int]:
        """Left, top, right, bottom."""
        if self.upright:
            return self.low, self.start, self.high, self.end
        return self.start, self.low, self.end, self.high


NEAR = 0.05
"""In cells: how far from its place a line is looked for."""
WIDEST = 0.2
"""In cells: a line is no thicker."""
LEAST = 0.2
"""The part of an edge that even a dotted line inks."""
LIKE = 1.5
"""Pixels by which the rims of a line vary."""
ENDS = 0.12
"""In cells: at the ends of an edge other lines cross."""
RIM = 2
"""Pixels beside a line that are taken for its own."""
OFTEN = 0.05
"""The part of all edges that are as thick as a line of the grid may be."""
THICKER = 1.5
"""Times the usual thickness from which on a line is a thick one."""
STRAIGHT = 0.07
"""In cells: so far a stroke goes on beside a line that it crosses."""
CROSSING = 0.3
"""In cells: a stroke that crosses a line is no wider."""
FULL = 0.8
"""The part of its thickness by which a line is there."""


def rails_of(strokes: Mask, areas: Mask, flat: Flat, cell: int) -> list[Rail]:
    """The pieces of all lattice lines; each is as long as it is inked without a gap, `areas` that lie upon it
    included. All pieces of a line have one middle, and a grid has lines of few thicknesses: what stands close beside a
    line is none of it."""
    edges = [edge for upright in (True, False) for edge in _edges(strokes, flat, cell, upright)]
    halves = np.array([edge.half for edge in edges])
    found: list[Rail] = []
    mask = strokes | areas
    for edge in edges:
        low, high = edge.low, edge.high
        if not edge.outer:
            half = _usual(edge.half, halves)
            low, high = int(np.floor(edge.middle - half)), int(np.ceil(edge.middle + half))
        first, last = edge.start - (high - low), edge.start + cell + (high - low)
        # The rim of a thin line strays by a pixel.
        there = (mask if edge.upright else mask.T)[first:last, low - 1 : high + 1].sum(axis=1) >= FULL * (high - low)
        steps = np.flatnonzero(np.diff(np.concatenate([[0], there.astype(np.int8), [0]])))
        pieces = steps.reshape(-1, 2).tolist()
        found += [Rail(edge.upright, low, high, first + start, first + end) for start, end in pieces]
    return found


def _usual(half: float, halves: npt.NDArray[np.float64]) -> float:
    """The largest half of a thickness that many edges have and that is no more than one."""
    levels = [level for level in halves if level <= half and (np.abs(halves - level) <= 1).mean() >= OFTEN]
    return float(max(levels, default=half))


@dataclass(frozen=True, slots=True)
class _Edge:
    """An inked edge: from where to where its line reaches across, the middle of the whole line, and where it begins
    along; in pixels."""

    upright: bool
    outer: bool
    low: int
    high: int
    middle: float
    start: int

    @property
    def half(self) -> float:
        """Half of its thickness, by the nearer side."""
        return max(min(self.middle - self.low, self.high - self.middle), 0.5)


def _edges(strokes: Mask, flat: Flat, cell: int, upright: bool) -> Iterator[_Edge]:
    """The inked edges along one axis."""
    margin = round(flat.margin * cell)
    lines, cells = (flat.columns, flat.rows) if upright else (flat.rows, flat.columns)
    mask = strokes if upright else strokes.T
    for line in range(lines + 1):
        at = margin + line * cell
        starts = [margin + place * cell for place in range(cells)]
        spans = {
            top: span
            for top in starts
            if (span := _span(mask[top + round(ENDS * cell) : top + round((1 - ENDS) * cell)], at, cell))
        }
        if not spans:
            continue
        lows, highs = np.array(list(spans.values())).T
        thin = highs - lows <= np.median(highs - lows)
        middle = float(np.median(((lows + highs) / 2)[thin]))
        for top, (low, high) in spans.items():
            outer = line in (0, lines)
            # A frame may stand on the outer side, and is alike all along.
            span = (int(np.median(lows)), int(np.median(highs))) if outer else (low, high)
            yield _Edge(upright, outer, *span, middle, top)


def _span(edge: Mask, at: int, cell: int) -> tuple[int, int] | None:
    """From where to where a line reaches across, as most of the places along its edge have it; None for no line."""
    reach, near = round(WIDEST * cell), round(NEAR * cell)
    window = edge[:, at - reach : at + reach]
    places = np.arange(window.shape[1])
    away = np.where(window, np.abs(places - reach + 0.5), np.inf)
    rows = np.flatnonzero(away.min(axis=1) <= near)
    middles = away.argmin(axis=1)[rows]
    # The last bare place before the ink in the middle, and the first one after it.
    before = np.maximum.accumulate(np.where(window, -1, places), axis=1)[rows, middles]
    bare = np.where(window, len(places), places)[:, ::-1]
    after = np.minimum.accumulate(bare, axis=1)[:, ::-1][rows, middles]
    spans = np.stack([before + 1, after], axis=1)
    if len(spans) < LEAST * len(window):
        return None
    low, high = (int(v) for v in np.median(spans, axis=0))
    if high - low > reach:
        return None
    alike = int((np.abs(spans - (low, high)) <= LIKE).all(axis=1).sum())
    return (at - reach + low, at - reach + high) if alike >= LEAST * len(window) else None


def without_rails(strokes: Mask, rails: Sequence[Rail], cell: int) -> Mask:
    """The strokes without the lattice lines; where one crosses a line it stays whole: what closes up across the line,
    level, upright or slanting, and does not run along it."""
    left = (strokes & ~zone_of(strokes, rails)).astype(np.uint8)
    # What goes on straight towards the line; a wall along it does not.
    runs = [cv2.morphologyEx(left, cv2.MORPH_OPEN, way) for way in _ways(round(STRAIGHT * cell))]
    usual = float(np.median([rail.high - rail.low for rail in rails])) if rails else 0.0
    found = left > 0
    for thick in (False, True):
        some = [rail for rail in rails if (rail.high - rail.low > THICKER * usual) == thick]
        if not some:
            continue
        across = max(rail.high - rail.low for rail in some) + 2 * RIM
        through = [
            cv2.morphologyEx(run, cv2.MORPH_CLOSE, way) for run, way in zip(runs, _ways(across + 2), strict=True)
        ]
        crossed = (np.max(through, axis=0) > 0) & zone_of(strokes, some) & strokes
        _, pieces, stats, _ = cv2.connectedComponentsWithStats(crossed.astype(np.uint8), connectivity=8)
        kept = stats[:, [cv2.CC_STAT_WIDTH, cv2.CC_STAT_HEIGHT]].max(axis=1) <= CROSSING * cell + across
        kept[0] = False
        found |= kept[pieces]
    return _without_rims(np.asarray(found, np.bool_), rails)


def _without_rims(strokes: Mask, rails: Sequence[Rail]) -> Mask:
    """The strokes without slivers close along a line, where its rim strays."""
    beside = cv2.dilate(zone_of(strokes, rails).astype(np.uint8), np.ones((2 * RIM + 1, 2 * RIM + 1), np.uint8)) > 0
    _, pieces, stats, _ = cv2.connectedComponentsWithStats(strokes.astype(np.uint8), connectivity=8)
    off_line = np.bincount(pieces[~beside], minlength=len(stats)) > 0
    thin = stats[:, [cv2.CC_STAT_WIDTH, cv2.CC_STAT_HEIGHT]].min(axis=1) <= 2 * RIM
    kept = off_line | ~thin
    kept[0] = False
    return np.asarray(kept[pieces], np.bool_)


def zone_of(strokes: Mask, rails: Sequence[Rail]) -> Mask:
    """Where lattice lines are, with their rims."""
    zone = np.zeros_like(strokes)
    for rail in rails:
        (zone if rail.upright else zone.T)[rail.start : rail.end, rail.low - RIM : rail.high + RIM] = True
    return zone


def _ways(length: int) -> Iterator[npt.NDArray[np.uint8]]:
    """Strokes so many pixels high or wide in four directions, for closing gaps in others."""
    yield np.ones((1, length), np.uint8)
    yield np.ones((length, 1), np.uint8)
    slanting = np.eye(length, dtype=np.uint8)
    yield slanting
    yield np.ascontiguousarray(slanting[::-1])
