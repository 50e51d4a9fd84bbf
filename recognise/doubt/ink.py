"""Explain all the ink: what stands on the flattened grid that the puzzle as understood does not account for.

Independent of the readers: it looks at the picture again, takes away the grid and everything that an item claims, and
whatever is left is a place that a person must look at.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.draft import Polygon
from recognise.evidence import Edges, Flat

Mask = npt.NDArray[np.uint8]

CONTRAST = 0.22
"""Ink is darker or lighter than the ground of its cell by this part of the picture's full contrast."""

LEAST_AREA = 0.004
"""In square cells: specks of dust and JPEG crumbs are smaller, the smallest mark that print uses (a dot a tenth of a
cell wide) is larger."""

LEAST_EXTENT = 0.08
"""In cells: what is left of an antialiased edge is thinner than this in both directions or tiny in area."""

JOIN = 0.09
"""In cells: specks nearer than twice this belong together; the gaps of dashed and dotted lines are narrower."""

CLAIM = 0.07
"""In cells: how far ink may stand outside the polygon that claims it (blur and rounding)."""

GRID_SLACK = 0.045
"""In cells: how far grid ink may stand from the lattice line beyond half its thickness."""

RING = 0.12
"""In cells: margin around the grid's frame in which ink beside the frame belongs to it."""


def unexplained_ink(flat: Flat, edges: Edges, claimed: Sequence[Polygon]) -> list[Box]:
    """Boxes, in cells, of ink inside the grid that neither the lattice nor any claimed polygon explains."""
    ink = ink_mask(flat)
    ink[grid_mask(flat, edges) > 0] = 0
    ink[claimed_mask(flat, claimed) > 0] = 0
    # Specks that touch belong together: a dashed line is many specks, and must not hide by being cut up.
    reach = max(1, round(JOIN * flat.cell))
    joined = cv2.dilate(ink, np.ones((2 * reach + 1, 2 * reach + 1), np.uint8))
    count, labels, stats, _ = cv2.connectedComponentsWithStats(joined, connectivity=8)
    areas = np.bincount(labels[ink > 0], minlength=count)
    boxes = []
    for index in range(1, count):
        x, y, width, height, _ = (int(v) for v in stats[index])
        extent = max(width, height) - 2 * reach
        if areas[index] >= LEAST_AREA * flat.cell**2 and extent >= LEAST_EXTENT * flat.cell:
            boxes.append(_in_cells(flat, x + reach, y + reach, width - 2 * reach, height - 2 * reach))
    return boxes


def ink_mask(flat: Flat) -> Mask:
    """Where a pixel of the grid differs from the ground of its cell, 0 or 255; the margin is left out."""
    grey = cv2.cvtColor(flat.image, cv2.COLOR_RGB2LAB).astype(np.float32)
    mask = np.zeros(flat.image.shape[:2], np.uint8)
    contrast = max(float(np.ptp(np.percentile(grey[..., 0], (0.5, 99.5)))), 30.0)
    for row in range(flat.rows):
        for column in range(flat.columns):
            y, x = (round((row + flat.margin) * flat.cell), round((column + flat.margin) * flat.cell))
            patch = grey[y : y + flat.cell, x : x + flat.cell]
            distance = np.sqrt(((patch - _ground(patch)) ** 2).sum(axis=-1))
            mask[y : y + flat.cell, x : x + flat.cell] = np.where(distance > CONTRAST * contrast, 255, 0)
    return mask


def _ground(patch: npt.NDArray[np.float32]) -> npt.NDArray[np.float32]:
    """The colour of a cell's ground: the commonest lightness in its inner part, and the median colour there."""
    edge = round(0.12 * patch.shape[0])
    inner = patch[edge:-edge, edge:-edge].reshape(-1, 3)
    histogram, bounds = np.histogram(inner[:, 0], bins=32, range=(0, 255))
    smooth = np.convolve(histogram, (1, 2, 1), mode="same")
    peak = int(np.argmax(smooth))
    near = np.abs(inner[:, 0] - (bounds[peak] + bounds[peak + 1]) / 2) <= 12
    return np.asarray(np.median(inner[near] if near.any() else inner, axis=0), dtype=np.float32)


def grid_mask(flat: Flat, edges: Edges) -> Mask:
    """The lattice lines with their thickness, and the frame."""
    mask = np.zeros(flat.image.shape[:2], np.uint8)
    for r in range(flat.rows + 1):
        for c in range(flat.columns):
            slack = RING if r in (0, flat.rows) else GRID_SLACK
            half = edges.horizontal[r, c] / 2 + slack
            _fill(mask, flat, (c - slack, r - half, c + 1 + slack, r + half))
    for r in range(flat.rows):
        for c in range(flat.columns + 1):
            slack = RING if c in (0, flat.columns) else GRID_SLACK
            half = edges.vertical[r, c] / 2 + slack
            _fill(mask, flat, (c - half, r - slack, c + half, r + 1 + slack))
    return mask


def claimed_mask(flat: Flat, claimed: Sequence[Polygon]) -> Mask:
    """The polygons of the items, grown by what blur may add."""
    mask = np.zeros(flat.image.shape[:2], np.uint8)
    for polygon in claimed:
        points = (np.asarray(polygon, dtype=np.float64) + flat.margin) * flat.cell
        cv2.fillPoly(mask, [np.rint(points).astype(np.int32)], 255)
    reach = max(1, round(CLAIM * flat.cell))
    return np.asarray(cv2.dilate(mask, np.ones((2 * reach + 1, 2 * reach + 1), np.uint8)), dtype=np.uint8)


def _fill(mask: Mask, flat: Flat, box: Box) -> None:
    x0, y0, x1, y1 = (max(0, round((v + flat.margin) * flat.cell)) for v in box)
    mask[y0:y1, x0:x1] = 255


def _in_cells(flat: Flat, x: int, y: int, width: int, height: int) -> Box:
    x0, y0 = x / flat.cell - flat.margin, y / flat.cell - flat.margin
    return x0, y0, x0 + width / flat.cell, y0 + height / flat.cell
