"""Ink that stands on a mark: what the other guard takes for the mark's own, because the mark claims its place.

A tube, a circle or a square covers the middle of its cells, where a given would stand. In each cell in which none was
read, the ground of the mark is looked at by itself: ink that is clearly darker than the rest of it (or lighter, on a
dark mark) and larger than dust is a place that a person must look at."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.doubt.outlines import ALIKE, ends, inner_corners, without_outlines
from recognise.draft import Draft, Given, Item, Polygon, box_polygon
from recognise.evidence import Flat
from recognise.geometry import Window, bounds, box_at, disc_polygon, filled, window_of
from schema.cells import Cell
from schema.kinds.unread_mark import UnreadMark

Mask = npt.NDArray[np.uint8]
Grey = npt.NDArray[np.float32]

WIDE = 0.24
"""In cells: marks narrower than this hide no character; what stands on them sticks out and is found beside them."""
LINE = 0.36
"""In cells: what is narrower has no room for a character but the stroke of a 1; where it runs over another mark it is
looked at by itself, as where it runs over paper."""
CAPSULE = 1.5
"""In cells: a box that is so long, and no wider than a cell, is a capsule, which goes round two cells at least; bands
of lines go to the next, and areas of several rows and columns have square corners, in which a given may stand."""
WALL = 0.11
"""In cells: the rim of a mark that is not looked at: the slack of its claim, its outline, and their blur."""
RIM = 0.04
"""In cells: blur inside of a mark's outline."""
DEEP, WALLS = 0.35, 0.14
"""From this part of its greatest depth on the tone of a mark is taken; its outline reaches so many cells at most."""
ROUND_ABOUT = (40, 60)
"""Percentiles of the ink at one depth that an outline changes both, as it runs all round; a character seldom does."""
HEART, ENOUGH, FULLER = 0.55, 3, 0.15
"""Circles are compared by the middle of each (a part of the radius), with those of about its radius, where there are
enough; one that has so much more of its middle inked holds something. A line that ends in it takes up less."""
WITHIN, SLACK = 0.62, 0.03
"""Where lines of other marks run through a circle, a larger round part of it is looked at, for they leave little of its
heart; and, in cells, how much of their claims is no ink."""
LEAST_FREE = 0.25
"""The part of a circle's middle that nothing else claims; of less, only rims of what does are left."""
MIDDLE = 0.25
"""In cells: how far from the middle of its cell a circle that hides a given may lie; dots between cells hide none."""
BORDER = 0.09
"""In cells: what is nearer to a lattice line may be a rest of it."""
CLAIM = 0.01
"""In cells: how far the ink of a thin mark may stand outside its claim, which has room for blur already."""
LEAST_GROUND = 0.015
"""In square cells: less of a mark shows nothing."""
SMOOTH = 0.025
"""In cells: the dots of a halftone and the grain of paper are finer than this, the strokes of a character are not."""
STRONG = 0.16
"""Ink (0 to 1) by which something must stand out from the mark at least."""
SHARE = 0.3
"""The same, as a part of what the darkest ink would stand out by: characters are printed in the page's full ink."""
NOISE = 4.0
"""Times the spread of the mark's own ground."""
DARK = 0.6
"""Ink from which on a mark is dark enough that a character is set in white on it."""
DASH = 75
"""Percentile of the ink on dashed lines that is their dashes': a third of them is gaps, and no more than a few cells
hold a character."""
STROKE = 0.1
"""In cells: half the width of the strokes of the fattest given at most. What is thicker on a mark that vectors draw is
its shading, the overlap of two marks that let see through, or a disc set in it."""
AREA, EXTENT = 0.014, 0.1
"""In square cells, and in cells: what is smaller is dust; what a narrow mark hides of a thin 1 is larger."""


GIVEN = 0.1
"""In cells: so far around the middle of its cell every given has ink."""


