"""Figures that were lost beside small numbers: of two digits in a circle on a corner, or of a cage's total of two, one
may be missed, and what is left is a number all the same. The guard that looks at all ink does not see such a figure: it
stands within the room of the circle's claim, or between those of the number and of the cage's line.

Here the ink right beside each small number is looked at by itself: a piece as high as the number's figures, on its
line, that nothing else claims."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.draft import Draft, Polygon, box_polygon
from recognise.evidence import Glyph
from recognise.geometry import bounds, middle, overlap, within
from recognise.pixels.frame import Grey, Mask, Raster

SMALL = 0.45
"""In cells: numbers are looked at that are no higher; larger ones the guard of all ink sees to."""
LEAST = 6
"""Pixels: of a number that is lower, no piece can be told from a speck."""
ASIDE, ABOVE = 1.3, 0.4
"""As parts of a number's height: how far to its sides, and above and below it, is looked."""
GAP, LEVEL = 0.6, 0.25
"""As parts of its height: how far off it its next figure stands at most, and how much higher or lower."""
HIGH, WIDE = (0.6, 1.3), (0.12, 1.0)
"""As parts of its height, those of another figure of it, and its width."""
DARK = 0.5
"""The part of the ink of the number that ink of another figure of it has at least."""
EXTREMES = (5, 95)
"""Percentiles of the ink in the box of a number: that of its strokes lies farther from its ground than the other."""
OWN = 0.08
"""As a part of its height: how far the ink of a number may stand outside its box."""
INNER, WITHIN = 0.86, 0.75
"""As parts of a circle's radius: how far from its middle its digits reach and its rim does not, and
how far the ink of a digit stands on average."""
OUTER, ARC = 0.6, 0.06
"""As a part of its radius, how far out a slice of a rim lies; and as a part of the slice's height, how much farther out
some of its ink lies than the rest (one standard deviation), for it is bent as the circle is."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """Ink that hangs together: its box and its pixels (n x 2), in cells."""

    box: Box
    ink: npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class _Number:
    """A small number, and the circle in which it stands, if it stands in one."""

    box: Box
    around: Polygon | None

    @property
    def height(self) -> float:
        return self.box[3] - self.box[1]

    @property
    def on_line(self) -> bool:
        """Whether it stands on a lattice line, which print leaves out there: what is left of it are pieces that go on
        beyond the number, or lie flat."""
        return any(math.floor(low) < math.floor(high) for low, high in zip(self.box[:2], self.box[2:], strict=True))


def lost_figures(draft: Draft, glyphs: Iterable[Glyph], ink: Grey, lattice: Mask, raster: Raster) -> Iterator[Box]:
    """Boxes, in cells, of what may be further figures of small numbers. `ink` is that of all the picture, 0 to 1, and
    `lattice` the pixels that lattice lines cover."""
    claimed = [(polygon, bounds(polygon)) for item in draft.items for polygon in item.claimed]
    claimed += [(d.where, bounds(d.where)) for d in draft.doubts if d.where is not None]
    own = {polygon: item for item in draft.items for polygon in item.claimed}
    written = {box_polygon(glyph.box) for glyph in glyphs}
    small = (g for g in glyphs if g.text.isdigit() and g.size <= SMALL and g.size * raster.cell >= LEAST)
    for glyph in small:
        item = own.get(box_polygon(glyph.box))
        if item is not None:
            around = next((p for p, box in claimed if len(p) > 4 and within(glyph.box, box)), None)
            lines = (polygon for polygon in item.claimed if polygon not in written)
            lying = {polygon for polygon in lines if _is_line_above(bounds(polygon), glyph.box)}
            others = [each for each in claimed if each[0] != around and each[0] not in lying]
            yield from _beside(_Number(glyph.box, around), others, ink, lattice, raster)


def _is_line_above(box: Box, number: Box) -> bool:
    """Whether it is the strip of a cage's line in which its total stands, or below which: print leaves it out there."""
    return box[2] - box[0] > number[2] - number[0] and box[3] - box[1] < number[3] - number[1]


