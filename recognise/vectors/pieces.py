"""Straight pieces of ink that run along lattice lines: of strokes, of dashes, and of filled areas cut through."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from recognise.pixels.frame import Mask, Raster
from recognise.vectors.inks import Canvas, Ink, darkness
from recognise.vectors.patches import CELL, Patch
from recognise.vectors.place import Floats
from recognise.vectors.twins import find_twins

ASIDE = 0.04
"""In cells: how far a line may lie off its lattice line; cages are set in by more."""
FRAME_ASIDE = 0.12
"""The same for the four outer lines: a thick frame is often set outside the cells."""
DEEPEST = 2.5
"""In cells: a table's head is no deeper, with room for two clues one above the other."""
SLOPE = 0.1
"""A line along a lattice line slopes by no more; strokes of a small mark beside it do."""
NEAR = 0.15
"""In cells: a filled area all of which is so near to lattice lines may be a lattice line."""
ALL_NEAR = 0.97
WIDEST = 0.3
"""In cells: what is thicker is no line."""
MOST_CUT = 1.2
"""In cells: the length of all rounded corners of a frame together, four of 0.3 at most."""
ROUNDED = 0.45
"""In cells: how far the rounded corner of the grid's own frame begins from the grid's corner at most."""
WAVERS, RULED = 8, 2.0
"""Points of a line that wavers as one drawn by hand does at least, and its length in cells: no mark of a pair is so
long."""
SHORT = 0.9
"""In cells: shorter pieces may be marks on an edge."""
RECTANGLE = 5
"""Points of a rectangle that ends where it began; a short filled area of more is no dash of a line."""
SHOWS = 0.5
"""The part of an area that shows when ground is not painted on most of it."""
CUTS = (0.2, 0.35, 0.5, 0.65, 0.8)
"""Where along an edge filled areas are cut through to measure them."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A straight line on lattice line number `line` from `start` to `end`, in cells."""

    vertical: bool
    line: int
    start: float
    end: float
    width: float
    darkness: float
    ink: int
    dashed: bool
    off: float = 0.0
    """How far its middle lies off the lattice line: pieces of double lines stand on either side."""

    @property
    def reach(self) -> float:
        """How far from the lattice line it inks at most."""
        return abs(self.off) + self.width / 2


def _near_lines(canvas: Canvas) -> Mask:
    """Where the canvas is near to a lattice line of the grid."""
    raster = canvas.raster
    ys = (np.arange(canvas.shape[0]) + 0.5 - raster.origin) / CELL
    xs = (np.arange(canvas.shape[1]) + 0.5 - raster.origin) / CELL
    on_row, on_column = (np.abs(places - np.round(places)) <= NEAR for places in (ys, xs))
    in_rows = (ys > -NEAR) & (ys < raster.rows + NEAR)
    in_columns = (xs > -NEAR) & (xs < raster.columns + NEAR)
    inside = in_rows[:, None] & in_columns[None, :]
    near: Mask = inside & (on_row[:, None] | on_column[None, :])
    return near


def pieces_of(inks: Sequence[Ink], canvas: Canvas) -> list[Piece]:
    """The pieces of lattice lines that inks draw, ink by ink; the strokes of double lines as pieces as thick as both,
    after all others."""
    near = _near_lines(canvas)
    pieces = [piece for index, ink in enumerate(inks) for piece in _pieces(index, ink, near, canvas.raster)]
    return [*pieces, *_double_lines(inks, canvas.raster)]


def _pieces(index: int, ink: Ink, near: Mask, raster: Raster) -> Iterator[Piece]:
    if ink.role == "stroke":
        if ink.width <= WIDEST:
            for points, closed in zip(ink.outlines, ink.closed, strict=True):
                ring = np.concatenate([points, points[:1]]) if closed else _ruled(points)
                yield from _stroke_pieces(index, ink, ring, raster)
        return
    if all(_is_dash(points) for points in ink.outlines):
        for points in ink.outlines:
            yield from _dash_pieces(index, ink, points, raster)
        return
    left, top, right, bottom = ink.box
    if max(right - left, bottom - top) < SHORT:
        # A character or mark that stands on an edge.
        return
    inside = near[ink.patch.window]
    if np.count_nonzero(ink.patch.mask & inside) >= ALL_NEAR * np.count_nonzero(ink.patch.mask):
        yield from _filled_pieces(index, ink, raster)


