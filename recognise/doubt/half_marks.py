"""Patches in cells that have the colour of the page's filled squares or circles and are none whole.

A pale fill is ground and no ink: where half of a square is rubbed off or hidden, the rest is neither a mark nor ink
that nothing explains. So in each cell without a mark the place where one would stand is held against their fill. Around
it there is paper: a shadow goes on."""

from __future__ import annotations

from collections.abc import Iterator

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Point
from recognise.draft import Draft, Polygon, box_polygon
from recognise.evidence import Disc, Evidence, Flat
from recognise.geometry import box_at, filled, middle
from recognise.pixels.frame import Colours, Raster

ENOUGH = 3
"""Marks of one look that tell what the fill of the page's marks is."""
IN_MIDDLE = 0.12
"""In cells: how far from the middle of its cell a mark in it stands at most."""
NEAR = 0.35
"""As a part of what is between paper and fill: what is so near to the fill has its colour."""
PALE = 0.06
"""How much darker than paper a fill must be (0 to 1): the grain of paper is no darker."""
SHARE, FREE = 0.3, 0.6
"""Part of a mark's place that has its fill, for a part of one to stand there, and part that nothing else claims."""
RIM, AROUND, BESIDE = 0.04, 0.45, 0.04
"""In cells: the blur of a mark's edge, and half the side of what lies around it within its cell; the part of that which
may have its fill."""
WITHIN = 0.7
"""Part of a circle's radius that is half the side of the square in it."""
SMOOTH = 0.03
"""In cells: the grain of paper is finer."""


def half_marks(draft: Draft, seen: Evidence, relative: Colours, flat: Flat) -> Iterator[Polygon]:
    """The places in cells where a part of a filled mark stands. `relative` are colours as parts of the paper's, in the
    pixels of `flat`."""
    marks = [*_squares(seen), *_discs(seen)]
    if len(marks) < ENOUGH:
        return
    raster = Raster.of(flat)
    shade = cv2.GaussianBlur(relative.mean(axis=-1), (0, 0), max(SMOOTH * raster.cell, 0.5))
    fill = float(np.median([np.median(shade[raster.slices(box)]) for box in marks]))
    if 1 - fill < PALE:
        return
    half = float(np.median([(box[2] - box[0]) / 2 for box in marks]))
    outer = max(half, float(np.median([disc.radius for disc in _filled(seen)] or [0.0]))) + RIM
    alike = np.abs(shade - fill) <= NEAR * (1 - fill)
    free = filled(flat, [polygon for item in draft.items for polygon in item.claimed]) == 0
    own = {raster.cell_of(*middle(box)) for box in marks} | {tint.cell for tint in seen.tints}
    for cell in draft.grid.cells():
        if cell in own or cell in draft.givens:
            continue
        box = box_at(cell.centre, half)
        at = raster.slices(box)
        has_fill = free[at].mean() >= FREE and (alike & free)[at].mean() >= SHARE
        if has_fill and not _goes_on(cell.centre, outer, alike, raster):
            yield box_polygon(box)


def _goes_on(centre: Point, outer: float, alike: npt.NDArray[np.bool_], raster: Raster) -> bool:
    """Whether what has the fill of marks goes on around the place of one."""
    whole, inner = (alike[raster.slices(box_at(centre, reach))] for reach in (max(AROUND, outer + RIM), outer))
    return int(whole.sum()) - int(inner.sum()) > BESIDE * (whole.size - inner.size)


def _squares(seen: Evidence) -> list[Box]:
    return [s.box for s in seen.shapes if s.name == "square" and s.filled and _is_in_a_cell(s.box)]


def _discs(seen: Evidence) -> list[Box]:
    """Boxes within filled circles in cells."""
    return [box_at(disc.centre, WITHIN * disc.radius) for disc in _filled(seen)]


def _filled(seen: Evidence) -> list[Disc]:
    return [disc for disc in seen.discs if disc.fill is not None and _is_in_a_cell(box_at(disc.centre, disc.radius))]


def _is_in_a_cell(box: Box) -> bool:
    return all(abs(at % 1 - 0.5) <= IN_MIDDLE for at in middle(box))
