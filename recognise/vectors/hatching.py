"""Hatched cells: thin straight strokes side by side, at even distances and from one side of a cell to the other, in
place of a tint. How they are drawn does not matter: stroke by stroke, cell by cell, or across a region and clipped."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Point
from recognise.evidence import Tint
from recognise.grouping import grouped
from recognise.vectors.inks import Canvas, Ink, near
from recognise.vectors.patches import CELL, canvas_size
from recognise.vectors.place import Floats
from schema.cells import Cell

THICKEST = 0.07
"""In cells: strokes of hatching are no thicker."""
LONG = 3.0
"""A filled bar is so much longer than it is thick; the strokes in a cell's corners are short."""
PARALLEL = np.deg2rad(1.5)
LEAST = 4
"""Strokes across one cell: fewer are single lines, or a sign."""
WIDEST_GAP = 0.36
"""In cells: between two strokes of hatching; lines from cell to cell are at least 0.5 apart, in one slant 0.7."""
EVEN = 1.5
"""How much wider than most a gap may be; that to the cell's corner, where a stroke may be left out, twice that."""
INSET = 0.08
"""In cells: strokes may end so far before the edge of their cell; those that cut off its corner tell nothing."""
PAINTED = 0.85
"""The part of its way through a cell that a stroke paints at least; digits may stand on bare paper."""
CLIPPED = 0.1
"""A stroke that paints no more of it is clipped away there, but for its rim."""
SPARE = 0.03
"""In cells: how much wider than its stroke a claim is on either side."""