def hidden_ink(
    drawn: Grey,
    flat: Flat,
    draft: Draft,
    broken: Sequence[Polygon] = (),
    by_vectors: bool = False,
    dashed: Sequence[Polygon] = (),
) -> Iterator[tuple[Cell, Box]]:
    """Each cell in which something stands on a mark that no item accounts for, with its box in cells. `drawn` is ink
    from 0 to 1 in the pixels of `flat` without the lattice's lines; `broken` are outlines of dashed and of hollow lines
    that a PDF draws, in which ink and paper take turns, `dashed` those of dashed lines in a picture. Where vectors draw
    the marks, what stands in those on edges and corners is known, how inked circles are does not tell, and only the
    strokes of givens are looked for."""
    marks = [item for item in draft.items if _is_mark(item)]
    parted = [_parted(item.claimed) for item in marks]
    if by_vectors:
        parted = [_parted_by_place(wide, thin) for wide, thin in parted]
    known = [polygon for item in draft.items if not _is_mark(item) for polygon in item.claimed]
    known += [doubt.where for doubt in draft.doubts if doubt.where is not None]
    known += broken
    smooth = np.asarray(cv2.GaussianBlur(drawn, (0, 0), max(0.8, SMOOTH * flat.cell)), np.float32)
    explained = _grown(filled(flat, [*(p for _, thin in parted for p in thin), *known]), CLAIM, flat.cell)
    wide = [polygons for polygons, _ in parted if polygons]
    layers = _layers(smooth, flat, wide, ~explained, dashed)
    if not layers:
        return
    drawn = smooth if by_vectors else without_outlines(smooth, flat, wide, ~explained)
    circles = [] if by_vectors else list(_circles([wide for wide, _ in parted]))
    full = _fuller(circles, smooth, ~explained, flat, draft)
    for cell in draft.grid.cells():
        if cell in draft.givens:
            continue
        if cell in full:
            yield cell, full[cell]
            continue
        x0, y0 = (round((v - 1 + BORDER + flat.margin) * flat.cell) for v in (cell.column, cell.row))
        x1, y1 = (round((v - BORDER + flat.margin) * flat.cell) for v in (cell.column, cell.row))
        window = slice(y0, y1), slice(x0, x1)
        found = (_standing_out(drawn, on, window, flat.cell, by_vectors, least) for on, least in layers)
        box = next((box for box in found if box is not None), None)
        if box is not None:
            corner = x0 / flat.cell - flat.margin, y0 / flat.cell - flat.margin
            left, top, right, bottom = (corner[n % 2] + at / flat.cell for n, at in enumerate(box))
            yield cell, (left, top, right, bottom)


Layer = tuple[npt.NDArray[np.bool_], float | None]
"""Ground on which a character stands out, and the ink from which on it does where that is known."""
Ground = tuple[Window, npt.NDArray[np.bool_]]
"""The window in which a mark lies, and its ground there."""


def _layers(
    ink: Grey,
    flat: Flat,
    marks: Sequence[Sequence[Polygon]],
    free: npt.NDArray[np.bool_],
    dashed: Sequence[Polygon],
) -> list[Layer]:
    """The ground of all marks that is `free`, that of light ones and of dark ones by itself; by itself that of lines
    that run over the ground of others (what these are darker by is no character in a circle that one of them ends in),
    and that of `dashed` lines, whose gaps are paper. Nothing where there is no ground."""
    lines, wide = (np.zeros(ink.shape, np.uint16) for _ in range(2))
    seen: list[tuple[Ground, Mask, Mask]] = []
    for polygons in marks:
        window, ground = _ground(ink, flat, polygons)
        of_stroke = filled(flat, [p for p in polygons if _is_stroke(p)])[window]
        of_others = filled(flat, [p for p in polygons if not _is_stroke(p)])[window]
        lines[window] += of_stroke
        wide[window] += of_others
        seen.append(((window, ground), of_stroke, of_others))
    own, crossed = (np.zeros(ink.shape, bool) for _ in range(2))
    grounds: list[Ground] = []
    for (window, ground), of_stroke, of_others in seen:
        own[window] |= ground & (of_stroke > 0)
        crossed[window] |= ground & (lines[window] > of_stroke)
        # The rim of a circle that lies on a line shows the circle's paper.
        grounds.append((window, ground & ~((of_stroke > 0) & (wide[window] > of_others))))
    layers = [ground & ~crossed & free for ground in _by_tone(ink, grounds, free)]
    if not layers:
        return []
    layers.append(own & crossed & free)
    dashes = np.logical_or.reduce(layers) & (filled(flat, dashed) > 0)
    darkest = _darker_than_dashes(ink, dashes)
    if darkest is None:
        return [(layer, None) for layer in layers]
    return [*((layer & ~dashes, None) for layer in layers), (dashes, darkest)]


