"""A page for one of its grids alone: the other grids beside it painted over, for no number in them is a clue of it."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np

from ingest.page import Image
from recognise.evidence import Lattice
from recognise.geometry import bounds, shared
from recognise.grids.mesh import step
from recognise.pixels.frame import Mask

LEAST = 4
"""Rows and columns of a grid that is painted over, at least: boxes that clues stand in are a strip of one or two."""
FRAME, AROUND = 0.1, 0.2
"""In cells of the other grid: how far its frame reaches beyond its lattice, and from there how far paper is looked at
for its colour."""
ASTRAY, CLEAR = 0.15, 0.3
"""The part of another grid that may lie on this one, for a line of a table can be taken for one of the frame beside it;
and in cells, how far around this grid nothing is painted."""


def without_others(image: Image, lattice: Lattice, others: Sequence[Lattice]) -> Image:
    """The page (RGB) with the grids beside that of `lattice` painted in the colour of the paper around each."""
    found, own = image, bounds(lattice.points)
    for other in others:
        theirs = bounds(other.points)
        beside = other is not lattice and shared(own, theirs) <= ASTRAY * shared(theirs, theirs)
        if beside and min(other.rows, other.columns) >= LEAST:
            found = _painted_over(found, other, lattice)
    return found


def _painted_over(image: Image, other: Lattice, own: Lattice) -> Image:
    cell = step(other.points)
    covered = _grown(_inside(image, other), FRAME * cell) & ~_grown(_inside(image, own), CLEAR * step(own.points))
    around = _grown(covered, AROUND * cell) & ~covered
    if not around.any():
        return image
    found = image.copy()
    found[covered] = np.median(image[around], axis=0)
    return found


def _inside(image: Image, lattice: Lattice) -> Mask:
    points = lattice.points
    rim = np.concatenate([points[0], points[1:, -1], points[-1, -2::-1], points[-2:0:-1, 0]])
    mask = np.zeros(image.shape[:2], np.uint8)
    return np.asarray(cv2.fillPoly(mask, [np.rint(rim).astype(np.int32)], 1) > 0, np.bool_)


def _grown(mask: Mask, pixels: float) -> Mask:
    size = 2 * round(pixels) + 1
    return np.asarray(cv2.dilate(mask.astype(np.uint8), np.ones((size, size), np.uint8)) > 0, np.bool_)
