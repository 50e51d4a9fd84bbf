"""The pixels of a flat picture that marks explain, for the guard that asks about all other ink."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Point
from recognise.evidence import Disc, Fence, Shape, Trace
from recognise.pixels.frame import Mask, Raster
from recognise.pixels.tracing import overshoots, painted

SPARE = 0.06
"""In cells: how far the ink of a mark may stand outside of its shape as read."""
HEAD = 0.24
"""In cells: how far an arrow head reaches to all sides of its tip."""
SHORT = 0.3
"""In cells: a shaft that ends farther before the middle of its last cell is broken there, and has no tip."""
WALL = 0.05
"""In cells: half the width of what a cage's wall, or a line across the grid, takes up."""


def explained(
    traces: Sequence[Trace],
    fences: Iterable[Fence],
    discs: Iterable[Disc],
    shapes: Iterable[Shape],
    written: Iterable[Box],
    raster: Raster,
    size: tuple[int, int],
) -> Mask:
    """The pixels of all that was found, of a picture of `size` (height, width); `written` are the boxes of characters,
    and of the tags in which they stand."""
    mask = (painted(traces, raster, size, SPARE) | overshoots(traces, raster, size, SPARE)).astype(np.uint8)
    for tip in (tip for trace in traces for tip in _tips(trace)):
        centre = _pixels((tip,), raster)[0]
        cv2.circle(mask, (int(centre[0]), int(centre[1])), raster.px(HEAD + SPARE), 1, -1)
    for side in (side for trace in traces for side in trace.barbs):
        cv2.fillPoly(mask, [_pixels(side, raster)], 1)
    for fence in fences:
        cv2.polylines(mask, [_pixels(fence.where, raster)], True, 1, raster.px(2 * (WALL + SPARE)))
    for disc in discs:
        centre = _pixels((disc.centre,), raster)[0]
        cv2.circle(mask, (int(centre[0]), int(centre[1])), raster.px(disc.radius + SPARE), 1, -1)
    for box in (*(_filled(shape) for shape in shapes), *written):
        if box is not None:
            mask[raster.slices(box, raster.px(SPARE))] = 1
    for shape in shapes:
        if shape.name == "diagonal":
            (x0, y0), (x1, y1) = _pixels((shape.box[:2], shape.box[2:]), raster)
            ends = ((x0, y0), (x1, y1)) if shape.direction == "down" else ((x0, y1), (x1, y0))
            start, end = ((int(x), int(y)) for x, y in ends)
            cv2.line(mask, start, end, 1, raster.px(2 * (WALL + SPARE)))
    return mask.view(np.bool_)


def _tips(trace: Trace) -> Iterator[Point]:
    """Where the tips of an arrow's heads may be: in the middle of the last cell, and as far before it as was
    measured."""
    beyond = dict(trace.tips)
    for node in trace.heads:
        x, y = trace.nodes[node].centre
        yield x, y
        start = trace.nodes[trace.before(node)].centre
        off = beyond.get(node, 0.0) / math.dist(start, (x, y))
        if -SHORT <= beyond.get(node, 0.0) < 0:
            yield x + off * (x - start[0]), y + off * (y - start[1])


def _filled(shape: Shape) -> Box | None:
    """The box that a shape's ink fills; none for a line across the grid."""
    return None if shape.name == "diagonal" else shape.box


def _pixels(points: Iterable[Point], raster: Raster) -> npt.NDArray[np.int32]:
    return np.rint([[raster.at(x), raster.at(y)] for x, y in points]).astype(np.int32)