def _by_tone(ink: Grey, grounds: Iterable[Ground], free: npt.NDArray[np.bool_]) -> list[npt.NDArray[np.bool_]]:
    """The grounds of marks put together where they are about as dark as the lightest of them: a grey line beside
    circles of paper in its cell is no character on these."""
    toned: list[tuple[float, Ground]] = []
    for window, ground in grounds:
        shown = ink[window][ground & free[window]]
        if ground.any():
            toned.append((float(np.median(shown)) if shown.size else 0.0, (window, ground)))
    together: list[npt.NDArray[np.bool_]] = []
    lightest = -math.inf
    for tone, (window, ground) in sorted(toned, key=lambda each: each[0]):
        if tone - lightest > STRONG:
            together.append(np.zeros(ink.shape, np.bool_))
            lightest = tone
        together[-1][window] |= ground
    return together


def _is_stroke(polygon: Polygon) -> bool:
    """Whether a polygon is of a line, or the joint of one, and no circle or area in which a character has room."""
    return bool(min(cv2.minAreaRect(np.asarray(polygon, np.float32))[1]) < LINE)


def _is_mark(item: Item) -> bool:
    """Whether an item is a mark that is understood; what is not, a person looks at in any case."""
    return not isinstance(item.value, Given) and not any(isinstance(c, UnreadMark) for c in item.value)


def _standing_out(
    drawn: Grey,
    on_mark: npt.NDArray[np.bool_],
    window: tuple[slice, slice],
    cell: int,
    strokes: bool,
    least: float | None = None,
) -> tuple[int, int, int, int] | None:
    """The box, in pixels of the window of one cell, of what stands out there from the ground of a mark; of `strokes`
    alone, if so. Where it is known how dark that is `least` (`_darker_than_dashes`) nothing lighter counts."""
    ink, ground = drawn[window], on_mark[window]
    if ground.sum() < LEAST_GROUND * cell**2:
        return None
    low, tone, high = np.percentile(ink[ground], (10, 30, 70))
    darker, lighter = tone + max(STRONG, SHARE * (1 - tone), NOISE * (tone - low)), high - max(STRONG, SHARE * high)
    darker = darker if least is None else least
    out = ground & (ink > darker)
    if least is None and high > DARK:
        out |= ground & (ink < lighter)
    if strokes:
        thick = _thick(drawn > darker, window, cell)
        out &= ~(thick | _thick(drawn < lighter, window, cell)) if high > DARK else ~thick
    count, _, stats, _ = cv2.connectedComponentsWithStats(out.astype(np.uint8), connectivity=8)
    pieces = [s for s in stats[1:count] if max(s[2], s[3]) >= EXTENT * cell]
    if sum(int(piece[4]) for piece in pieces) < AREA * cell**2:
        return None
    x0, y0 = (min(int(piece[n]) for piece in pieces) for n in (0, 1))
    return x0, y0, max(int(p[0] + p[2]) for p in pieces), max(int(p[1] + p[3]) for p in pieces)


