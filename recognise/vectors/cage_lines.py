"""Inks that may be lines of cages: near the edges of cells, straight, dashes or dots; colour by colour."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np

from recognise.geometry import extent
from recognise.grouping import grouped
from recognise.pixels.frame import Mask
from recognise.vectors.inks import Canvas, Ink, near
from recognise.vectors.marks import disc
from recognise.vectors.painting import polygon_area
from recognise.vectors.patches import CELL
from recognise.vectors.place import Floats

DEEPEST = 0.25
"""In cells: how far a cage's line is set in from the edge at most."""
LEAST = 0.02
"""In cells: what runs nearer to the edge is on it."""
THICKEST = 0.14
"""In cells: thickness of a cage's line."""
UPRIGHT, SLANT = 0.85, 0.02
"""The part of a filled line's outline that runs along edges, and the slope up to which it does; its corners may be
round, and figures are round all over."""
SOLID = 0.8
"""The part of its hull that a dot or dash fills at least, a slightly bent one too; the figures of a small total, no
larger than a dot may be, fill less."""
ROW = 3
"""Dots or dashes of one area that are a piece of a line, at least; a colon has two."""
MARK, MID_EDGE = 0.6, 0.1
"""In cells: a mark on an edge is no larger, and its middle lies so near to that of its edge."""


def lines_of_cages(inks: Sequence[tuple[int, Ink]], canvas: Canvas) -> list[list[tuple[int, Ink]]]:
    """Those of the inks, given with their indices, that may be lines of cages, those of one colour together: strokes,
    and areas, which are the figures of totals where strokes draw the cages; a 1 is as straight as a line."""
    shore = _shore(canvas)
    beside = [(index, ink) for index, ink in inks if _is_line(ink) and not _is_on_edge(ink) and _keeps_to(ink, shore)]
    return grouped(
        beside, lambda group, ink: group[0][1].role == ink[1].role and near(group[0][1].colour, ink[1].colour)
    )


def is_square(ink: Ink) -> bool:
    """Whether an ink is an unbroken outline all round within one cell."""
    left, top, right, bottom = ink.box
    within = min(right - left, bottom - top) >= 1 - 2 * DEEPEST - THICKEST and extent(ink.box) < 1
    return within and not ink.dash and len(ink.outlines) <= 2 and all(ink.closed)


def _shore(canvas: Canvas) -> Mask:
    """Where a cage's line may run: in the grid, near an edge of a cell."""
    raster = canvas.raster
    ys = (np.arange(canvas.shape[0]) + 0.5 - raster.origin) / CELL
    xs = (np.arange(canvas.shape[1]) + 0.5 - raster.origin) / CELL
    near_row, near_column = (np.abs(places - np.round(places)) <= DEEPEST + THICKEST / 2 for places in (ys, xs))
    inside = ((ys > 0) & (ys < raster.rows))[:, None] & ((xs > 0) & (xs < raster.columns))[None, :]
    shore: Mask = inside & (near_row[:, None] | near_column[None, :])
    return shore


def _keeps_to(ink: Ink, shore: Mask) -> bool:
    area = np.count_nonzero(ink.whole.mask)
    return bool(0 < 0.98 * area <= np.count_nonzero(ink.whole.mask & shore[ink.whole.window]))


def _is_on_edge(ink: Ink) -> bool:
    """Whether an ink is a small mark across the middle of an edge, as signs are: four around a cell are no cage."""
    left, top, right, bottom = ink.box
    if max(right - left, bottom - top) > MARK:
        return False
    for low, high, other in ((left, right, (top + bottom) / 2), (top, bottom, (left + right) / 2)):
        edge = round((low + high) / 2)
        if min(edge - low, high - edge) > LEAST and abs(other % 1 - 0.5) <= MID_EDGE:
            return True
    return False


def _is_line(ink: Ink) -> bool:
    """Whether an ink may be a line along edges, a dash or a dot: no character of a total in the line's colour."""
    if ink.role == "stroke":
        # Circles on corners and the boxes of totals may have the colour of the cages.
        return ink.width <= THICKEST and (extent(ink.box) <= THICKEST or not (_is_small_ring(ink) or disc(ink)))
    if _is_row_of_dots(ink) or (extent(ink.box) <= THICKEST and len(ink.outlines) == 1 and _is_solid(ink.outlines[0])):
        return True
    steps = np.concatenate([np.diff(np.concatenate([points, points[:1]]), axis=0) for points in ink.outlines])
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    along = np.abs(steps).min(axis=1) <= SLANT * lengths
    return float(lengths[along].sum()) >= UPRIGHT * float(lengths.sum())


def _is_small_ring(ink: Ink) -> bool:
    """Whether an ink is a line all round that holds less than a cell, as that round a total does."""
    left, top, right, bottom = ink.box
    small = min(right - left, bottom - top) > THICKEST and extent(ink.box) <= MARK
    return small and all(
        closed or np.abs(points[0] - points[-1]).max() <= ink.width
        for points, closed in zip(ink.outlines, ink.closed, strict=True)
    )


def _is_row_of_dots(ink: Ink) -> bool:
    """Whether an area is several dots or dashes in a row, painted at once."""
    left, top, right, bottom = ink.box
    in_row = len(ink.outlines) >= ROW and min(right - left, bottom - top) <= THICKEST
    return in_row and all(map(_is_solid, ink.outlines))


def _is_solid(outline: Floats) -> bool:
    """Whether a small fill has no bays, as dots and dashes have none and most figures have."""
    hull = cv2.contourArea(cv2.convexHull(outline.astype(np.float32)))
    return abs(polygon_area(outline)) >= SOLID * hull
