"""The two layers in which lines are drawn: wide filled strokes, and tubes drawn as an outline."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from recognise.evidence import Trace
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.ink import Ink, soften
from recognise.pixels.tracing import painted, trace_layer

SMOOTH = 0.02
"""Smoothing in cells before thresholds: halftone dots of scans become a tone."""
STROKE = 0.045
"""Half the width, in cells, of the thinnest filled line (0.09): thinner ones are strokes of digits and outlines."""
HALF_TONE = 0.5
"""The edge of a filled area lies where its tone has fallen to half."""
EVEN = 0.35
"""Inside an area the least ink is at least this part of the most nearby; a blurred thin stroke falls to a fifth."""
LARGEST_BULB = 0.47
"""In cells: an enclosed area that holds a larger circle than this is paper between tubes, not the inside of one."""
WALL = 0.35
"""A wall is at least this part as dark as the darker ink of the grid: walls are thin and pale after smoothing."""
SEAM = 1
"""Pixels by which walls are closed before their inside is looked for: what taking out the grid opens."""
CORNER = 0.1
"""Half the gap, in cells, closed on a lattice line: where the corner of a wall lay on it, both its sides end there."""
WALLED = 0.25
"""An outlined tube of which at least this part is filled is a filled one with walls."""
SPARE = 0.06
"""In cells: how far ink may stand beside a line as traced and still be its own: mitred bends, square ends."""


@dataclass(frozen=True, slots=True)
class Tubes:
    """Traced lines, and the pixels of ink that they explain."""

    traces: tuple[Trace, ...]
    explained: Mask
    filled: Mask
    hollow: Mask


def trace_tubes(ink: Ink, drawn: Grey, raster: Raster, hidden: Mask | None = None) -> Tubes:
    """The lines of a grid. `drawn` is its ink without grid and without characters; `hidden` is where they stood."""
    smooth = soften(drawn, SMOOTH * raster.cell)
    filled = filled_layer(smooth, raster, ink.floor)
    hollow = hollow_layer(smooth, ink.grid, raster, ink.floor, hidden)
    filled, hollow = _told_apart(filled, hollow, raster)
    traces = trace_layer(filled, raster, ink.relative, hidden=hidden)
    outlined = trace_layer(hollow, raster, None, outlined=True, hidden=hidden)
    shape = drawn.shape
    explained = painted([*traces, *outlined], raster, (shape[0], shape[1]), SPARE)
    return Tubes((*traces, *outlined), explained, filled, hollow)


def _told_apart(filled: Mask, hollow: Mask, raster: Raster) -> tuple[Mask, Mask]:
    """Both layers without what is in both: a tube that is filled and has walls counts as outlined."""
    both = (filled & hollow).astype(np.uint8)
    if not both.any():
        return filled, hollow
    count, labels = cv2.connectedComponents(hollow.astype(np.uint8), connectivity=8)
    size = np.bincount(labels.ravel(), minlength=count)
    shared = np.bincount(labels[both > 0], minlength=count)
    walled = shared > WALLED * size
    walled[0] = False
    inside = walled[labels]
    near = cv2.dilate(inside.astype(np.uint8), _disc(raster.px(SPARE))) > 0
    return filled & ~near, hollow & (inside | ~filled)


def _disc(pixels: int) -> cv2.typing.MatLike:
    return cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * pixels + 1, 2 * pixels + 1))


def filled_layer(smooth: Grey, raster: Raster, floor: float) -> Mask:
    """Areas of ink wider than a stroke, each bounded where its own tone has fallen to half."""
    disc = _disc(raster.px(STROKE))
    core = cv2.erode(smooth, disc)
    tone = cv2.dilate(core, disc)
    # `tone` is the ink of the widest stroke that covers a pixel; beside an area it falls to that of paper.
    local = cv2.dilate(tone, _disc(raster.px(STROKE)))
    # Smoothing spreads thin strokes too; what is left of one after erosion is far below its peak.
    even = core > EVEN * cv2.dilate(smooth, disc)
    area = cv2.dilate((even & (core > floor)).astype(np.uint8), disc) > 0
    mask = area & (smooth > HALF_TONE * local)
    return np.asarray(cv2.morphologyEx(mask.astype(np.uint8), cv2.MORPH_OPEN, disc), np.bool_)


def hollow_layer(smooth: Grey, grid: Mask, raster: Raster, floor: float, hidden: Mask | None = None) -> Mask:
    """The insides of closed outlines that may be tubes, with their walls. What is `hidden` may hold a piece of wall;
    where the `grid` was taken out, a corner of a wall may be gone with it."""
    rows, columns = raster.grid_slices(raster.px(0.3))
    part = smooth[rows, columns]
    peak = float(np.percentile(part[part > floor], 90)) if (part > floor).any() else 1.0
    walls = (part > max(floor, WALL * peak)).astype(np.uint8)
    if hidden is not None:
        walls |= hidden[rows, columns].view(np.uint8)
    walls = cv2.morphologyEx(walls, cv2.MORPH_CLOSE, np.ones((2 * SEAM + 1, 2 * SEAM + 1), np.uint8))
    mended = cv2.morphologyEx(walls, cv2.MORPH_CLOSE, _disc(raster.px(CORNER)))
    seam = mended & grid[rows, columns].view(np.uint8)
    walls |= seam
    open_ground = (1 - walls).astype(np.uint8)
    count, labels, stats, _ = cv2.connectedComponentsWithStats(open_ground, connectivity=4)
    depth = cv2.distanceTransform(open_ground, cv2.DIST_L2, 3)
    inside = np.zeros(count, dtype=bool)
    centres = raster.centres().reshape(-1, 2) - (columns.start, rows.start)
    for x, y in np.rint(centres).astype(np.int64):
        inside[labels[y, x]] = True
    inside[0] = False
    for label in np.nonzero(inside)[0]:
        x, y, width, height, _ = (int(v) for v in stats[label])
        window = slice(y, y + height), slice(x, x + width)
        deepest = float(depth[window][labels[window] == label].max())
        touches_edge = x == 0 or y == 0 or x + width == part.shape[1] or y + height == part.shape[0]
        inside[label] = not touches_edge and deepest <= LARGEST_BULB * raster.cell
    tube = inside[labels].astype(np.uint8)
    grown = cv2.dilate(tube, _disc(raster.px(0.06)))
    hollow = np.zeros(smooth.shape, dtype=bool)
    beside = cv2.dilate(tube, _disc(2 * raster.px(CORNER)))
    hollow[rows, columns] = (tube > 0) | ((grown > 0) & (walls > 0)) | ((beside > 0) & (seam > 0))
    return hollow
