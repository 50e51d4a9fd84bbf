"""Tubes drawn by their walls: what a wall encloses, and lines with ground painted along their middle."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np

from recognise.evidence import Trace
from recognise.vectors.inks import Canvas, Ink
from recognise.vectors.patches import CELL, Patch


def is_hollow(traces: Sequence[Trace], ink: Ink, canvas: Canvas) -> bool:
    """Whether ground was painted along the middle of a line: a wide dark stroke with a white one upon it."""
    spots = []
    for trace in traces:
        for a, b in trace.links:
            (x0, y0), (x1, y1) = trace.nodes[a].centre, trace.nodes[b].centre
            spots += [(x0 + (x1 - x0) * t, y0 + (y1 - y0) * t) for t in (0.3, 0.5, 0.7)]
    pixels = np.round(np.array(spots) * CELL + canvas.raster.origin).astype(int)
    return bool((canvas.ground_order[pixels[:, 1], pixels[:, 0]] > ink.order).mean() > 0.5)


def within(patch: Patch) -> Patch:
    """A wall with what it encloses: the ways in from outside cross one wall, those out to a hole of a looped tube
    cross another. Walls thinner than a pixel have gaps, so they are taken a pixel wider and what is found narrower."""
    wall = cv2.dilate(np.pad(patch.mask, 2).astype(np.uint8), np.ones((3, 3), np.uint8))
    contours, hierarchy = cv2.findContours(wall, cv2.RETR_TREE, cv2.CHAIN_APPROX_NONE)
    inside = np.zeros(wall.shape, dtype=np.uint8)
    depths: dict[int, int] = {}
    for index in range(len(contours)):
        parent = int(hierarchy[0][index][3])
        depths[index] = 0 if parent < 0 else depths[parent] + 1
        if depths[index] % 4 in (0, 3):
            cv2.drawContours(inside, contours, index, 1 if depths[index] % 4 == 0 else 0, cv2.FILLED)
    area = cv2.erode(inside, np.ones((3, 3), np.uint8))[2:-2, 2:-2].view(np.bool_)
    return Patch(patch.left, patch.top, area | patch.mask)
