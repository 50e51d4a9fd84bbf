"""Characters that are nothing but a line: its bend, cut out of it by cells, reads as a 7, its head as a 4.

A digit that is printed on a line stands out of its band with some of its strokes (of 12 on lines of worn pages each
with a fifth of its ink and more) or is darker than the line. What does neither is the line. Of a wide line this goes
for its dashes alone, and where hardly a character is read: within a wide line that is whole digits are printed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Point
from recognise.evidence import Glyph, Trace
from recognise.marks.lines import DRAWN, MIDDLING
from recognise.marks.network import Chances
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.tracing import overshoots, painted

WIDEST = 0.2
"""In cells: wider lines are tubes, within which a digit may stand."""
STROKE = "1"
"""What has no stroke but one may lie along a line as a whole."""
SPARE, AROUND = 0.03, 0.02
"""In cells: how far the blur of a line goes beyond its width, and that of a character beyond its box."""
INKED, DARKEST = 0.4, 90
"""The part of the darkest ink of a character that its strokes have at least; and the percentile that says how dark
they, and the line elsewhere, are."""
OUTSIDE, DARKER = 0.05, 1.3
"""The part of a character's ink that may lie outside of the line's band, and how many times as dark as the line it may
be: where a line bends its blur adds up."""
BARE = 0.15
"""Part of its way of which a dashed line leaves more than this without ink."""
FROM_SIDE_TO_SIDE = 0.2
"""By what part of a line's width a dash that passes for a 1 is longer or shorter than that: it runs across the line."""
BEHIND = 0.12
"""In cells: a head lies behind the tip of its arrow, which is in the middle of a cell; a given stands there itself."""


def is_of_line(
    glyph: Glyph,
    traces: Iterable[Trace],
    chances: Chances,
    ink: Grey,
    raster: Raster,
    floor: float,
    *,
    denied: bool = False,
) -> bool:
    """Whether what passes for a character in a cell is the line that runs through it, and the network sees no character
    there; where the network of short texts has `denied` it too, a stroke along the line is no 1. `ink` is 0 to 1,
    without the lattice; what is below `floor` is noise."""
    cell = raster.cell_of(*glyph.centre)
    if cell is None or chances.node(cell, "CHARACTERS") > DRAWN:
        return False
    lines = [_bare_of_ends(trace) for trace in traces if cell in trace.nodes and _is_plain(trace)]
    narrow = [line for line in lines if line.width <= WIDEST]
    if (denied or glyph.text != STROKE) and _is_all_of(glyph, narrow, ink, raster, floor):
        return True
    return is_dash(glyph, lines, ink, raster, floor)


def is_dash(glyph: Glyph, traces: Iterable[Trace], ink: Grey, raster: Raster, floor: float) -> bool:
    """Whether what hardly passes for a character is a dash: of a wide line, a stroke only across it, from side to side;
    of a narrow one a stroke only, along it."""
    if glyph.confidence >= MIDDLING[1]:
        return False
    lines = [_bare_of_ends(trace) for trace in traces if _is_plain(trace)]
    if glyph.text == STROKE:
        own = [line for line in lines if line.width <= WIDEST or _crosses(glyph, line)]
    else:
        own = [line for line in lines if line.width > WIDEST]
    return _is_all_of(glyph, [line for line in own if _is_dashed(line, ink, raster, floor)], ink, raster, floor)


def _is_plain(trace: Trace) -> bool:
    return trace.how == "shape" and not trace.outlined


def _bare_of_ends(trace: Trace) -> Trace:
    return replace(trace, discs=(), heads=())


def _crosses(glyph: Glyph, line: Trace) -> bool:
    """Whether a stroke is as tall as a line is wide."""
    x0, y0, x1, y1 = glyph.box
    return abs(y1 - y0 - line.width) <= FROM_SIDE_TO_SIDE * line.width and x1 - x0 < line.width / 2


def _is_dashed(line: Trace, ink: Grey, raster: Raster, floor: float) -> bool:
    """Whether a line has gaps in its way."""
    way = painted([replace(line, width=0.0)], raster, (ink.shape[0], ink.shape[1]), 0.0)
    return float((ink[way] <= floor).mean()) > BARE


def _is_all_of(glyph: Glyph, lines: Sequence[Trace], ink: Grey, raster: Raster, floor: float) -> bool:
    """Whether all strokes of a character lie in the band of some lines, and are no darker than these elsewhere."""
    if not lines:
        return False
    band = painted(lines, raster, ink.shape[:2], SPARE) | overshoots(lines, raster, ink.shape[:2], SPARE)
    window = raster.slices(glyph.box, raster.px(AROUND))
    own = ink[window] > max(floor, INKED * float(ink[window].max(initial=0.0)))
    if not own.any() or (own & ~band[window]).sum() > OUTSIDE * own.sum():
        return False
    elsewhere = painted(lines, raster, ink.shape[:2], 0.0)
    elsewhere[window] = False
    line = ink[elsewhere & (ink > floor)]
    dark = float(np.percentile(ink[window][own], DARKEST))
    return bool(line.size) and dark <= DARKER * float(np.percentile(line, DARKEST))


def is_of_head(glyph: Glyph, traces: Iterable[Trace], chances: Chances, raster: Raster) -> bool:
    """Whether what hardly passes for a character lies as the head of an arrow does, and the network sees the head and
    no character there."""
    cell = raster.cell_of(*glyph.centre)
    if cell is None or glyph.confidence >= MIDDLING[1]:
        return False
    seen = chances.node(cell, "HEAD") >= MIDDLING[1] and chances.node(cell, "CHARACTERS") < MIDDLING[0]
    befores = (t.nodes[t.before(head)] for t in traces for head in t.heads if t.nodes[head] == cell)
    return seen and any(_is_behind(glyph.centre, cell.centre, before.centre) for before in befores)


def _is_behind(place: Point, tip: Point, before: Point) -> bool:
    """Whether a place lies from the tip of an arrow back along its shaft."""
    (x, y), (dx, dy) = (place[0] - tip[0], place[1] - tip[1]), (before[0] - tip[0], before[1] - tip[1])
    return (x * dx + y * dy) / math.hypot(dx, dy) >= BEHIND
