"""Wavy lines made straight: what a wave winds about is the line, and only that runs from cell to cell."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from recognise.pixels.frame import Raster
from recognise.vectors.inks import Ink, stroked
from recognise.vectors.place import Floats

BENDS = 6
"""A wavy line bends to the other side so often at least, and so often in a cell:"""
EACH_CELL = 2.5
"""a smooth line through the middles of cells bends to the other side once a cell at most."""
LEAST_SWAY, MOST_SWAY = 0.015, 0.2
"""In cells: how far a wave swings to either side."""
STRAIGHT = 1e-4
"""Sine of the angle at a point of a polyline below which it does not bend there."""


def straightened(ink: Ink, raster: Raster, shape: tuple[int, int]) -> tuple[Ink, float]:
    """A wavy stroke as a straight one of the same pen, wide enough to cover the wave, and how far the wave swings to
    either side, in cells; any other ink as it is, and 0.

    A wave crosses the line it winds about where it begins to bend to the other side."""
    if ink.role != "stroke" or any(ink.closed) or len(ink.outlines) != 1:
        return ink, 0.0
    points = ink.outlines[0]
    axis = _axis(points)
    if axis is None:
        return ink, 0.0
    sway = _farthest(points, axis)
    if not LEAST_SWAY <= sway <= MOST_SWAY:
        return ink, 0.0
    strip = stroked((axis,), (False,), ink.width + 2 * sway, "round", raster, shape)
    return replace(ink, outlines=(axis,), whole=strip), sway


def _axis(points: Floats) -> Floats | None:
    """The polyline through the places where a polyline begins to bend to the other side; None where it is no wave."""
    if len(points) < 2 * BENDS:
        return None
    steps = np.diff(points, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    one, other = steps[:-1], steps[1:]
    turns = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    bends = np.flatnonzero(np.abs(turns) > STRAIGHT * lengths[:-1] * lengths[1:])
    changes = np.flatnonzero(np.diff(np.sign(turns[bends])) != 0)
    if len(changes) < BENDS:
        return None
    # bend k lies at point k + 1
    crossings = (points[bends[changes] + 1] + points[bends[changes + 1] + 1]) / 2
    axis: Floats = np.concatenate([points[:1], crossings, points[-1:]])
    way = np.diff(axis, axis=0)
    return axis if len(changes) >= EACH_CELL * float(np.hypot(way[:, 0], way[:, 1]).sum()) else None


def _farthest(points: Floats, axis: Floats) -> float:
    """How far a polyline leaves another at most."""
    start, way = axis[:-1], np.diff(axis, axis=0)
    square = np.maximum((way**2).sum(axis=1), 1e-12)
    off = points[:, None] - start[None]
    share = np.clip((off * way).sum(axis=2) / square, 0, 1)
    return float(np.linalg.norm(off - share[..., None] * way, axis=2).min(axis=1).max())
