"""Dark plates beside the grid with a light number on each: tags, shields and discs of one tone.

The figures of such a plate are the holes in it. The ink of the picture is turned inside out there, so that whoever
reads numbers beside the grid finds them dark on paper as everywhere else; the plates are evidence of their own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.evidence import Shape
from recognise.geometry import beside, middle
from recognise.pixels.frame import Raster
from recognise.pixels.ink import Ink

DARK = 0.45
"""Ink (0 to 1) of a plate at least: light figures stand on no paler one."""
LEAST, MOST = 0.4, 1.1
"""In cells: how high and wide plates are."""
OFF, FAR = 0.25, 1.0
"""In cells: how far from the middle of its row or column a plate stands, and how far from the grid, at most."""
CONVEX = 0.9
"""Part of its hull that a plate fills, figures and all; a bold character is as full only where it is round."""
CUT = (0.03, 0.35)
"""Part of a plate that its figures take: the hole of a bold round letter takes more, dust less."""
HOLLOW = 0.88
"""Part of its own hull that a figure fills at most: the round hole of a letter fills all of it."""
SLENDER = 0.55
"""Width of the figure 1 as a part of its height, at most."""


@dataclass(frozen=True, slots=True)
class Plate:
    """Where a plate stands in the picture, and which pixels of that are it, its figures with it."""

    rows: slice
    columns: slice
    whole: npt.NDArray[np.bool_]

    def box(self, raster: Raster) -> Box:
        """In cells."""
        x, y = self.columns.start, self.rows.start
        return raster.box(x, y, self.columns.stop - x, self.rows.stop - y)


def turned_plates(ink: Ink, raster: Raster) -> tuple[Ink, tuple[Shape, ...]]:
    """The ink with the light figures of dark plates beside the grid as ink and the plates as paper, and the plates."""
    plates = list(_plates(ink, raster))
    if not plates:
        return ink, ()
    layers = {name: getattr(ink, name).copy() for name in ("all", "drawn", "unsifted", "level")}
    relative = ink.relative.copy()
    shapes = []
    for plate in plates:
        at = plate.rows, plate.columns
        own, around = plate.whole & (ink.all[at] > DARK), _around(plate.whole)
        shade = float(np.median(ink.all[at][own]))
        red, green, blue = (round(255 * float(value)) for value in np.median(relative[at][own], axis=0))
        shapes.append(Shape("plate", plate.box(raster), (red, green, blue), "shape"))
        figures = np.where(plate.whole, np.clip((shade - ink.all[at]) / shade, 0, 1), 0).astype(np.float32)
        for layer in layers.values():
            layer[at] = np.where(around, figures, layer[at])
        relative[at] = np.where(around[..., None], 1 - figures[..., None], relative[at])
    return replace(ink, relative=relative, **layers), tuple(shapes)


def _around(whole: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
    """A plate with the blur of its rim."""
    return np.asarray(cv2.dilate(whole.astype(np.uint8), np.ones((5, 5), np.uint8)) > 0)


def _plates(ink: Ink, raster: Raster) -> Iterator[Plate]:
    dark = (ink.drawn > DARK).astype(np.uint8)
    dark[raster.grid_slices()] = 0
    _, labels, stats, _ = cv2.connectedComponentsWithStats(dark, connectivity=8)
    for index, (x, y, width, height, area) in enumerate(stats.tolist()):
        if index == 0 or not all(LEAST <= side / raster.cell <= MOST for side in (width, height)):
            continue
        if not _is_in_line(raster.box(x, y, width, height), raster):
            continue
        if (solid := _solid(labels[y : y + height, x : x + width] == index, area)) is not None:
            margin = 2
            top, left = max(0, y - margin), max(0, x - margin)
            whole = np.pad(solid, ((y - top, margin), (x - left, margin)))
            rows, columns = slice(top, y + height + margin), slice(left, x + width + margin)
            seen = ink.drawn[rows, columns].shape
            yield Plate(rows, columns, whole[: seen[0], : seen[1]])


def _is_in_line(box: Box, raster: Raster) -> bool:
    """Whether a piece stands close to the grid, in the middle of a row or a column: elsewhere are headings."""
    at = beside(middle(box), raster.rows, raster.columns)
    if at is None or abs(at.off) > OFF:
        return False
    deep = box[3] - box[1] if at.side in ("top", "bottom") else box[2] - box[0]
    return at.away - deep / 2 <= FAR


def _solid(own: npt.NDArray[np.bool_], area: int) -> npt.NDArray[np.bool_] | None:
    """A plate with its figures filled in; None where a piece of ink is none: it is not convex, or its holes are no
    figures."""
    contours, _ = cv2.findContours(own.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    filled = np.zeros(own.shape, np.uint8)
    cv2.drawContours(filled, contours, -1, 1, cv2.FILLED)
    hull = cv2.fillConvexPoly(np.zeros(own.shape, np.uint8), cv2.convexHull(np.concatenate(contours)), 1)
    size = int(filled.sum())
    if size < CONVEX * int(hull.sum()) or not CUT[0] <= 1 - area / size <= CUT[1]:
        return None
    holes = ((filled > 0) & ~own).astype(np.uint8)
    _, _, stats, _ = cv2.connectedComponentsWithStats(holes, connectivity=8)
    large = [stat for stat in stats[1:].tolist() if stat[3] >= 0.2 * own.shape[0]]
    return filled > 0 if large and all(_is_figure(holes, stat) for stat in large) else None


def _is_figure(holes: npt.NDArray[np.uint8], stat: list[int]) -> bool:
    """Whether a hole is a figure: narrow, or not as full as the round or square hole of a letter."""
    x, y, width, height, area = stat
    if width <= SLENDER * height:
        return True
    part = holes[y : y + height, x : x + width]
    hull = cv2.fillConvexPoly(np.zeros(part.shape, np.uint8), cv2.convexHull(cv2.findNonZero(part)), 1)
    return height >= width * SLENDER and area <= HOLLOW * int(hull.sum())
