"""The column of mercury that some draw in a thermometer: a short stroke of the bulb's colour, from the bulb into the
tube."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from recognise.evidence import Disc, Trace
from recognise.vectors.inks import Ink, near
from recognise.vectors.place import Floats

LONGEST = 0.8
"""In cells: a longer stroke leads to the next cell and is a line."""
OFF = 0.06
"""In cells: how far the ends of the stroke lie off the middle of the bulb, and off the line."""


def is_column(ink: Ink, discs: Sequence[Disc], traces: Sequence[Trace]) -> bool:
    """Whether an ink is the column of mercury of a line that starts at a disc of its colour."""
    if ink.role != "stroke" or len(ink.outlines) != 1 or len(ink.outlines[0]) != 2:
        return False
    if float(np.ptp(ink.outlines[0], axis=0).max()) > LONGEST:
        return False
    one, other = ink.outlines[0]
    ends = ((one, other), (other, one))
    starts = [out for at, out in ends if any(_is_bulb(disc, at, ink) for disc in discs)]
    return any(_lies_on(trace, out) for out in starts for trace in traces if trace.width >= ink.width)


def _is_bulb(disc: Disc, at: Floats, ink: Ink) -> bool:
    in_middle = math.dist(disc.centre, (float(at[0]), float(at[1]))) <= OFF
    return in_middle and disc.fill is not None and near(disc.fill, ink.colour) and 2 * disc.radius > ink.width


def _lies_on(trace: Trace, point: Floats) -> bool:
    """Whether a point lies on one of the links of a trace."""
    for first, second in trace.links:
        start, end = np.array(trace.nodes[first].centre), np.array(trace.nodes[second].centre)
        along = end - start
        part = float(np.clip((point - start) @ along / (along @ along), 0, 1))
        if float(np.hypot(*(start + part * along - point))) <= OFF:
            return True
    return False