def _beside(
    number: _Number, claimed: Sequence[tuple[Polygon, Box]], ink: Grey, lattice: Mask, raster: Raster
) -> Iterator[Box]:
    left, top, right, bottom = number.box
    high = number.height
    window = (left - ASIDE * high, top - ABOVE * high, right + ASIDE * high, bottom + ABOVE * high)
    part = raster.slices(window)
    if ink[part].size == 0 or ink[raster.slices(number.box)].size == 0:
        return
    ink = _as_dark(number, ink, raster)
    seen, own = ink[part], ink[raster.slices(number.box)]
    origin = part[1].start, part[0].start
    left_over = seen >= max(DARK * float(np.percentile(own, 95)), float(np.percentile(seen, 30)) + 0.1)
    others = [polygon for polygon, box in claimed if overlap(box, window)]
    grown = OWN * high
    others.append(box_polygon((left - grown, top - high, right + grown, bottom + high)))
    left_over &= ~_filled(others, left_over.shape, origin, raster)
    if number.around is not None:
        left_over &= _filled([_shrunk(number.around)], left_over.shape, origin, raster)
    elif not number.on_line:
        left_over &= ~lattice[part]
    yield from (piece.box for piece in _pieces(left_over, origin, raster) if _is_figure(piece, number))


def _as_dark(number: _Number, ink: Grey, raster: Raster) -> Grey:
    """How far what lies about a number stands out as its figures do, 0 to 1: by its ink, or, where the number stands
    light on a dark disc, by what it lacks of that of the disc."""
    if number.around is None:
        return ink
    part = raster.slices(bounds(number.around))
    inside = _filled([_shrunk(number.around)], ink[part].shape, (part[1].start, part[0].start), raster)
    if not inside.any():
        return ink
    ground = float(np.median(ink[part][inside]))
    light, dark = np.percentile(ink[raster.slices(number.box)], EXTREMES)
    return np.clip(ground - ink, 0, 1) if ground - light > dark - ground else ink


def _pieces(mask: Mask, origin: tuple[int, int], raster: Raster) -> Iterator[_Piece]:
    """What hangs together in a window and does not go on beyond it."""
    count, labels, stats, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8), connectivity=8)
    for label, (x, y, width, height, _) in enumerate(stats[1:count].tolist(), start=1):
        if min(x, y) > 0 and y + height < mask.shape[0] and x + width < mask.shape[1]:
            own = np.argwhere(labels[y : y + height, x : x + width] == label)[:, ::-1] + (x, y)
            box = raster.box(origin[0] + x, origin[1] + y, width, height)
            yield _Piece(box, (own + origin + 0.5 - raster.origin) / raster.cell)


def _is_figure(piece: _Piece, number: _Number) -> bool:
    high, own = number.height, piece.box
    wide, tall = (own[2] - own[0]) / high, (own[3] - own[1]) / high
    gap = max(own[0] - number.box[2], number.box[0] - own[2]) / high
    off = abs(middle(own)[1] - middle(number.box)[1]) / high
    like_one = HIGH[0] <= tall <= HIGH[1] and WIDE[0] <= wide <= WIDE[1]
    return like_one and gap <= GAP and off <= LEVEL and _is_within(piece, number.around)


def _is_within(piece: _Piece, around: Polygon | None) -> bool:
    """Whether a piece stands in a circle, if there is one, as digits do: a slice of its rim has its ink farther out,
    also where the circle was measured too large, or all as far out: a 1 as high is nearer to the middle by half."""
    if around is None:
        return True
    left, top, right, bottom = bounds(around)
    radius = max(right - left, bottom - top) / 2
    out = np.linalg.norm(piece.ink - ((left + right) / 2, (top + bottom) / 2), axis=1)
    if out.mean() > OUTER * radius and out.std() < ARC * (piece.box[3] - piece.box[1]):
        return False
    return float(out.mean()) <= WITHIN * radius


def _shrunk(polygon: Polygon) -> Polygon:
    x, y = middle(bounds(polygon))
    return tuple((x + INNER * (px - x), y + INNER * (py - y)) for px, py in polygon)


def _filled(polygons: Iterable[Polygon], shape: tuple[int, ...], origin: tuple[int, int], raster: Raster) -> Mask:
    mask = np.zeros(shape, np.uint8)
    for polygon in polygons:
        points = np.asarray(polygon, np.float64) * raster.cell + raster.origin - origin
        cv2.fillPoly(mask, [np.rint(points).astype(np.int32)], 1)
    return mask > 0
