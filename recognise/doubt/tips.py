"""The tip of a sharp bend in a picture: printers draw the sides of a line out until they meet, or round them off.

Where they meet, the tip is ink of the line that lies far beyond the middle of the cell, and no line as it was traced
claims it. What stands within such a tip, and is no darker than the line, is the tip; what is darker stands upon it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from statistics import median

import numpy as np

from recognise.draft import Polygon
from recognise.evidence import Trace
from recognise.geometry import bounds
from recognise.pixels.frame import Grey, Raster
from recognise.support import SLACK, tips

DARKER = 0.12
"""Ink (0 to 1) by which grain and light differ within one line; a mark upon a line is darker than it by twice as
much, or nobody would see it."""
DARKEST = 90
"""The percentile of ink that shows how dark something is that fills a tenth of its box, as the walls of a hollow line
do."""


def own_tips(traces: Sequence[Trace], level: Grey, raster: Raster) -> Iterator[Polygon]:
    """The tips of lines, in cells, as far as nothing else stands in them. `level` is ink from 0 to 1 without shade and
    lattice lines."""
    for trace in traces:
        if trace.how == "shape":
            half = trace.width / 2 + SLACK
            for polygon in tips(trace, half):
                if _darkest(level, polygon, raster) <= _shade(trace, half, level, raster) + DARKER:
                    yield polygon


def _shade(trace: Trace, half: float, level: Grey, raster: Raster) -> float:
    """How dark a line is in most of its cells, for some may hold characters."""
    middles = (cell.centre for cell in trace.nodes)
    squares = (((x - half, y - half), (x + half, y + half)) for x, y in middles)
    return median(_darkest(level, square, raster) for square in squares)


def _darkest(level: Grey, within: Polygon, raster: Raster) -> float:
    part = level[raster.slices(bounds(within))]
    return float(np.percentile(part, DARKEST)) if part.size else 0.0
