"""Thin figures that stand on a line that is about as wide as they are.

A line that is narrower than a character hides none, but what it claims is as wide as a 1 or a 7 of a light type, and
leaves nothing of it. So the ink of each narrow line that is not dark itself is held against its own tone, around the
middle of each cell in which no given was read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.doubt.hidden import DARK, LINE, WALL
from recognise.doubt.outlines import inner_corners, without_outlines
from recognise.draft import Draft, Polygon
from recognise.evidence import Flat, Trace
from recognise.geometry import band, disc_polygon, filled
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.support import claims
from schema.cells import Cell

NARROWEST = 0.08
"""In cells: on a narrower line a figure is seen beside it; of one wider than `LINE` the other guard sees the ground."""
DARKER, NOISE = 0.09, 4.0
"""Ink (0 to 1) by which a figure is darker than its line at least, and times the spread of the line's own ink."""
AROUND = 0.3
"""In cells: so far around the middle of its cell a given stands."""
TALL, THIN, AREA = 0.17, 0.7, 0.004
"""In cells: a figure is so tall at least; its strokes are no thicker than this part of the line; and how many square
cells of ink it has, at least."""
OTHERS = 0.06
"""In cells: how far the ink of other marks, and that of a line's own discs and heads, reaches beyond their claims."""
CORE = 0.6
"""The part of a line's width by which its tone is taken."""


def figures_on_lines(ink: Grey, flat: Flat, draft: Draft, traces: Sequence[Trace]) -> Iterator[tuple[Cell, Box]]:
    """Each cell in which something thin stands on a narrow line of a picture, with its box in cells. `ink` is from 0 to
    1 in the pixels of `flat`, without the lattice's lines."""
    claimed = [polygon for item in draft.items for polygon in item.claimed]
    claimed += [doubt.where for doubt in draft.doubts if doubt.where is not None]
    raster = Raster.of(flat)
    for trace in traces:
        if not _is_narrow(trace):
            continue
        own = filled(flat, _strips(trace, trace.width * CORE)) > 0
        low, tone, high = np.percentile(ink[own], (20, 50, 80)) if own.any() else (1.0, 1.0, 1.0)
        if tone > DARK:
            continue
        ground = _ground(trace, claimed, flat, raster)
        bare = without_outlines(ink, flat, [claims(trace)], ground)
        if (bare < ink).any():
            # A line with an outline: in its bends that runs deep inside.
            ground &= ~inner_corners(filled(flat, claims(trace)), WALL * flat.cell, flat.cell)
        darker = (bare > tone + max(DARKER, NOISE * (high - low) / 2)) & ground
        for cell in trace.nodes:
            box = None if cell in draft.givens else _figure(darker, cell, THIN * trace.width, raster)
            if box is not None:
                yield cell, box


def _is_narrow(trace: Trace) -> bool:
    """Whether a trace is a whole narrow line: what has an outline, gaps or a core is of several tones itself."""
    is_whole = not (trace.outlined or trace.dashed or trace.cored or trace.sway)
    return is_whole and trace.how != "vector" and NARROWEST <= trace.width < LINE


def _strips(trace: Trace, width: float) -> list[Polygon]:
    """The way of a line, so wide."""
    joints = [disc_polygon(node.centre, width / 2) for node in trace.nodes]
    return [*joints, *(band(trace.nodes[a].centre, trace.nodes[b].centre, width / 2) for a, b in trace.links)]


def _ground(trace: Trace, claimed: Sequence[Polygon], flat: Flat, raster: Raster) -> npt.NDArray[np.bool_]:
    """The ground of a line that nothing else claims, nor a disc or a head of its own."""
    own = claims(trace)
    way = own[: len(trace.links) + len(trace.nodes)]
    others = filled(flat, [polygon for polygon in (*claimed, *own) if polygon not in way])
    reach = np.ones((2 * raster.px(OTHERS) + 1,) * 2, np.uint8)
    return np.asarray((filled(flat, way) > 0) & (cv2.dilate(others, reach) == 0))


def _figure(darker: Mask, cell: Cell, thick: float, raster: Raster) -> Box | None:
    """The box of strokes around the middle of a cell that are no more than `thick`; None where they make no figure."""
    x, y = cell.centre
    window = raster.slices((x - AROUND, y - AROUND, x + AROUND, y + AROUND))
    there = darker[window].astype(np.uint8)
    depth = cv2.distanceTransform(there, cv2.DIST_L2, 5)
    count, labels, stats, _ = cv2.connectedComponentsWithStats(there, connectivity=8)
    for index in range(1, count):
        left, top, width, height, area = (int(v) for v in stats[index])
        is_thin = depth[labels == index].max() <= thick / 2 * raster.cell
        if is_thin and height >= TALL * raster.cell and area >= AREA * raster.cell**2:
            return raster.box(window[1].start + left, window[0].start + top, width, height)
    return None