@dataclass(frozen=True, slots=True)
class Hatching:
    """The hatched cells as tints, and the indices of the inks that hatch them."""

    tints: tuple[Tint, ...]
    inks: frozenset[int]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight piece in cells; `angle` from 0 to pi."""

    ink: int
    start: Floats
    end: Floats
    width: float
    angle: float


def find_hatching(inks: Sequence[tuple[int, Ink]], canvas: Canvas) -> Hatching:
    """The hatched cells among inks given with their indices."""
    by_index = dict(inks)
    strokes = [stroke for index, ink in inks for stroke in strokes_of(index, ink)]
    tints: list[Tint] = []
    used: set[int] = set()
    for group in parallel(strokes, by_index):
        if len(group) < LEAST:
            continue
        hatched = list(_hatched(group, by_index, canvas))
        tints += hatched
        cells = {tint.cell for tint in hatched}
        used |= {index for index in {stroke.ink for stroke in group} if _within(by_index[index], cells, canvas)}
    return Hatching(tuple(tints), frozenset(used))


def strokes_of(index: int, ink: Ink) -> Iterator[Stroke]:
    """The strokes of an ink that is nothing else."""
    if ink.dash or (ink.role == "stroke" and (any(ink.closed) or ink.width > THICKEST)):
        return
    found = []
    for points in ink.outlines:
        ends = _ends(points) if ink.role == "stroke" else _bar(points)
        if ends is None:
            return
        start, end, width = ends
        way = end - start
        found.append(Stroke(index, start, end, width or ink.width, float(np.arctan2(way[1], way[0]) % np.pi)))
    yield from found


def _ends(points: Floats) -> tuple[Floats, Floats, float] | None:
    """The ends of a stroke that runs straight."""
    far = points[-1] - points[0]
    length = float(np.hypot(*far))
    if length < SPARE:
        return None
    off = np.abs((points - points[0]) @ np.array([-far[1], far[0]])) / length
    return (points[0], points[-1], 0.0) if off.max() <= 0.1 * SPARE else None


def _bar(points: Floats) -> tuple[Floats, Floats, float] | None:
    """The ends of the middle line of a thin filled bar."""
    (x, y), (across, down), turn = cv2.minAreaRect(points.astype(np.float32))
    length, width = max(across, down), min(across, down)
    if width > THICKEST or length < LONG * width:
        return None
    angle = np.deg2rad(turn if across >= down else turn + 90)
    half = np.array([np.cos(angle), np.sin(angle)]) * (length - width) / 2
    middle = np.array([x, y])
    return middle - half, middle + half, float(width)


def parallel(strokes: Sequence[Stroke], inks: dict[int, Ink]) -> list[list[Stroke]]:
    """Strokes of one colour and one direction."""

    def fits(group: Sequence[Stroke], stroke: Stroke) -> bool:
        turn = abs(stroke.angle - group[0].angle)
        same_way = min(turn, np.pi - turn) <= PARALLEL
        return bool(same_way and near(inks[stroke.ink].colour, inks[group[0].ink].colour))

    return grouped(strokes, fits)


def _hatched(group: Sequence[Stroke], inks: dict[int, Ink], canvas: Canvas) -> Iterator[Tint]:
    """The cells that strokes of one direction hatch."""
    angle = group[0].angle
    ends = np.array([(stroke.start, stroke.end) for stroke in group])
    low, high = ends.min(axis=1), ends.max(axis=1)
    for row, column in product(range(canvas.raster.rows), range(canvas.raster.columns)):
        corner = np.array([column, row], dtype=np.float64)
        meets = ((low < corner + 1) & (high > corner)).all(axis=1)
        if np.count_nonzero(meets) < LEAST:
            continue
        chords = [
            (stroke, chord)
            for stroke in (group[place] for place in np.flatnonzero(meets).tolist())
            if (chord := _chord(stroke, corner)) is not None
        ]
        painted = [
            (stroke, chord, _painted(stroke, chord, inks[stroke.ink], canvas))
            for stroke, chord in chords
            if _length(chord) > 4 * INSET
        ]
        # What a clip leaves nothing of here hatches another cell.
        across = [(stroke, chord) for stroke, chord, part in painted if part > CLIPPED]
        its = [stroke for stroke, _, part in painted if part >= PAINTED]
        if len(its) < PAINTED * len(across) or not _is_even(its, corner, angle):
            continue
        share = min(1.0, sum(stroke.width * _length(chord) for stroke, chord in across))
        claims = tuple(_claim(chord, stroke.width) for stroke, chord in chords)
        yield Tint(Cell(row + 1, column + 1), inks[its[0].ink].colour, share, "vector", claims)


def _chord(stroke: Stroke, corner: Floats) -> tuple[Floats, Floats] | None:
    """The part in a cell of the line on which a stroke lies; None where the stroke itself does not come there."""
    way = np.array([np.cos(stroke.angle), np.sin(stroke.angle)])
    first, last = -np.inf, np.inf
    for axis in (0, 1):
        if abs(way[axis]) < 1e-9:
            if not corner[axis] <= stroke.start[axis] <= corner[axis] + 1:
                return None
            continue
        cuts = sorted((corner[axis] + side - stroke.start[axis]) / way[axis] for side in (0, 1))
        first, last = max(first, cuts[0]), min(last, cuts[1])
    run = float((stroke.end - stroke.start) @ way)
    if min(last, max(0.0, run)) - max(first, min(0.0, run)) <= SPARE:
        return None
    return stroke.start + first * way, stroke.start + last * way


def _painted(stroke: Stroke, chord: tuple[Floats, Floats], ink: Ink, canvas: Canvas) -> float:
    """The part of its way through a cell that a stroke paints."""
    start, end = chord
    shy = 2 * INSET / _length(chord)
    points = start + (end - start) * np.linspace(shy, 1 - shy, 12)[:, None]
    pixels = np.floor(points * CELL + canvas.raster.origin).astype(int) - (ink.whole.left, ink.whole.top)
    rows, columns = ink.whole.mask.shape
    inside = ((pixels >= 0) & (pixels < (columns, rows))).all(axis=1)
    painted: npt.NDArray[np.bool_] = ink.whole.mask[pixels[inside, 1], pixels[inside, 0]]
    return float(np.count_nonzero(painted)) / len(points)


def _is_even(strokes: Sequence[Stroke], corner: Floats, angle: float) -> bool:
    """Whether strokes of one direction lie side by side across a whole cell, none far from the next."""
    square_to = np.array([-np.sin(angle), np.cos(angle)])
    reach = sorted(float(np.add(corner, (dx, dy)) @ square_to) for dx, dy in product((0, 1), repeat=2))
    at = np.unique(np.round([(stroke.start + stroke.end) @ square_to / 2 for stroke in strokes], 3))
    if len(at) < LEAST:
        return False
    gaps = np.diff(at)
    usual = float(np.median(gaps))
    most = EVEN * usual
    outer = max(at[0] - reach[0], reach[-1] - at[-1])
    return bool(usual <= WIDEST_GAP and gaps.max() <= most and outer <= 2 * most + 4 * INSET)


def _length(chord: tuple[Floats, Floats]) -> float:
    return float(np.hypot(*(chord[1] - chord[0])))


def _claim(chord: tuple[Floats, Floats], width: float) -> tuple[Point, ...]:
    """A stroke's outline, a little wider."""
    start, end = chord
    way = (end - start) / _length(chord)
    aside = np.array([-way[1], way[0]]) * (width / 2 + SPARE)
    corners = (start + aside, end + aside, end - aside, start - aside)
    return tuple((float(x), float(y)) for x, y in corners)


def _within(ink: Ink, cells: set[Cell], canvas: Canvas) -> bool:
    """Whether an ink hatches cells and draws nothing else."""
    mask = np.zeros(canvas.shape, dtype=np.bool_)
    reach = canvas.raster.px(INSET)
    for cell in cells:
        y, x = ((place - 1) * CELL + canvas.raster.origin for place in (cell.row, cell.column))
        mask[y - reach : y + CELL + reach, x - reach : x + CELL + reach] = True
    inside = np.count_nonzero(ink.whole.mask & mask[ink.whole.window])
    return bool(inside >= PAINTED * canvas_size(ink.whole))
