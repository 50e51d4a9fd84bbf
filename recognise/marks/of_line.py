"""Characters that are nothing but a line: its bend, cut out of it by cells, reads as a 7, its head as a 4.

A digit that is printed on a line stands out of its band with some of its strokes (of 12 on lines of worn pages each
with a fifth of its ink and more) or is darker than the line. What does neither is the line."""

from __future__ import annotations

import math
from collections.abc import Iterable
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
BEHIND = 0.12
"""In cells: a head lies behind the tip of its arrow, which is in the middle of a cell; a given stands there itself."""


def is_of_line(
    glyph: Glyph, traces: Iterable[Trace], chances: Chances, ink: Grey, raster: Raster, floor: float
) -> bool:
    """Whether what passes for a character in a cell is the line that runs through it, and the network sees no character
    there. `ink` is 0 to 1, without the lattice; what is below `floor` is noise."""
    cell = raster.cell_of(*glyph.centre)
    if cell is None or glyph.text == STROKE or chances.node(cell, "CHARACTERS") > DRAWN:
        return False
    lines = [
        replace(trace, discs=(), heads=())
        for trace in traces
        if cell in trace.nodes and trace.how == "shape" and not trace.outlined and trace.width <= WIDEST
    ]
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
