"""The tip of a sharp bend in a picture: printers draw the sides of a line out until they meet, or round them off.

Where they meet, the tip is ink of the line that lies far beyond the middle of the cell, and no line as it was traced
claims it. What lies within such a tip, and is as pale as the line, is the tip; what is darker stands upon it."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

import numpy as np

from ingest.page import Box
from recognise.evidence import Trace
from recognise.geometry import bounds, within
from recognise.pixels.frame import Grey, Raster
from recognise.support import SLACK, tips

NEAR = 0.1
"""In cells: about the middle of its cells a line shows how dark it is; narrower ones have no tip worth asking about."""
DARKER = 0.12
"""Ink (0 to 1) by which grain and light differ within one line; a mark upon a line is darker than it by twice as
much, or nobody would see it."""


def without_tips(boxes: Sequence[Box], traces: Sequence[Trace], level: Grey, raster: Raster) -> list[Box]:
    """The boxes of ink that nothing explains, in cells, without those that are tips of lines. `level` is ink from 0 to
    1 without shade and lattice lines."""
    bent = [(trace, list(tips(trace, trace.width / 2 + SLACK))) for trace in traces if trace.how == "shape"]

    def is_tip(box: Box) -> bool:
        return any(
            _lies_in(box, polygons) and _darkest(level, box, raster) <= _shade(trace, level, raster) + DARKER
            for trace, polygons in bent
        )

    return [box for box in boxes if not is_tip(box)]


def _lies_in(box: Box, polygons: Sequence[Sequence[tuple[float, float]]]) -> bool:
    """Whether a box lies within the two halves of one tip, which follow one another."""
    pairs = zip(polygons[::2], polygons[1::2], strict=True)
    return any(within(box, bounds((*one, *other))) for one, other in pairs)


def _darkest(level: Grey, box: Box, raster: Raster) -> float:
    """How dark ink is at its darkest, single pixels of grain aside."""
    part = level[raster.slices(box)]
    return float(np.percentile(part, 90)) if part.size else 0.0


def _shade(trace: Trace, level: Grey, raster: Raster) -> float:
    """How dark a line is: in the middle cell of those that it crosses, for others may hold characters."""
    middles = (cell.centre for cell in trace.nodes)
    parts = (level[raster.slices((x - NEAR / 2, y - NEAR / 2, x + NEAR / 2, y + NEAR / 2))] for x, y in middles)
    return median(float(np.median(part)) for part in parts)