def _ruled(points: Floats) -> Floats:
    """An open polyline that wavers along one lattice line, as by hand, as the straight line that it means; others as
    they are."""
    spread = np.ptp(points, axis=0)
    along = int(spread[1] > spread[0])
    across = points[:, 1 - along]
    off = np.abs(across - np.round(np.median(across)))
    forth = np.diff(points[:, along])
    one_way = bool((forth >= 0).all() or (forth <= 0).all())
    if len(points) < WAVERS or spread[along] < RULED or off.max() > ASIDE or not one_way:
        return points
    ends = points[[0, -1]].copy()
    ends[:, 1 - along] = across.mean()
    return ends


def _double_lines(inks: Sequence[Ink], raster: Raster) -> Iterator[Piece]:
    """Each stroke of a double line, as thick as both and what is between them."""
    for twin in find_twins(inks, raster):
        shade = darkness(inks[twin.ink].colour)
        yield Piece(twin.vertical, twin.line, twin.start, twin.end, twin.width, shade, twin.ink, False)


def _stroke_pieces(index: int, ink: Ink, ring: Floats, raster: Raster) -> list[Piece]:
    """The pieces of one polyline; none when any part of it leaves the lattice lines. The rounded corners of a frame
    may cut a lattice corner."""
    pieces = []
    cut, rounded = 0.0, False
    for start, end in pairwise(ring):
        if np.abs(end - start).max() < 1e-3:
            continue
        piece = _stroke_piece(index, ink, start, end, raster)
        if piece is not None:
            pieces.append(piece)
            continue
        middle = (start + end) / 2
        if at_outer_corner(middle, raster):
            rounded = True
            continue
        cut += float(np.hypot(*(end - start)))
        if cut > MOST_CUT or np.abs(middle - np.round(middle)).max() > NEAR:
            return []
    # A frame is long; the head of a little arrow at the grid is no rounded corner.
    drawn = sum(piece.end - piece.start for piece in pieces)
    return pieces if (cut == 0 and not rounded) or drawn >= SHORT else []


def at_outer_corner(point: Floats, raster: Raster) -> bool:
    """Whether a point lies where the grid's frame may be rounded."""
    far = np.array((raster.columns, raster.rows)) - point
    return bool((np.minimum(np.abs(point), np.abs(far)) <= ROUNDED).all())


def _stroke_piece(index: int, ink: Ink, start: Floats, end: Floats, raster: Raster) -> Piece | None:
    upright = abs(end[0] - start[0]) < abs(end[1] - start[1])
    across, along = (0, 1) if upright else (1, 0)
    lines, length = (raster.columns, raster.rows) if upright else (raster.rows, raster.columns)
    at = float(start[across] + end[across]) / 2
    line = min(max(round(at), 0), lines)
    outward = (at < line) if line == 0 else (at > line) if line == lines else False
    slope = abs(end[across] - start[across])
    if abs(at - line) > (FRAME_ASIDE if outward else ASIDE) or slope > min(
        ASIDE, SLOPE * abs(end[along] - start[along])
    ):
        return None
    low, high = sorted((float(start[along]), float(end[along])))
    beyond = -FRAME_ASIDE - ink.width
    reaches_grid = high >= beyond and length - low >= beyond
    ends_well = _ends_well(low, ink.width) and _ends_well(length - high, ink.width)
    if not (reaches_grid and (ends_well or _runs_through(low, length - high))):
        return None
    return Piece(bool(upright), line, low, high, ink.width, darkness(ink.colour), index, ink.dashed, at - line)


def _ends_well(within: float, width: float) -> bool:
    """Whether a line ends inside the grid, at its frame, or one cell beyond it, where clues stand in cells of their
    own: so far `within` the frame."""
    return within >= -FRAME_ASIDE - width or abs(within + 1) <= FRAME_ASIDE + width


def _runs_through(before: float, behind: float) -> bool:
    """Whether a line runs all along the grid and on into a table's head or stub, of whatever depth; it ends so far
    within the frame."""
    return min(before, behind) >= -DEEPEST and max(before, behind) <= FRAME_ASIDE


def _is_dash(points: Floats) -> bool:
    """Whether an outline is a short upright bar or dot, as broken lines are made of."""
    size = np.ptp(points, axis=0)
    if len(points) > RECTANGLE or size.max() >= SHORT or size.min() > WIDEST:
        return False
    # Every point stands at a corner of the box, but for the mitres of a border.
    low, high = points.min(axis=0), points.max(axis=0)
    return bool((np.minimum(points - low, high - points).max(axis=1) <= size.min()).all())


