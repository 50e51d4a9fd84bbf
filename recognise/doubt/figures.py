"""Figures that were lost beside small numbers: of two digits in a circle on a corner, or of a cage's total of two, one
may be missed, and what is left is a number all the same. The guard that looks at all ink does not see such a figure: it
stands within the room of the circle's claim, or between those of the number and of the cage's line.

Here the ink right beside each small number is looked at by itself: a piece as high as the number's figures, on its
line, that nothing else claims."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from ingest.page import Box
from recognise.draft import Draft, Polygon, box_polygon
from recognise.evidence import Glyph
from recognise.geometry import bounds, middle, overlap, within
from recognise.pixels.frame import Grey, Mask, Raster

SMALL = 0.45
"""In cells: numbers are looked at that are no higher; larger ones the guard of all ink sees to."""
LEAST = 6
"""Pixels: of a number that is lower, no piece can be told from a speck."""
ASIDE, ABOVE = 1.1, 0.4
"""As parts of a number's height: how far to its sides, and above and below it, is looked."""
GAP, LEVEL = 0.5, 0.25
"""As parts of its height: how far off it its next figure stands at most, and how much higher or lower."""
HIGH, WIDE = (0.6, 1.3), (0.12, 1.0)
"""As parts of its height, those of another figure of it, and its width."""
DARK = 0.5
"""The part of the ink of the number that ink of another figure of it has at least."""
OWN = 0.08
"""As a part of its height: how far the ink of a number may stand outside its box."""
INNER = 0.86
"""The part of a circle, from its middle, in which its digits stand and its rim does not."""


@dataclass(frozen=True, slots=True)
class _Number:
    """A small number, and the circle in which it stands, if it stands in one."""

    box: Box
    around: Polygon | None

    @property
    def height(self) -> float:
        return self.box[3] - self.box[1]


def lost_figures(draft: Draft, glyphs: Iterable[Glyph], ink: Grey, lattice: Mask, raster: Raster) -> Iterator[Box]:
    """Boxes, in cells, of what may be further figures of small numbers. `ink` is that of all the picture, 0 to 1, and
    `lattice` the pixels that lattice lines cover."""
    claimed = [(polygon, bounds(polygon)) for item in draft.items for polygon in item.claimed]
    claimed += [(d.where, bounds(d.where)) for d in draft.doubts if d.where is not None]
    known = {polygon for polygon, _ in claimed}
    small = (g for g in glyphs if g.text.isdigit() and g.size <= SMALL and g.size * raster.cell >= LEAST)
    for glyph in small:
        if box_polygon(glyph.box) in known:
            around = next((p for p, box in claimed if len(p) > 4 and within(glyph.box, box)), None)
            yield from _beside(_Number(glyph.box, around), claimed, ink, lattice, raster)


def _beside(
    number: _Number, claimed: Sequence[tuple[Polygon, Box]], ink: Grey, lattice: Mask, raster: Raster
) -> Iterator[Box]:
    left, top, right, bottom = number.box
    high = number.height
    window = (left - ASIDE * high, top - ABOVE * high, right + ASIDE * high, bottom + ABOVE * high)
    part = raster.slices(window)
    seen = ink[part]
    own = ink[raster.slices(number.box)]
    if seen.size == 0 or own.size == 0:
        return
    origin = part[1].start, part[0].start
    left_over = seen >= max(DARK * float(np.percentile(own, 95)), float(np.percentile(seen, 30)) + 0.1)
    others = [polygon for polygon, box in claimed if polygon is not number.around and overlap(box, window)]
    grown = OWN * high
    others.append(box_polygon((left - grown, top - high, right + grown, bottom + high)))
    left_over &= ~_filled(others, left_over.shape, origin, raster)
    if number.around is None:
        left_over &= ~lattice[part]
    else:
        left_over &= _filled([_shrunk(number.around)], left_over.shape, origin, raster)
    yield from (box for box in _pieces(left_over, origin, raster) if _is_figure(box, number))


def _pieces(mask: Mask, origin: tuple[int, int], raster: Raster) -> Iterator[Box]:
    """Boxes of what hangs together in a window and does not go on above or below it."""
    count, _, stats, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8), connectivity=8)
    for x, y, width, height, _ in stats[1:count].tolist():
        if y > 0 and y + height < mask.shape[0]:
            yield raster.box(origin[0] + x, origin[1] + y, width, height)


def _is_figure(piece: Box, number: _Number) -> bool:
    high = number.height
    wide, tall = (piece[2] - piece[0]) / high, (piece[3] - piece[1]) / high
    gap = max(piece[0] - number.box[2], number.box[0] - piece[2]) / high
    off = abs(middle(piece)[1] - middle(number.box)[1]) / high
    return HIGH[0] <= tall <= HIGH[1] and WIDE[0] <= wide <= WIDE[1] and gap <= GAP and off <= LEVEL


def _shrunk(polygon: Polygon) -> Polygon:
    x, y = middle(bounds(polygon))
    return tuple((x + INNER * (px - x), y + INNER * (py - y)) for px, py in polygon)


def _filled(polygons: Iterable[Polygon], shape: tuple[int, ...], origin: tuple[int, int], raster: Raster) -> Mask:
    mask = np.zeros(shape, np.uint8)
    for polygon in polygons:
        points = np.asarray(polygon, np.float64) * raster.cell + raster.origin - origin
        cv2.fillPoly(mask, [np.rint(points).astype(np.int32)], 1)
    return mask > 0
