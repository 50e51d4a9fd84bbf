"""Lines that leave the straight way from cell to cell, made straight: waves, bends drawn as curves, lines set aside."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np

from recognise.evidence import Trace
from recognise.pixels.frame import Raster
from recognise.vectors.inks import Ink
from recognise.vectors.painting import polygon_area, stroked
from recognise.vectors.patches import joined_patches
from recognise.vectors.pen_ways import pen_way
from recognise.vectors.place import Floats

BENDS = 6
"""A wavy line bends to the other side so often at least, and so often in a cell:"""
EACH_CELL = 2.5
"""a smooth line through the middles of cells bends to the other side once a cell at most."""
LEAST_SWAY, MOST_SWAY = 0.015, 0.2
"""In cells: how far a wave swings to either side."""
LEAST_OFF, MOST_OFF = 0.02, 0.22
"""In cells: how far a line that goes from cell to cell leaves the straight way between their middles."""
SHARP, SHORT = -0.17, 0.5
"""Cosine of a bend by more than 100 degrees; a line goes on for so much of a cell behind one."""
DENSE = 0.02
"""In cells: how far apart the points are at which a line is followed."""
STRAIGHT = 1e-4
"""Sine of the angle at a point of a polyline below which it does not bend there."""


def straightened(ink: Ink, raster: Raster, shape: tuple[int, int]) -> tuple[Ink, float]:
    """A stroke that winds about a straight way as one along that way, of the same pen and wide enough to cover it, and
    how far it swings to either side, in cells; any other ink as it is, and 0. A thin area with round bends is a stroke
    too."""
    way = pen_way(ink)
    if way is not None:
        axis = _by_cells(way[0], raster)
        if axis is not None and LEAST_OFF <= (sway := _farthest(way[0], axis)) <= MOST_OFF:
            return _along_way(
                replace(ink, role="stroke", closed=(False,), width=way[1], cap="butt"), axis, raster, shape
            ), sway
    if ink.role != "stroke" or any(ink.closed) or len(ink.outlines) != 1 or len(ink.outlines[0]) < 2:
        return ink, 0.0
    points = ink.outlines[0]
    axis = _axis(points)
    if axis is not None and LEAST_SWAY <= (sway := _farthest(points, axis)) <= MOST_SWAY:
        strip = stroked((axis,), (False,), ink.width + 2 * sway, "round", raster, shape)
        return replace(ink, outlines=(axis,), whole=strip), sway
    axis = _by_cells(points, raster)
    if axis is not None and LEAST_OFF <= (sway := _farthest(points, axis)) <= MOST_OFF:
        return _along_way(ink, axis, raster, shape), sway
    return ink, 0.0


def _along_way(stroke: Ink, axis: Floats, raster: Raster, shape: tuple[int, int]) -> Ink:
    """A stroke that goes straight from cell to cell, no wider than its pen, so that a head is seen at its end."""
    way = stroked((axis,), (False,), stroke.width, stroke.cap, raster, shape)
    return replace(stroke, outlines=(axis,), whole=joined_patches(stroke.whole, way))


def swing(ink: Ink, trace: Trace) -> float:
    """How far a wavy line that is drawn by its outline swings to either side of its way, in cells; 0 for a straight
    one. `trace` is the way."""
    around = sum(float(np.hypot(*np.diff(np.concatenate([each, each[:1]]), axis=0).T).sum()) for each in ink.outlines)
    pen = 2 * abs(sum(map(polygon_area, ink.outlines))) / max(around, 1e-6)
    points = np.concatenate(ink.outlines)
    ways = (np.array([trace.nodes[a].centre, trace.nodes[b].centre]) for a, b in trace.links)
    off = np.min([_away(points, way) for way in ways], axis=0).max() - pen / 2
    return float(off) if LEAST_SWAY <= off <= MOST_SWAY else 0.0


def _by_cells(points: Floats, raster: Raster) -> Floats | None:
    """The way through the middles of the cells that a line passes by, one touching the next, between its own ends; None
    where it is no such line."""
    if _turns_back(points):
        return None
    dense = _followed(points)
    inside = ((dense > 0) & (dense < (raster.columns, raster.rows))).all(axis=1)
    cells = np.floor(dense)
    off = np.where(inside, np.hypot(*(dense - cells - 0.5).T), np.inf)
    starts = np.flatnonzero(np.concatenate([[True], (np.diff(cells, axis=0) != 0).any(axis=1)]))
    visits = [start + int(np.argmin(off[start:end])) for start, end in pairwise((*starts.tolist(), len(dense)))]
    visits = [at for at in visits if off[at] <= MOST_OFF]
    middles = cells[visits] + 0.5
    steps = np.abs(np.diff(middles, axis=0)).max(axis=1)
    if len(middles) < 2 or not (steps == 1).all():
        return None
    if max(_off_way(points[0], middles), _off_way(points[-1], middles[::-1])) > LEAST_OFF:
        # One of two walls, which runs beside its way from end to end.
        return None
    # What begins short of the middle of its first cell, or ends short of its last, does so still.
    inner = middles[int(visits[0] == 0) : len(middles) - int(visits[-1] == len(dense) - 1)]
    axis: Floats = np.concatenate([points[:1], inner, points[-1:]])
    return axis


def _off_way(end: Floats, middles: Floats) -> float:
    """How far an end of a line lies off the straight way on which it sets out: from its own cell to the next."""
    own = np.floor(end) + 0.5
    start, on = (own, middles[0]) if (own != middles[0]).any() else (middles[0], middles[1])
    (x, y), (along_x, along_y) = end - start, on - start
    return float(abs(x * along_y - y * along_x) / np.hypot(along_x, along_y))


def _turns_back(points: Floats) -> bool:
    """Whether a polyline bends sharply where it is short, as one that draws a head does."""
    steps = np.diff(points, axis=0)
    lengths = np.maximum(np.hypot(steps[:, 0], steps[:, 1]), 1e-9)
    along = (steps[:-1] * steps[1:]).sum(axis=1) / (lengths[:-1] * lengths[1:])
    return bool(((along < SHARP) & (np.minimum(lengths[:-1], lengths[1:]) < SHORT)).any())


def _followed(points: Floats) -> Floats:
    """Points close together along a polyline, its own among them."""
    parts = []
    for start, end in pairwise(points):
        count = max(1, int(np.ceil(np.hypot(*(end - start)) / DENSE)))
        parts.append(np.linspace(start, end, count, endpoint=False))
    return np.concatenate([*parts, points[-1:]])


def _axis(points: Floats) -> Floats | None:
    """The polyline through the places where a polyline begins to bend to the other side: there a wave crosses the line
    that it winds about. None where it is no wave."""
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
    return float(_away(points, axis).max())


def _away(points: Floats, axis: Floats) -> Floats:
    """How far each of some points lies from a polyline."""
    start, way = axis[:-1], np.diff(axis, axis=0)
    square = np.maximum((way**2).sum(axis=1), 1e-12)
    off = points[:, None] - start[None]
    share = np.clip((off * way).sum(axis=2) / square, 0, 1)
    found: Floats = np.linalg.norm(off - share[..., None] * way, axis=2).min(axis=1)
    return found
