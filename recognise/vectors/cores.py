"""Strokes side by side that fill lines and circles, as hatching fills tubes: they lie on the bare core of a wider line,
whose rim alone is seen, or within its outline, and say no more than a tint of it would."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import cv2
import numpy as np
import numpy.typing as npt

from recognise.geometry import extent
from recognise.pixels.frame import Mask
from recognise.vectors.hatching import LEAST, PAINTED, THICKEST, Stroke, parallel, strokes_of
from recognise.vectors.inks import Canvas, Ink
from recognise.vectors.marks import disc
from recognise.vectors.painting import filled
from recognise.vectors.patches import CELL, Patch

LEAST_CORE, LEAST_CIRCLE = 0.1, 0.28
"""In cells: a narrower core has no room for strokes side by side, and bulbs are no smaller."""
GAP = 0.15
"""In cells: between two strokes that fill a line; a line from cell to cell is narrower than half a cell, and has three
of them at least."""
SAME_WAY = 0.02
"""In cells: how far the core of a line may lie off the middle of it."""
WIDEST = 0.5
"""In cells: a line from cell to cell is narrower, and longer."""
MOST = 4000
"""Strokes of one direction: of more, the drawing is none of a puzzle."""


def core_hatching(inks: Sequence[tuple[int, Ink]], canvas: Canvas) -> frozenset[int]:
    """The indices of the inks that hatch the cores of lines and circles."""
    over = _core_order([ink for _, ink in inks], canvas)
    if over is None:
        return frozenset()
    by_index = dict(inks)
    strokes = [stroke for index, ink in inks if _lies_on(ink, over) for stroke in strokes_of(index, ink)]
    groups = (group for group in parallel(strokes, by_index) if LEAST <= len(group) <= MOST)
    return frozenset(stroke.ink for group in groups for row in _rows(group) if len(row) >= LEAST for stroke in row)


def _core_order(drawn: Sequence[Ink], canvas: Canvas) -> npt.NDArray[np.int32] | None:
    """Where cores of lines and circles were first bare paper, their place in the paint order; 0 within the outlines of
    lines, -1 elsewhere. None where there is no core."""
    rims = [ink for ink in drawn if _is_wide(ink)]
    bare = (core for core in (*canvas.light, *canvas.paper) if _is_wide(core)) if rims else ()
    cores = [core for core in bare if any(_is_rim(ink, core) for ink in rims)]
    outlines = list(_outlines(drawn, canvas))
    if not cores and not outlines:
        return None
    over = np.full(canvas.shape, -1, np.int32)
    for inside in outlines:
        over[inside.window][inside.mask] = 0
    for core in sorted(cores, key=lambda core: -core.order):
        over[core.whole.window][core.whole.mask] = core.order
    return over


def _outlines(drawn: Sequence[Ink], canvas: Canvas) -> Iterator[Patch]:
    """What lies within outlines that run round lines: these are nowhere wide, but long."""
    for ink in drawn:
        if ink.role == "stroke" and ink.width <= THICKEST and all(ink.closed) and extent(ink.box) >= WIDEST:
            inside = filled(ink.outlines, ink.even_odd, canvas.raster, canvas.shape)
            framed = np.pad(inside.mask.view(np.uint8), 1)
            if 2 * cv2.distanceTransform(framed, cv2.DIST_L2, 3).max() <= WIDEST * CELL:
                yield inside


def _is_wide(ink: Ink) -> bool:
    """Whether there is room for strokes side by side on a line or circle."""
    return ink.width >= LEAST_CORE if ink.role == "stroke" else extent(ink.box) >= LEAST_CIRCLE


def _is_rim(ink: Ink, core: Ink) -> bool:
    """Whether an ink is what is left as the rim of a line or circle when its core is painted bare."""
    if ink.role != core.role or ink.order >= core.order:
        return False
    if core.role == "fill":
        around, inner = disc(ink), disc(core)
        if around is None or inner is None or around.radius <= inner.radius:
            return False
        return float(np.hypot(*np.subtract(around.centre, inner.centre))) <= SAME_WAY
    return (ink.width > core.width and len(ink.outlines) == len(core.outlines)) and all(
        one.shape == other.shape and bool(np.abs(one - other).max() <= SAME_WAY)
        for one, other in zip(ink.outlines, core.outlines, strict=True)
    )


def _lies_on(ink: Ink, over: npt.NDArray[np.int32]) -> bool:
    """Whether an ink was painted on cores that are bare below it, and hardly beyond them."""
    under = over[ink.whole.window]
    core: Mask = (under >= 0) & (under < ink.order)
    if not core.any():
        return False
    # The rims of masks are painted in part only.
    core = cv2.dilate(core.view(np.uint8), np.ones((3, 3), np.uint8)).view(np.bool_)
    mask = ink.whole.mask
    return bool(np.count_nonzero(mask & core) >= PAINTED * np.count_nonzero(mask))


def _rows(strokes: Sequence[Stroke]) -> Iterator[list[Stroke]]:
    """Strokes of one direction that lie side by side, each close to the next."""
    angle = strokes[0].angle
    along, square_to = np.array([np.cos(angle), np.sin(angle)]), np.array([-np.sin(angle), np.cos(angle)])
    ends = np.array([(stroke.start, stroke.end) for stroke in strokes])
    at = (ends @ square_to).mean(axis=1)
    reach = np.sort(ends @ along, axis=1)
    left = np.ones(len(strokes), dtype=np.bool_)
    while left.any():
        row, fresh = [], [int(np.argmax(left))]
        left[fresh] = False
        while fresh:
            one = fresh.pop()
            row.append(one)
            shared = np.minimum(reach[:, 1], reach[one, 1]) - np.maximum(reach[:, 0], reach[one, 0])
            beside = np.flatnonzero(left & (np.abs(at - at[one]) <= GAP) & (shared > 0)).tolist()
            left[beside] = False
            fresh += beside
        yield [strokes[place] for place in row]