def _dash_pieces(index: int, ink: Ink, points: Floats, raster: Raster) -> Iterator[Piece]:
    """A dash as the piece that it is; one at a crossing of lattice lines, of both."""
    low, high = points.min(axis=0), points.max(axis=0)
    for upright in (True, False):
        across, along = (0, 1) if upright else (1, 0)
        lines = raster.columns if upright else raster.rows
        span, reach = (float(low[across]), float(high[across])), (float(low[along]), float(high[along]))
        for line, width, off in _on_lines([span], lines, span):
            yield Piece(upright, line, *reach, width, darkness(ink.colour), index, False, off)


def _filled_pieces(index: int, ink: Ink, raster: Raster) -> Iterator[Piece]:
    """Cut a filled area across every edge near it; each cut that goes through a thin part counts for its stretch."""
    left, top, right, bottom = ink.box
    # Where cells are painted on a dark area, what shows between them are the lines; of a bar, a mark may hide most.
    is_area = min(right - left, bottom - top) > WIDEST
    painted_on = is_area and np.count_nonzero(ink.patch.mask) < SHOWS * np.count_nonzero(ink.whole.mask)
    sides = [np.stack([points, np.roll(points, -1, axis=0)], axis=1) for points in ink.outlines]
    for upright in (True, False):
        across, along = (0, 1) if upright else (1, 0)
        lines, length = (raster.columns, raster.rows) if upright else (raster.rows, raster.columns)
        low, high = ((left, right), (top, bottom)) if upright else ((top, bottom), (left, right))
        for place in range(max(0, int(high[0])), min(length, int(np.ceil(high[1])))):
            for step, cut in enumerate(CUTS):
                if painted_on:
                    spans = _mask_cut(ink.patch, upright, place + cut, raster)
                else:
                    spans = _cut(sides, ink.even_odd, across, along, place + cut)
                start, end = place + step / len(CUTS), place + (step + 1) / len(CUTS)
                for line, width, off in _on_lines(spans, lines, low):
                    yield Piece(upright, line, start, end, width, darkness(ink.colour), index, False, off)


def _mask_cut(patch: Patch, upright: bool, at: float, raster: Raster) -> list[tuple[float, float]]:
    """Where the line at `at` runs through what ground leaves of a mask: from, to; exact to a pixel. Masks of ground
    lack their rim, half a pixel on each side."""
    place = int(raster.at(at)) - (patch.top if upright else patch.left)
    if not 0 <= place < patch.mask.shape[0 if upright else 1]:
        return []  # ground covers all of it there
    run = (patch.mask[place] if upright else patch.mask[:, place]).astype(np.int8)
    steps = np.nonzero(np.diff(np.concatenate([[0], run, [0]]).astype(np.int8)))[0]
    offset = patch.left if upright else patch.top
    return [
        (raster.to_cells(first + offset + 0.5), raster.to_cells(last + offset - 0.5))
        for first, last in steps.reshape(-1, 2).tolist()
    ]


def _cut(sides: list[Floats], even_odd: bool, across: int, along: int, at: float) -> list[tuple[float, float]]:
    """Where the line at `at` runs through the inside of outlines: from, to."""
    crossings: list[tuple[float, int]] = []
    for outline in sides:
        one, other = outline[:, 0, along], outline[:, 1, along]
        hit = (one <= at) != (other <= at)
        if not hit.any():
            continue
        part = (at - one[hit]) / (other[hit] - one[hit])
        places = outline[hit, 0, across] + part * (outline[hit, 1, across] - outline[hit, 0, across])
        turns = np.where(other[hit] > one[hit], 1, -1)
        crossings.extend(zip(places.tolist(), turns.tolist(), strict=True))
    crossings.sort()
    spans: list[tuple[float, float]] = []
    winding, start = 0, 0.0
    for place, turn in crossings:
        before = winding
        winding = (winding + 1) % 2 if even_odd else winding + turn
        if before == 0:
            start = place
        elif winding == 0 and place > start:
            spans.append((start, place))
    return spans


def _on_lines(
    spans: list[tuple[float, float]], lines: int, reach: tuple[float, float]
) -> Iterator[tuple[int, float, float]]:
    """The lattice lines that a cut runs across, with the thickness there and how far off its middle is. Beside a line,
    as cages are, it is none."""
    for start, end in spans:
        middle = (start + end) / 2
        line = round(middle)
        outward = (middle < line) if line == 0 else (middle > line) if line == lines else False
        on_line = abs(middle - line) <= max(FRAME_ASIDE if outward else ASIDE, (end - start) / 2)
        if on_line and 0 <= line <= lines and end - start <= WIDEST and reach[0] <= end and start <= reach[1]:
            yield line, end - start, middle - line
