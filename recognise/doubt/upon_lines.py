"""Small things that stand upon a line, within what the line claims.

What a line claims is wider than the line, and a small character or sign on it has room in there: no other guard looks
between the middles of its cells. So the ink of each line that is not dark itself is held against its own tone: what is
clearly darker than the line is all along, and larger than dust, is a place that a person must look at."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.doubt.hidden import DARK, NOISE, SHARE, STRONG, WALL
from recognise.doubt.outlines import inner_corners, without_outlines
from recognise.draft import Polygon
from recognise.evidence import Flat, Trace
from recognise.geometry import band, filled
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.printed import joined_pieces, rectangle_of
from recognise.support import claims

CORE = 0.6
"""The part of a line's width by which its tone is taken."""
USUAL, MOST = (50, 75), 90
"""Percentiles of the ink on a line: its tone, and what its grain reaches; and one that is ink even of a dotted line."""
OTHERS = 0.06
"""In cells: how far the ink of other marks, and that of a line's own discs and heads, reaches beyond their claims."""
AREA, EXTENT, THICK = 0.004, 0.08, 0.03
"""In square cells, and in cells: what is smaller is dust, and what is thinner the blur of a lattice line."""
APART = 0.06
"""In cells: half of how far a lattice line parts what stands across it."""


def upon_lines(ink: Grey, flat: Flat, claimed: Sequence[Polygon], traces: Sequence[Trace]) -> Iterator[Box]:
    """The box, in cells, of each thing on a line of a picture that is darker than the line. `ink` is from 0 to 1 in the
    pixels of `flat`, without the lattice's lines; `claimed` is all that items claim."""
    raster = Raster.of(flat)
    for trace in traces:
        if trace.how != "vector" and trace.links:
            yield from _pieces(_darker(ink, trace, flat, claimed), raster)


def _darker(ink: Grey, trace: Trace, flat: Flat, claimed: Sequence[Polygon]) -> Mask:
    """The pixels of a line that are darker than it, where nothing else is claimed."""
    own = claims(trace)
    way = own[: len(trace.links) + len(trace.nodes)]
    others = filled(flat, [polygon for polygon in (*claimed, *own) if polygon not in way])
    reach = np.ones((2 * Raster.of(flat).px(OTHERS) + 1,) * 2, np.uint8)
    ground = (filled(flat, way) > 0) & (cv2.dilate(others, reach) == 0)
    least = _least(ink, trace, flat, ground)
    darker = np.asarray((ink > least) & ground)
    if np.count_nonzero(darker) < AREA * flat.cell**2:
        return darker
    bare = without_outlines(ink, flat, [own], ground)
    if (bare < ink).any():
        # A line with an outline: in its bends that runs deep inside.
        ground &= ~inner_corners(filled(flat, own), WALL * flat.cell, flat.cell)
    return np.asarray((bare > least) & ground)


def _least(ink: Grey, trace: Trace, flat: Flat, ground: npt.NDArray[np.bool_]) -> float:
    """Ink from which on something on a line is darker than it; more than there is where it is dark itself."""
    half = CORE * trace.width / 2 + trace.sway
    strips = [band(trace.nodes[a].centre, trace.nodes[b].centre, half) for a, b in trace.links]
    there = ink[ground & (filled(flat, strips) > 0)]
    if not there.size:
        return 1.0
    # Between dashes, and beside a wave, there is paper.
    inked = there[there > np.percentile(there, MOST) / 2]
    # A line of bare paper, as between two walls, may have none along its middle.
    tone, high = (float(v) for v in np.percentile(inked, USUAL)) if inked.size else (0.0, 0.0)
    return 1.0 if tone > DARK else tone + max(STRONG, SHARE * (1 - tone), NOISE * (high - tone))


def _pieces(darker: Mask, raster: Raster) -> Iterator[Box]:
    """The pieces that are large enough for a character or sign; a lattice line under one parts it."""
    thick = cv2.distanceTransform(darker.astype(np.uint8), cv2.DIST_L2, 5) >= THICK / 2 * raster.cell
    for (y, x), piece in joined_pieces(darker, raster.px(APART), AREA * raster.cell**2):
        rectangle = rectangle_of((y, x), piece)
        window = slice(y, y + piece.shape[0]), slice(x, x + piece.shape[1])
        if max(rectangle[2:]) >= EXTENT * raster.cell and thick[window][piece].any():
            yield raster.box(*rectangle)
