"""Whether a line that one reader claims is there in the picture: its ink, looked for where it must be."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Point
from recognise.draft import Polygon
from recognise.evidence import Flat, Trace
from recognise.geometry import band, disc_polygon

Grey = npt.NDArray[np.float32]

SAMPLES = 25
"""Places looked at along one link, from cell centre to cell centre."""
ACROSS = 0.04
"""In cells: how far beside its place a wall of an outlined tube is looked for."""
CIRCLE, HEAD = 0.46, 0.3
"""In cells: how far around the start of an arrow without a disc of its own (a capsule is there), and around the middle
of the cell in which its head is, its shaft may be missing."""
SLACK = 0.05
"""In cells: how far the ink of a line may reach beyond its measured width (blur, rounding, a wall's own thickness)."""
DASH_GAP = 0.15
"""In cells: half of the widest gap between the dashes of a broken line."""
BULB_SIDES = 16
"""Corners of the polygon that stands for a bulb."""


def supported(drawn: Grey, floor: float, flat: Flat, trace: Trace, upon: Sequence[tuple[Point, float]] = ()) -> float:
    """The least share, over the links of a trace, of places along the link at which there is ink. `drawn` is ink from 0
    to 1 in the pixels of `flat`, without the lattice; `floor` the least that counts. `upon` are middles and
    radii of what may hide a line."""
    hidden = [(trace.nodes[node].centre, radius) for node, radius in _hiding(trace).items()]
    hidden += upon
    shares = [_share(drawn, floor, flat, ends, trace, hidden) for ends in _links(trace)]
    return min(shares, default=0.0)


def _hiding(trace: Trace) -> dict[int, float]:
    """The nodes of a trace around which its line may be hidden, and how far."""
    found = dict(trace.discs)
    if trace.heads:
        leaves = [node for node in range(len(trace.nodes)) if sum(node in link for link in trace.links) == 1]
        found |= {node: HEAD if node in trace.heads else CIRCLE for node in leaves if node not in found}
    return found


def covered(drawn: Grey, floor: float, flat: Flat, outlines: Sequence[Polygon]) -> Callable[[Sequence[Polygon]], float]:
    """A function that tells which part of the ink in some polygons lies within the outlines; 0 where there is none."""
    reach = max(1, round(SLACK * flat.cell))
    mask = _filled(drawn.shape, flat, outlines)
    within = cv2.dilate(mask, np.ones((2 * reach + 1, 2 * reach + 1), np.uint8)) > 0
    inked = drawn > 2 * floor

    def share(polygons: Sequence[Polygon]) -> float:
        corners = np.concatenate([np.asarray(polygon, np.float64) for polygon in polygons])
        (x0, y0), (x1, y1) = (
            np.rint((v + flat.margin) * flat.cell).astype(int) for v in (corners.min(0), corners.max(0))
        )
        part = slice(max(0, y0), max(0, y1)), slice(max(0, x0), max(0, x1))
        ink = inked[part] & (_filled(drawn.shape, flat, polygons)[part] > 0)
        return float(within[part][ink].mean()) if ink.any() else 0.0

    return share


def _filled(shape: tuple[int, ...], flat: Flat, outlines: Sequence[Polygon]) -> npt.NDArray[np.uint8]:
    """The inside of polygons, in the pixels of a flattened grid."""
    mask = np.zeros(shape, np.uint8)
    for outline in outlines:
        points = (np.asarray(outline, np.float64) + flat.margin) * flat.cell
        cv2.fillPoly(mask, [np.rint(points).astype(np.int32)], 1)
    return mask


def claims(trace: Trace) -> tuple[Polygon, ...]:
    """Polygons that cover all ink of a trace: a band along each link, a disc on each node that carries one."""
    half = trace.width / 2 + SLACK
    bands = [band(start, end, half) for start, end in _links(trace)]
    joints = [disc_polygon(cell.centre, half, BULB_SIDES) for cell in trace.nodes]
    bulbs = [disc_polygon(trace.nodes[node].centre, radius + SLACK, BULB_SIDES) for node, radius in trace.discs]
    return (*bands, *joints, *bulbs)


def _links(trace: Trace) -> Iterator[tuple[Point, Point]]:
    for a, b in trace.links:
        yield trace.nodes[a].centre, trace.nodes[b].centre


def _share(
    drawn: Grey,
    floor: float,
    flat: Flat,
    ends: tuple[Point, Point],
    trace: Trace,
    hidden: Sequence[tuple[Point, float]] = (),
) -> float:
    along = np.linspace(np.array(ends[0]), np.array(ends[1]), SAMPLES)
    if not trace.outlined:
        free = np.ones(len(along), bool)
        for centre, radius in hidden:
            free &= np.hypot(along[:, 0] - centre[0], along[:, 1] - centre[1]) > radius + ACROSS
        shows = _inked(drawn, flat, along) > floor
        if trace.dashed:
            # Between dashes or dots there is none; there must be some in every stretch of this length.
            window = 1 + 2 * round(DASH_GAP / float(np.hypot(*(along[1] - along[0]))))
            shows = np.convolve(shows, np.ones(window), "same") > 0
        return float(shows[free].mean()) if free.any() else 1.0
    direction = along[-1] - along[0]
    normal = np.array((-direction[1], direction[0])) / np.hypot(*direction)
    # The inner third only: walls give way at joints and bulbs.
    middle = along[SAMPLES // 3 : -(SAMPLES // 3)]
    walls = []
    for side in (-1, 1):
        near = [_inked(drawn, flat, middle + normal * side * (trace.width / 2 + off)) for off in (-ACROSS, 0.0, ACROSS)]
        walls.append((np.max(near, axis=0) > floor).mean())
    return float(min(walls))


def _inked(drawn: Grey, flat: Flat, points: npt.NDArray[np.float64]) -> Grey:
    places = np.rint((points + flat.margin) * flat.cell - 0.5).astype(int)
    rows = np.clip(places[:, 1], 0, drawn.shape[0] - 1)
    columns = np.clip(places[:, 0], 0, drawn.shape[1] - 1)
    return np.asarray(drawn[rows, columns], np.float32)
