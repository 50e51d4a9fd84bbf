"""Wide lines that have a narrower line of another ink along their middle, whole or in dashes: it is part of their
drawing, and what of it stands on a lattice line is no character."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Point
from recognise.colours import colours_apart
from recognise.draft import Polygon
from recognise.evidence import Glyph, Trace
from recognise.geometry import band
from recognise.pixels.frame import Grey, Raster

WIDE = 0.18
"""In cells: narrower lines show no core beside their own sides' blur."""
FLANK = 0.3
"""As a part of its width: how far to both sides of its middle a line shows its own ink, and no core."""
DARKER = 0.1
"""Ink (0 to 1) by which a core is darker than its line: the grain of paper and camera stays below, smoothed along the
line."""
INKED, ANY = 0.35, 0.15
"""Part of its way that a core inks at least: of dashes about two thirds are, a digit on a line takes up less. So it is
on most links of a line, and on those that digits and marks hide still to some part."""
LEAST, ONE_COLOUR = 2, 40
"""So many lines of one colour (of 255, in any channel, in shadow and light) have cores, and all of that colour: what
runs along one of them alone is another line."""
CLEAR, APART = 0.15, 0.02
"""In cells: so far about the middles of cells nothing is measured, where digits stand and lines bend; and how far apart
the places are that are measured."""
HALF = 0.05
"""In cells: half the width of a core with its blur."""
OFF, LONG = 0.05, 0.24
"""In cells: a dash lies so near to the middle of its line, and is no longer."""


def with_cores(traces: Sequence[Trace], ink: Grey, raster: Raster) -> tuple[Trace, ...]:
    """The lines, those that a core runs along `cored`. `ink` is 0 to 1 without lattice lines."""
    shown = [_shows_core(trace, ink, raster) for trace in traces]

    def all_of_its_colour(trace: Trace) -> bool:
        alike = [own for other, own in zip(traces, shown, strict=True) if _of_one_colour(trace, other)]
        return len(alike) >= LEAST and all(alike)

    return tuple(replace(trace, cored=True) if all_of_its_colour(trace) else trace for trace in traces)


def _of_one_colour(one: Trace, other: Trace) -> bool:
    return colours_apart(one.colour, other.colour) <= ONE_COLOUR


def core_bands(traces: Iterable[Trace]) -> list[Polygon]:
    """What the cores of lines cover, in cells."""
    return [band(start, end, HALF) for trace in traces if trace.cored for start, end in _ways(trace)]


def is_of_core(glyph: Glyph, traces: Iterable[Trace]) -> bool:
    """Whether what passes for a character is a dash of a line's core: thin across the line, and right on its middle."""
    return any(_on_way(glyph, way) for trace in traces if trace.cored for way in _ways(trace))


def _ways(trace: Trace) -> Iterator[tuple[Point, Point]]:
    return ((trace.nodes[a].centre, trace.nodes[b].centre) for a, b in trace.links)


def _shows_core(trace: Trace, ink: Grey, raster: Raster) -> bool:
    if trace.how != "shape" or trace.outlined or trace.width < WIDE or not trace.links:
        return False
    shares = [_share_inked(way, trace.width, ink, raster) for way in _ways(trace)]
    return min(shares) >= ANY and float(np.median(shares)) >= INKED


def _share_inked(way: tuple[Point, Point], width: float, ink: Grey, raster: Raster) -> float:
    """The part of the way between two cells on which the middle of a line is darker than both its flanks."""
    (x0, y0), (x1, y1) = way
    length = float(np.hypot(x1 - x0, y1 - y0))
    along = np.arange(CLEAR, length - CLEAR, APART) / length
    normal = np.array([-(y1 - y0), x1 - x0]) / length
    middle = np.stack([x0 + along * (x1 - x0), y0 + along * (y1 - y0)], axis=1)

    def at(off: float) -> Grey:
        x, y = np.floor(raster.origin + (middle + off * normal) * raster.cell).astype(int).T
        return np.asarray(ink[y, x], np.float32)

    flanks = np.maximum(at(FLANK * width), at(-FLANK * width))
    return float((at(0.0) > flanks + DARKER).mean()) if len(along) else 0.0


def _on_way(glyph: Glyph, way: tuple[Point, Point]) -> bool:
    (x0, y0), (x1, y1) = way
    length = float(np.hypot(x1 - x0, y1 - y0))
    ahead = np.array([x1 - x0, y1 - y0]) / length
    corners = np.array([[x, y] for x in glyph.box[::2] for y in glyph.box[1::2]]) - (x0, y0)
    off = corners @ np.array([-ahead[1], ahead[0]])
    along = corners @ ahead
    middle = (along.min() + along.max()) / 2
    thin = float(np.abs(off).max()) <= OFF + HALF and abs(off.min() + off.max()) / 2 <= OFF
    return bool(thin and along.max() - along.min() <= LONG and 0 <= middle <= length)
