"""Lines that leave the middle of their way: dashed and dotted ones of many small pieces, and wavy ones. Their area is
grown until it covers the way, and the line is made so much narrower again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np

from recognise.evidence import Disc, Trace
from recognise.geometry import extent
from recognise.pixels.frame import Mask
from recognise.pixels.tracing import painted
from recognise.vectors.inks import Canvas, Ink, near
from recognise.vectors.joining import Line
from recognise.vectors.painting import polygon_area
from recognise.vectors.patches import CELL, Patch
from recognise.vectors.rounds import RIM, Rounds, draw_discs, touching
from recognise.vectors.strokes import SPARE, headed
from recognise.vectors.waves import swing

GROWN = 0.11
"""In cells: half of the widest gap between two pieces, and how far a wave swings to one side."""
PIECE = 0.4
"""In cells: a dash is no longer."""
DOT = 0.09
"""Radius in cells of the largest dot of a dotted line."""
MANY = 3
"""Pieces in a line at least."""
WAVE = 0.7
"""In cells: a wavy line is longer."""
STRIP = 0.2
"""In cells: how wide a line is at most that is drawn by its outline and leaves the middle of its way."""
WITHIN = 0.85
"""The part of a piece, or of a wavy line, that lies along the line as traced."""
AS_THICK = 0.35
"""As a part of the thickness of straight dashes: how much that of a bent one may differ, whose corner has more room."""


@dataclass(frozen=True, slots=True)
class Broken:
    """A line, and the numbers of the discs that are dots of it."""

    line: Line
    dots: frozenset[int]


def broken_lines(
    inks: Sequence[tuple[int, Ink]], discs: Sequence[Disc], rounds: Rounds, canvas: Canvas
) -> list[Broken]:
    """Lines among inks of which none is a line by itself, given with their indices, and among small discs."""
    found: list[Broken] = []
    for index, ink in inks:
        if extent(ink.box) >= WAVE and (_is_strip(ink) if ink.role == "fill" else not any(ink.closed)):
            found += _traced([(index, ink)], {}, rounds, canvas)
    small = [(index, ink) for index, ink in inks if _is_piece(ink)]
    dots = {number: disc for number, disc in enumerate(discs) if disc.radius <= DOT and disc.fill}
    colours = [ink.colour for _, ink in small] + [disc.fill for disc in dots.values() if disc.fill]
    while colours:
        colour = colours[0]
        colours = [other for other in colours if not near(other, colour)]
        pieces = [(index, ink) for index, ink in small if near(ink.colour, colour)]
        its_dots = {number: disc for number, disc in dots.items() if disc.fill and near(disc.fill, colour)}
        if len(pieces) + len(its_dots) >= MANY:
            # Dashes that bend, and those cut off by a disc, belong to a line that has straight ones.
            pieces += [(i, ink) for i, ink in inks if near(ink.colour, colour) and _is_bent(ink, pieces)]
            found += [_with_bends(each, inks, canvas) for each in _traced(pieces, its_dots, rounds, canvas)]
    return found


def _with_bends(broken: Broken, inks: Sequence[tuple[int, Ink]], canvas: Canvas) -> Broken:
    """A line with those of the inks that lie upon it and were painted in one path with its dashes: bent round its
    corners they are of any shape."""
    its = set(broken.line.inks)
    orders = {ink.order for index, ink in inks if index in its}
    small = [(i, ink) for i, ink in inks if i not in its and ink.order in orders and extent(ink.box) <= PIECE]
    if not small:
        return broken
    area = painted([broken.line.trace], canvas.raster, canvas.shape, SPARE)
    bends = (index for index, ink in small if _lies_in(ink.whole, area))
    return replace(broken, line=replace(broken.line, inks=(*broken.line.inks, *bends)))


def _is_bent(ink: Ink, straight: Sequence[tuple[int, Ink]]) -> bool:
    """Whether a filled area that is no straight dash is as thick as those are, and no longer."""
    if ink.role != "fill" or _is_piece(ink) or extent(ink.box) > PIECE:
        return False
    thick = [_thickness(other) for _, other in straight if other.role == "fill"]
    usual = float(np.median(thick)) if thick else 0.0
    return abs(_thickness(ink) - usual) <= AS_THICK * usual


def _thickness(ink: Ink) -> float:
    """How thick a filled ink is where it is thickest, in cells. Of a bent strip the outline may cross itself."""
    inside = np.pad(ink.whole.mask, 1).astype(np.uint8)
    return 2 * float(cv2.distanceTransform(inside, cv2.DIST_L2, 5).max()) / CELL


def _is_strip(ink: Ink) -> bool:
    """Whether a filled area is long and narrow, as a line drawn by its outline is."""
    steps = np.concatenate([np.roll(each, -1, axis=0) - each for each in ink.outlines])
    around = float(np.hypot(steps[:, 0], steps[:, 1]).sum())
    return 2 * abs(sum(map(polygon_area, ink.outlines))) <= STRIP * max(around, 1e-6)


def _is_piece(ink: Ink) -> bool:
    """Whether an ink may be a dash: a short straight stroke or bar, no character."""
    # A wide line's dashes may be wider than long, and the box of a stroke has half its width on all sides.
    longest = max(float(np.ptp(ink.outlines[0], axis=0).max()), ink.width) if ink.role == "stroke" else extent(ink.box)
    return (
        longest <= PIECE
        and len(ink.outlines) == 1
        and not ink.curved
        and len(ink.outlines[0]) <= (2 if ink.role == "stroke" else 5)
    )


def _traced(
    pieces: Sequence[tuple[int, Ink]], dots: dict[int, Disc], rounds: Rounds, canvas: Canvas
) -> Iterator[Broken]:
    mask = np.zeros(canvas.shape, dtype=np.bool_)
    # What lies under a mark on the line is not seen, and a dash of it all the same.
    under = [ink for ink in canvas.buried if pieces and near(ink.colour, pieces[0][1].colour)]
    for ink in (*(ink for _, ink in pieces), *(ink for ink in under if extent(ink.box) <= PIECE)):
        mask[ink.whole.window] |= ink.whole.mask
    draw_discs(mask, dots.values(), canvas.raster)
    reach = canvas.raster.px(GROWN)
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * reach + 1, 2 * reach + 1))
    grown = Patch(0, 0, cv2.dilate(mask.astype(np.uint8), kernel).view(np.bool_))
    sample = pieces[0][1] if pieces else _as_ink(next(iter(dots.values())), grown)
    outlines = tuple(outline for _, ink in pieces for outline in ink.outlines) or sample.outlines
    near_ones = touching(replace(sample, outlines=outlines), rounds)
    ends = [disc for disc in _ended_at(pieces, rounds, canvas) if disc not in near_ones.discs]
    near_ones = replace(near_ones, discs=(*near_ones.discs, *ends))
    several = len(pieces) + len(dots) > 1
    for trace, heads in headed(grown, replace(sample, role="fill", closed=(True,)), near_ones, (), canvas):
        line = replace(trace, width=max(trace.width - 2 * GROWN, 1 / CELL), dashed=several)
        if not several and sample.role == "fill":
            line = replace(line, sway=swing(sample, line))
        area = painted([line], canvas.raster, canvas.shape, SPARE)
        its = tuple(index for index, ink in pieces if _lies_in(ink.whole, area))
        its_dots = frozenset(number for number, dot in dots.items() if _is_on(dot, area, canvas))
        if len(its) + len(its_dots) >= (MANY if several else 1):
            yield Broken(Line(line, its, len(line.links), heads), its_dots)


def _ended_at(pieces: Sequence[tuple[int, Ink]], rounds: Rounds, canvas: Canvas) -> Iterator[Disc]:
    """The circles at whose rim dashes are last seen: they go on under it, or stop there."""
    seen = [(ink.whole.window, ink.whole.mask & _shows(ink, canvas)) for _, ink in pieces]
    for disc in rounds.discs:
        around, inside = (_disc_mask(replace(disc, radius=disc.radius + by), canvas) for by in (2 * RIM, -RIM))
        at_rim = any((around[window] & mask).any() for window, mask in seen)
        if at_rim and not any((inside[window] & mask).any() for window, mask in seen):
            yield disc


def _disc_mask(disc: Disc, canvas: Canvas) -> Mask:
    mask = np.zeros(canvas.shape, dtype=np.bool_)
    draw_discs(mask, [disc], canvas.raster)
    return mask


def _shows(ink: Ink, canvas: Canvas) -> Mask:
    """Where nothing was painted over an ink, in its own window."""
    shows: Mask = canvas.top_order[ink.whole.window] <= ink.order
    return shows


def is_hidden_dash(ink: Ink, traces: Sequence[Trace], canvas: Canvas) -> bool:
    """Whether an ink that others hide is a dash of a broken line: it goes on under the circles at its ends."""
    its = [trace for trace in traces if trace.dashed and near(trace.colour, ink.colour)]
    return (
        bool(its) and extent(ink.box) <= PIECE and _lies_in(ink.whole, painted(its, canvas.raster, canvas.shape, SPARE))
    )


def _is_on(dot: Disc, area: Mask, canvas: Canvas) -> bool:
    x, y = (int(canvas.raster.at(value)) for value in dot.centre)
    return 0 <= y < area.shape[0] and 0 <= x < area.shape[1] and bool(area[y, x])


def _as_ink(disc: Disc, whole: Patch) -> Ink:
    """Something to hand on the colour of dots with."""
    colour = disc.fill or (0, 0, 0)
    return Ink(
        "fill", (np.array([disc.centre]),), (True,), True, colour, True, 0.0, (), "round", 0, 0, False, whole, whole
    )


def _lies_in(patch: Patch, area: Mask) -> bool:
    its = area[patch.window]
    return bool(np.count_nonzero(its & patch.mask) >= WITHIN * np.count_nonzero(patch.mask))
