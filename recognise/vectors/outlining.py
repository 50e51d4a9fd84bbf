"""Masks to filled paths: their outlines without the steps of pixels."""

from __future__ import annotations

from collections.abc import Iterator

import cv2
import numpy as np
from skimage.measure import find_contours

from ingest.page import Colour, VectorPath
from recognise.grids.warp import project
from recognise.pixels.frame import Mask
from recognise.vectors.layers import CELL, MARGIN, SPECK, Layer
from recognise.vectors.place import Floats

EXACT = 0.7
"""Pixels by which an outline may be simplified."""
LEVEL, LONG = 1.0, 6.0
"""Pixels by which a side of an outline may be off an axis, and how long it is at least."""
SOFT, RIM = 0.6, 0.45
"""Pixels by which a mask is softened, so that its outline has no steps, and the level at which the outline lies."""


def outlined(layer: Layer, to_frame: Floats) -> Iterator[VectorPath]:
    """Each piece of a layer as a filled path with its holes."""
    count, pieces, stats, _ = cv2.connectedComponentsWithStats(layer.mask.astype(np.uint8), connectivity=8)
    for index in range(1, count):
        x, y, width, height, area = (int(v) for v in stats[index])
        if area < SPECK:
            continue
        mask = pieces[y : y + height, x : x + width] == index
        outlines = list(contours_of(mask, layer.x + x, layer.y + y))
        if outlines:
            yield filled_path(outlines, layer.colour, to_frame)


def contours_of(mask: Mask, x: int, y: int) -> Iterator[Floats]:
    """The outlines of a mask that begins at (x, y), in cells."""
    soft = cv2.GaussianBlur(np.pad(mask.astype(np.float32), 3), (0, 0), SOFT)
    for contour in find_contours(soft, RIM):
        simple = cv2.approxPolyDP(contour[:, ::-1].astype(np.float32)[:, None], EXACT, closed=True)[:, 0]
        if len(simple) > 2:
            # The middle of a pixel lies half a pixel behind its edge.
            yield (_squared(simple.astype(np.float64)) - 3 + (x + 0.5, y + 0.5)) / CELL - MARGIN


def _squared(points: Floats) -> Floats:
    """An outline with those of its sides that are upright or level but for a pixel made exactly so."""
    found = points.copy()
    for number in range(len(points)):
        one, other = number, (number + 1) % len(points)
        step = np.abs(found[other] - found[one])
        across = int(step.argmin())
        if step[across] <= LEVEL and step[1 - across] >= LONG:
            found[[one, other], across] = (found[one, across] + found[other, across]) / 2
    return found


def filled_path(outlines: list[Floats], colour: Colour, to_frame: Floats) -> VectorPath:
    """Outlines in cells as one path of a page, whose frame `to_frame` maps cells to."""
    pieces = tuple(tuple(map(tuple, project(to_frame, points).tolist())) for points in outlines)
    several = len(outlines)
    return VectorPath(
        pieces, (True,) * several, None, colour, 0.0, curved=tuple(len(p) > 8 for p in pieces), even_odd=True
    )