def _darker_than_dashes(ink: Grey, dashes: npt.NDArray[np.bool_]) -> float | None:
    """Ink from which on something on dashed lines is darker than their dashes; None where there are none, or so dark
    that a character need not be."""
    tone = float(np.percentile(ink[dashes], DASH)) if dashes.any() else 1.0
    return tone + max(STRONG, SHARE * (1 - tone)) if tone < DARK else None


def _thick(area: npt.NDArray[np.bool_], window: tuple[slice, slice], cell: int) -> npt.NDArray[np.bool_]:
    """What of an area, in a window, is thicker than strokes are; it is looked at how the area goes on around that."""
    around = 2 * round(STROKE * cell)
    rows, columns = (slice(max(0, each.start - around), each.stop + around) for each in window)
    thick = _grown(cv2.erode(area[rows, columns].astype(np.uint8), _disc(STROKE, cell)), STROKE + RIM, cell)
    top, left = window[0].start - rows.start, window[1].start - columns.start
    return thick[top : top + window[0].stop - window[0].start, left : left + window[1].stop - window[1].start]


def _parted(polygons: Iterable[Polygon]) -> tuple[list[Polygon], list[Polygon]]:
    """Polygons that could hide a character, and those that are too narrow."""
    wide: list[Polygon] = []
    thin: list[Polygon] = []
    for polygon in polygons:
        (wide if _across(polygon) >= WIDE else thin).append(polygon)
    return wide, thin


def _across(polygon: Polygon) -> float:
    """How wide a polygon is, in cells."""
    _, (width, height), _ = cv2.minAreaRect(np.asarray(polygon, np.float32))
    return float(min(width, height))


def _parted_by_place(wide: Sequence[Polygon], thin: Sequence[Polygon]) -> tuple[list[Polygon], list[Polygon]]:
    """Polygons that could hide a given, and those that are too narrow or lie on an edge or a corner."""
    at_middle = [_reaches_a_middle(polygon) for polygon in wide]
    aside = [polygon for polygon, within in zip(wide, at_middle, strict=True) if not within]
    return [polygon for polygon, within in zip(wide, at_middle, strict=True) if within], [*thin, *aside]


def _reaches_a_middle(polygon: Polygon) -> bool:
    """Whether a mark comes to where a given stands: near the middle of a cell."""
    points = np.asarray(polygon, np.float32)
    low, high = np.floor(points.min(axis=0)), np.ceil(points.max(axis=0))
    middles = ((x + 0.5, y + 0.5) for x in np.arange(low[0], high[0]) for y in np.arange(low[1], high[1]))
    return any(cv2.pointPolygonTest(points, (float(x), float(y)), True) > -GIVEN for x, y in middles)


def _ground(ink: Grey, flat: Flat, polygons: Sequence[Polygon]) -> Ground:
    """What of one mark lies within its outline, however thick that is: from some depth on its ink no longer changes."""
    polygons = [_rounded(polygon) for polygon in polygons]
    window = window_of(flat, polygons)
    mask, ink = np.ascontiguousarray(filled(flat, polygons)[window]), ink[window]
    depth = np.asarray(cv2.distanceTransform(mask, cv2.DIST_L2, 5), np.float32)
    deepest = float(depth.max())
    tone = float(np.median(ink[depth > DEEP * deepest])) if deepest > 0 else 0.0
    wall = 0.0
    for at in np.arange(1.0, min(WALLS * flat.cell, DEEP * deepest)):
        there = ink[(depth > at - 0.5) & (depth <= at + 0.5)]
        if there.size and np.abs(np.percentile(there, ROUND_ABOUT) - tone).min() > STRONG / 2:
            wall = at
    rim = max(WALL * flat.cell, wall + RIM * flat.cell)
    ground = (depth > rim) & ~inner_corners(mask, rim, flat.cell)
    for circle in ends(polygons):
        ground &= ~_line_of(circle, rim, flat, window)
    return window, ground


