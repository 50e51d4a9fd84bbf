"""Frames that print sets round numbers: a thin box, tag or ring with one number in it and nothing else.

A frame is found from the side of the paper: the patch of paper on which the number stands is enclosed by ink all round,
and has the shape of a box or of a circle. Where there is none, the patch runs on into the cells or the margin."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Colour, Point
from recognise.evidence import Disc, Shape
from recognise.geometry import box_at, extent, middle
from recognise.pixels.frame import Colours, Grey, Raster

REACH = 0.62
"""In cells: how far from the middle of its number a frame reaches at most; one clue's would touch the next clue's."""
INKED = 2.0
"""So many times what noise reaches is the ink of a frame, which is often paler than its number."""
PALE, TIGHT = 0.4, 0.5
"""Part of the darkest ink around a number from which on ink belongs to its frame, at most, and where the frame stands
so close that the blur of both meets."""
GAP = 0.03
"""In cells: worn thin lines have gaps of this size."""
LINE = 0.1
"""In cells: the line of a frame is no wider."""
AT_GRID = 0.1
"""In cells: so near to the grid the ink of what touches it ends, its own line being taken out."""
ENDS = 0.3
"""As a part of a side of a frame: how far from its ends its line is measured, where neither rounded corners nor lattice
lines are."""
BOX, ANGULAR, ROUND = 0.9, 0.82, 0.68
"""Part of its rectangle that the hull of the inside of a box covers at least, of a tag with a point, and of a ring; a
circle covers 0.785."""
CORNER = 0.12
"""As a part of its sides: the squares in the corners of a ring's rectangle that lie outside of it as a whole; a tag
fills two of them and more, a box all."""
ASPECT = 1.2
"""A ring is no longer than this times its width."""
HOLLOW, HELD = 0.5, 0.35
"""A piece is a frame when it encloses this part of its rectangle, and what stands inside is this tall as a part of it:
no character encloses as much of another one."""
BOXED, SMALL_HELD = 0.75, 0.2
"""The same of a box: it encloses more than any character does, and numbers in it may be small."""
THIN, CIRCULAR = 0.72, 1.1
"""Part of its hull that the hole of a ring takes up whose number is smaller than that, and by what factor it is longer
than wide at most: a nought is taller, or its stroke takes more."""
BETWEEN = 0.04
"""In cells: half the side of a place between the figures in a capsule."""
FAINTER = 0.5
"""As a part of that ink: where the line of a capsule is fainter it has gaps."""
CAPSULE, OFF_PLACE = (-0.035, 0.055), 0.03
"""By how much less and more the hull of the inside of a capsule may cover of its rectangle than one does (that of few
pixels covers more), and in cells, how far off its place its middle lies at most."""
POINTED = 0.65
"""The same of a tag with a point: hardly anything of a nought that covers as much of its rectangle is its stroke."""

Mask = npt.NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Frame:
    """A frame by the outer side of its line, in cells; `inside` is the box of the paper in it, `is_round` tells a ring
    from a box; what is not quite round may be a tag with a point, and is no ring where it is long."""

    box: Box
    inside: Box
    is_round: bool
    colour: Colour
    may_be_tag: bool = False
    is_long: bool = False

    def mark(self, as_tag: bool = False) -> Disc | Shape:
        """The frame as evidence."""
        x0, y0, x1, y1 = self.box
        if self.is_round and not as_tag:
            return Disc(middle(self.box), (x1 - x0 + y1 - y0) / 4, None, self.colour, "shape")
        return Shape("square", self.box, self.colour, "shape", filled=False)


def frame_around(
    number: Box,
    ink: Grey,
    relative: Colours,
    raster: Raster,
    floor: float,
    *,
    about: bool = False,
    largest: bool = False,
) -> Frame | None:
    """The frame round a number whose box is given in cells, or a box `about` which it stands, which may reach into the
    line of the frame, or the `largest` round one of its figures, which the next one may seem to close; None where it
    stands in none. `ink` holds all ink, lattice lines too: on an edge they end at the
    frame."""
    x, y = middle(number)
    window = raster.slices((x - REACH, y - REACH, x + REACH, y + REACH))
    part = ink[window]
    if not part.size:
        return None
    size = 2 * max(1, round(GAP / 2 * raster.cell)) + 1

    def closed(level: float) -> Mask:
        inked = (part > level).astype(np.uint8)
        return np.asarray(cv2.morphologyEx(inked, cv2.MORPH_CLOSE, np.ones((size, size), np.uint8)), np.uint8)

    pale = max(INKED * floor, PALE * min(PALE, float(part.max())))
    tight = (part > TIGHT * float(np.percentile(part, 98))).astype(np.uint8)
    ways = (closed(pale), tight, closed(INKED * floor)) if about else (closed(pale), tight)
    found = (_frame(inked, window, number, relative, raster, about) for inked in ways)
    frames = (frame for frame in found if frame is not None)
    return max(frames, key=lambda frame: extent(frame.inside), default=None) if largest else next(frames, None)


def _frame(
    inked: Mask, window: tuple[slice, slice], number: Box, relative: Colours, raster: Raster, about: bool
) -> Frame | None:
    """The frame that the ink in a window of the picture makes round a number; see `frame_around`."""
    top, left = window[0].start, window[1].start
    own = _within(raster.slices(number), (top, left))
    patch = _patch(inked, own)
    if patch is not None and about:
        patch &= 1 - inked  # where that box reaches into the line of a ring it makes no box of it
    if patch is None or not patch.any():
        return None
    rows, columns = np.flatnonzero(patch.any(axis=1)), np.flatnonzero(patch.any(axis=0))
    y0, y1, x0, x1 = int(rows[0]), int(rows[-1]) + 1, int(columns[0]), int(columns[-1]) + 1
    apart = y0 < own[0].start and own[0].stop < y1 and x0 < own[1].start and own[1].stop < x1
    holds = _is_walled(inked, (x0, y0, x1, y1), raster) if about else apart
    line = _line(inked, (x0, y0, x1, y1), raster)
    if not holds or line is None:
        return None
    covered = _hull(patch) / ((y1 - y0) * (x1 - x0))
    is_round = covered < BOX
    is_long = max(x1 - x0, y1 - y0) > ASPECT * min(x1 - x0, y1 - y0)
    may_be_tag = covered >= ANGULAR and _corners(patch[y0:y1, x0:x1]) >= 2 and not about
    if is_round and (covered < ROUND or (is_long and not may_be_tag)):
        return None
    box = raster.box(left + x0 - line, top + y0 - line, x1 - x0 + 2 * line, y1 - y0 + 2 * line)
    inside = raster.box(left + x0, top + y0, x1 - x0, y1 - y0)
    return Frame(box, inside, is_round, _colour(relative[window], patch), may_be_tag, is_long)


def capsule_around(place: Point, ink: Grey, relative: Colours, raster: Raster) -> Frame | None:
    """The capsule, two straight lines between half circles, in the middle of which a place on the lattice lies; None
    where none is seen. Its line is not closed where it has gaps: figures in it stand close to its ends."""
    window = raster.slices(box_at(place, REACH))
    part = ink[window]
    if not part.size:
        return None
    dark = min(PALE, TIGHT * float(np.percentile(part, 98)))
    levels = ((part > share * dark).astype(np.uint8) for share in (1.0, FAINTER))
    found = (_capsule(inked, window, place, relative, raster) for inked in levels)
    return next((capsule for capsule in found if capsule is not None), None)


def _capsule(inked: Mask, window: tuple[slice, slice], place: Point, relative: Colours, raster: Raster) -> Frame | None:
    """The capsule that the ink in a window of the picture makes about a place."""
    top, left = window[0].start, window[1].start
    patch = _patch(inked, _within(raster.slices(box_at(place, BETWEEN)), (top, left)))
    if patch is None or not patch.any():
        return None
    rows, columns = np.flatnonzero(patch.any(axis=1)), np.flatnonzero(patch.any(axis=0))
    y0, y1, x0, x1 = int(rows[0]), int(rows[-1]) + 1, int(columns[0]), int(columns[-1]) + 1
    inside = raster.box(left + x0, top + y0, x1 - x0, y1 - y0)
    off = max(abs(a - b) for a, b in zip(middle(inside), place, strict=True))
    short, long = sorted((x1 - x0, y1 - y0))
    covers = 1 - (1 - math.pi / 4) * short / long
    is_capsule = long > ASPECT * short and CAPSULE[0] <= _hull(patch) / (short * long) - covers <= CAPSULE[1]
    line = _line(inked, (x0, y0, x1, y1), raster)
    if off > OFF_PLACE or not is_capsule or line is None:
        return None
    box = raster.box(left + x0 - line, top + y0 - line, x1 - x0 + 2 * line, y1 - y0 + 2 * line)
    return Frame(box, inside, False, _colour(relative[window], patch), is_long=True)


def _is_walled(inked: Mask, inside: tuple[int, int, int, int], raster: Raster) -> bool:
    """Whether a thin line runs along all four sides of a box, on both sides of their middles: digits round the place
    where a number stands enclose that as well."""
    widths = _widths(inked, inside, (ENDS, 1 - ENDS))
    return sum(0 < width <= LINE * raster.cell for width in widths) >= len(widths) - 1


def _hull(patch: Mask) -> float:
    """The area of the convex hull of a patch, in pixels."""
    contours, _ = cv2.findContours(patch, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    hull = cv2.convexHull(np.concatenate(contours))
    return float(cv2.contourArea(hull)) + cv2.arcLength(hull, True) / 2 + 1


def _corners(patch: Mask) -> int:
    """How many corners of its rectangle the convex hull of a patch fills."""
    contours, _ = cv2.findContours(patch, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    hull = cv2.fillConvexPoly(np.zeros_like(patch), cv2.convexHull(np.concatenate(contours)), 1)
    high, wide = (max(1, round(CORNER * size)) for size in patch.shape)
    return sum(2 * hull[down, across].sum() > high * wide for down in _ends(high) for across in _ends(wide))


def _ends(size: int) -> tuple[slice, slice]:
    return slice(None, size), slice(-size, None)


def _within(slices: tuple[slice, slice], start: tuple[int, int]) -> tuple[slice, slice]:
    rows, columns = (slice(max(0, s.start - o), max(0, s.stop - o)) for s, o in zip(slices, start, strict=True))
    return rows, columns


def _patch(inked: Mask, own: tuple[slice, slice]) -> Mask | None:
    """The paper on which a number stands, the number itself filled in; None where it runs out of the window."""
    number = np.zeros_like(inked)
    number[own] = 1
    paper = ((inked == 0) | (number > 0)).astype(np.uint8)
    _, labels, stats, _ = cv2.connectedComponentsWithStats(paper, connectivity=4)
    label = int(np.bincount(labels[own][labels[own] > 0].ravel()).argmax()) if (labels[own] > 0).any() else 0
    if label == 0:
        return None
    x, y, width, height, _ = stats[label]
    if x == 0 or y == 0 or x + width == inked.shape[1] or y + height == inked.shape[0]:
        return None
    return np.asarray(labels == label, np.uint8)


def _line(inked: Mask, inside: tuple[int, int, int, int], raster: Raster) -> int | None:
    """How wide the line round a patch is, in pixels: the thinnest of its sides, for lattice lines touch the others, and
    all four in their middles where it stands on a corner; None where the patch is no hole in a thin line but one in a
    broad mark."""
    # A ring is round: beside the middles of its sides its line is nearer than its box.
    thin = min((width for width in _widths(inked, inside, (0.5, ENDS)) if width), default=0)
    return thin if 0 < thin <= LINE * raster.cell else None


def _widths(inked: Mask, inside: tuple[int, int, int, int], parts: Sequence[float]) -> list[int]:
    """How far ink goes on outwards from each side of a box, in pixels, at some parts of the side."""
    x0, y0, x1, y1 = inside
    ways = []
    for part in parts:
        y, x = round(y0 + part * (y1 - 1 - y0)), round(x0 + part * (x1 - 1 - x0))
        ways += [inked[y, x0 - 1 :: -1], inked[y, x1:], inked[y0 - 1 :: -1, x], inked[y1:, x]]
    return [int(np.argmin(way)) if not way.all() else len(way) for way in ways]


def _colour(relative: Colours, patch: Mask) -> Colour:
    around = (cv2.dilate(patch, np.ones((5, 5), np.uint8)) > 0) & (patch == 0)
    red, green, blue = (round(255 * float(v)) for v in np.median(relative[around], axis=0))
    return red, green, blue


def hollow_round_others(
    labels: npt.NDArray[np.integer[Any]], stats: npt.NDArray[np.integer[Any]], chosen: Sequence[int], raster: Raster
) -> set[int]:
    """The labels among `chosen` that are frames: hollow, closed, with another of them inside. `stats` holds x, y, width
    and height of every label. A frame whose point touches the grid is closed by its line, which is taken out."""
    places = stats[list(chosen), :4].astype(np.int64).reshape(-1, 4)
    start, size = places[:, :2], places[:, 2:]
    end = start + size
    (left, top), (right, bottom) = start.T, end.T
    inside = (left[:, None] < left) & (top[:, None] < top) & (right < right[:, None]) & (bottom < bottom[:, None])
    tallest = np.where(inside, size[:, 1], -1).max(axis=1, initial=-1)
    frames = set()
    for at in np.flatnonzero((tallest >= 0) & (tallest >= SMALL_HELD * size[:, 1])).tolist():
        index = int(chosen[at])
        x, y, width, height = (int(v) for v in stats[index][:4])
        own = np.pad((labels[y : y + height, x : x + width] == index).astype(np.uint8), 2)
        hull = _hull(own)
        pointed, squarish = hull >= ANGULAR * width * height, max(width, height) <= CIRCULAR * min(width, height)
        _close_at_grid(own, (x, y, x + width, y + height), raster)
        closed = cv2.morphologyEx(own, cv2.MORPH_CLOSE, np.ones((3, 3), np.uint8))
        least = HOLLOW if tallest[at] >= HELD * height else POINTED if pointed else BOXED
        hole = _largest_hole(closed)
        if hole >= least * width * height or (squarish and hole >= THIN * hull):
            frames.add(index)
    return frames


def _largest_hole(ink: Mask) -> float:
    """The area of the largest hole in a piece of ink, with all that stands in it."""
    contours, nesting = cv2.findContours(ink, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    holes = (one for one, (*_, outer) in zip(contours, nesting[0], strict=True) if outer >= 0)
    # The contour of a hole runs through the ink round it.
    return max((cv2.contourArea(one) - cv2.arcLength(one, True) / 2 for one in holes), default=0.0)


def _close_at_grid(own: Mask, box: tuple[int, int, int, int], raster: Raster) -> None:
    """Close a piece of ink on the side where it comes close to the grid. `own` has two pixels more on each side than
    its `box`."""
    rows, columns = raster.grid_slices()
    (x0, y0, x1, y1), near = box, AT_GRID * raster.cell
    if 0 <= rows.start - y1 <= near:
        own[-2] = 1
    if 0 <= y0 - rows.stop <= near:
        own[1] = 1
    if 0 <= columns.start - x1 <= near:
        own[:, -2] = 1
    if 0 <= x0 - columns.stop <= near:
        own[:, 1] = 1


def frames_of_all(
    numbers: Sequence[Box], ink: Grey, relative: Colours, raster: Raster, floor: float
) -> list[Disc | Shape]:
    """The frames of numbers of one family: rings wherever one is, boxes only where every number stands in one: that is
    how the page sets them, and a lone box would be a mark. Nor are rings tags with a point unless all are."""
    found = [frame_around(number, ink, relative, raster, floor) for number in numbers]
    frames = [frame for frame in found if frame is not None]
    if frames and len(frames) == len(numbers) and all(frame.may_be_tag for frame in frames):
        return [frame.mark(as_tag=True) for frame in frames]
    boxes = [frame for frame in frames if not frame.is_round]
    kept = boxes if len(boxes) == len(numbers) else []
    rings = [frame for frame in frames if frame.is_round and not frame.is_long]
    return [frame.mark() for frame in (*kept, *rings)]
