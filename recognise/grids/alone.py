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
ROUNDED = 4
"""Pixels: what rounding may add to what is looked at around a grid."""


def without_others(image: Image, lattice: Lattice, others: Sequence[Lattice]) -> Image:
    """The page (RGB) with the grids beside that of `lattice` painted in the colour of the paper around each."""
    beside = [other for other in others if other is not lattice and _is_beside(other, lattice)]
    if not beside:
        return image
    found = image.copy()
    for other in beside:
        _paint_over(found, other, lattice)
    return found


def _is_beside(other: Lattice, own: Lattice) -> bool:
    theirs = bounds(other.points)
    apart = shared(bounds(own.points), theirs) <= ASTRAY * shared(theirs, theirs)
    return apart and min(other.rows, other.columns) >= LEAST


def _paint_over(image: Image, other: Lattice, own: Lattice) -> None:
    """Paint over one grid in the part of the page around it: pages with a dozen grids are large."""
    cell, clear = step(other.points), CLEAR * step(own.points)
    left, top, right, bottom = bounds(other.points)
    reach = (FRAME + AROUND) * cell + clear + ROUNDED
    x, y = max(0, int(left - reach)), max(0, int(top - reach))
    part = image[y : max(y, int(bottom + reach)), x : max(x, int(right + reach))]
    covered = _grown(_inside(part, other, (x, y)), FRAME * cell) & ~_grown(_inside(part, own, (x, y)), clear)
    around = _grown(covered, AROUND * cell) & ~covered
    if around.any():
        part[covered] = np.median(part[around], axis=0)


def _inside(part: Image, lattice: Lattice, corner: tuple[int, int]) -> Mask:
    """Where a lattice lies on a part of the page, whose upper left corner is told."""
    points = lattice.points
    rim = np.concatenate([points[0], points[1:, -1], points[-1, -2::-1], points[-2:0:-1, 0]])
    mask = np.zeros(part.shape[:2], np.uint8)
    return np.asarray(cv2.fillPoly(mask, [np.rint(rim - corner).astype(np.int32)], 1) > 0, np.bool_)


def _grown(mask: Mask, pixels: float) -> Mask:
    size = 2 * round(pixels) + 1
    return np.asarray(cv2.dilate(mask.astype(np.uint8), np.ones((size, size), np.uint8)) > 0, np.bool_)