def _line_of(circle: tuple[float, float, float], rim: float, flat: Flat, window: Window) -> npt.NDArray[np.bool_]:
    """The line of a circle (x, y, radius), as wide as a rim, in a window: where the line of a mark leaves a circle it
    claims the circle's outline too."""
    x, y, radius = circle
    rows, columns = window
    around = np.zeros((rows.stop - rows.start, columns.stop - columns.start), np.uint8)
    place = (
        round((x + flat.margin) * flat.cell) - columns.start,
        round((y + flat.margin) * flat.cell) - rows.start,
    )
    cv2.circle(around, place, round(radius * flat.cell - rim / 2), 1, math.ceil(rim))
    return around > 0


def _rounded(polygon: Polygon) -> Polygon:
    """A polygon as it is, but that of a capsule with its round ends: in the corners of its box its outline runs deep
    inside."""
    (left, top, right, bottom), corners = bounds(polygon), set(polygon)
    across, long = sorted((right - left, bottom - top))
    is_box = len(polygon) == 4 and corners == set(box_polygon((left, top, right, bottom)))
    if not is_box or long < CAPSULE or across > 1:
        return polygon
    radius = across / 2
    ends = [(left + radius, top + radius), (right - radius, bottom - radius)]
    points = np.array([point for end in ends for point in disc_polygon(end, radius)], np.float32)
    return tuple((float(x), float(y)) for x, y in cv2.convexHull(points)[:, 0])


Circle = tuple[float, float, float, list[Polygon]]
"""Its middle and radius, and the bands of lines of other marks, of which some may run through it."""


def _circles(marks: Sequence[Sequence[Polygon]]) -> Iterator[Circle]:
    """The circles of marks, of which the wide polygons are given."""
    bands = [[polygon for polygon in wide if _across(polygon) < LINE] for wide in marks]
    for index, wide in enumerate(marks):
        others = [band for other, own in enumerate(bands) if other != index for band in own]
        yield from ((x, y, radius, others) for x, y, radius in ends(wide))


def _fuller(
    circles: Sequence[Circle], ink: Grey, free: npt.NDArray[np.bool_], flat: Flat, draft: Draft
) -> dict[Cell, Box]:
    """Circles that hold clearly more ink than the others of their size, where nothing else claims it (`free`): a line
    that ends in a circle is seen in all of them, a character in this one only."""
    held: dict[Cell, tuple[float, float, float, float]] = {}
    for x, y, radius, others in circles:
        cell = Cell(int(y) + 1, int(x) + 1)
        in_middle = max(abs(x - cell.centre[0]), abs(y - cell.centre[1])) <= MIDDLE
        if cell in draft.grid and cell not in draft.givens and in_middle:
            heart = filled(flat, [box_polygon(box_at((x, y), HEART * radius))]) > 0
            lines = cv2.erode(filled(flat, others), _disc(SLACK, flat.cell)) > 0
            if (heart & lines).any():
                heart = filled(flat, [disc_polygon((x, y), WITHIN * radius)]) > 0
            values = ink[heart & free & ~lines]
            some = values.size >= LEAST_FREE * np.count_nonzero(heart)
            more = float((values > np.percentile(values, 20) + STRONG).mean()) if some else 0.0
            held[cell] = x, y, radius, more
    found = {}
    for cell, (x, y, radius, more) in held.items():
        alike = [other for _, _, r, other in held.values() if abs(r - radius) <= ALIKE * radius]
        if len(alike) >= ENOUGH and more > float(np.median(alike)) + FULLER:
            found[cell] = x - radius, y - radius, x + radius, y + radius
    return found


def _grown(mask: Mask, by: float, cell: int) -> npt.NDArray[np.bool_]:
    return np.asarray(cv2.dilate(mask, _disc(by, cell)) > 0)


def _disc(radius: float, cell: int) -> Mask:
    reach = max(1, round(radius * cell))
    return np.asarray(cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * reach + 1, 2 * reach + 1)), np.uint8)
