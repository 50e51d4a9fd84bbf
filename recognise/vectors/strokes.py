"""Lines that one ink draws, or several together: as their area, or as the area within a wall; with the circles from
which they come and the arrow heads in which they end."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from dataclasses import replace
from itertools import combinations

import cv2
import numpy as np

from ingest.page import Colour
from recognise.evidence import Trace
from recognise.geometry import extent
from recognise.pixels.frame import Mask, Raster
from recognise.pixels.tracing import painted
from recognise.vectors.graph import Graph, graphs, loops
from recognise.vectors.heads import Head, with_heads
from recognise.vectors.inks import Canvas, Ink, of_one_pen
from recognise.vectors.joining import Line
from recognise.vectors.marks import is_square
from recognise.vectors.painting import THINNEST, filled, polygon_area
from recognise.vectors.patches import CELL, Patch, canvas_mask, joined_patches, touch
from recognise.vectors.rounds import RIM, Rounds, area, cell_under, draw_discs, spokes, touching
from recognise.vectors.walls import is_hollow, within
from schema.cells import Cell

SURE, UNSURE = 0.999, 0.6
"""Confidence of a trace whose ink is wholly explained by it, and of one with something in doubt."""
SPARE = 0.08
"""In cells: how far ink may stand beside a line as traced: mitred bends, square ends, curves at a bulb."""
HAIRLINE = 0.03
"""In cells: a stroke this thin is two or three pixels wide."""
HEAD_SIZE = 0.65
"""In cells: what is added to a line's end as its head is no larger."""
MOST_NEAR = 6
"""So many small inks at the ends of a line are tried one by one."""
STRAIGHT = 0.97
"""The part of its hull that a straight bar fills."""
OF_HEAD = 0.75
"""The part of an ink that lies within the head which it draws."""


def each_alone(
    inks: Sequence[tuple[int, Ink]], rounds: Rounds, canvas: Canvas
) -> tuple[list[Line], list[tuple[int, Ink]]]:
    """Every ink that is a line by itself, or with the head at its end, and the other inks."""
    lines: list[Line] = []
    heads: set[int] = set()
    left = []
    small = _Small(inks)
    for index, ink in sorted(inks, key=lambda each: -extent(each[1].box)):
        if index in heads:
            continue
        found = _trace(index, ink, small.near(index, ink, heads), rounds, canvas)
        lines.extend(found)
        heads |= {each for line in found for each in line.inks}
        if not found:
            left.append((index, ink))
    return sorted(lines, key=lambda line: line.inks), sorted(each for each in left if each[0] not in heads)


class _Small:
    """The inks that may be heads, for looking up by place: pages with dotted lines have thousands of them. A square is
    none, although it comes to a point where a slanting line ends in it."""

    def __init__(self, inks: Sequence[tuple[int, Ink]]) -> None:
        small = [(number, ink, extent(ink.box)) for number, ink in inks if extent(ink.box) < HEAD_SIZE]
        self._inks = [each for each in small if not is_square(each[1])]
        self._boxes = np.array([ink.box for _, ink, _ in self._inks]).reshape(-1, 4)

    def near(self, index: int, ink: Ink, taken: Container[int]) -> list[tuple[int, Ink]]:
        """Those no further from an ink than a head is long, smaller than it, of its colour, and not taken."""
        longest = extent(ink.box)
        low, high = np.array(ink.box[:2]) - HEAD_SIZE, np.array(ink.box[2:]) + HEAD_SIZE
        meets = ((self._boxes[:, :2] <= high) & (self._boxes[:, 2:] >= low)).all(axis=1)
        found = (self._inks[place] for place in np.flatnonzero(meets))
        return [
            (number, other)
            for number, other, size in found
            if number != index and number not in taken and size < longest and of_one_pen(other, ink)
        ]


def _trace(index: int, ink: Ink, small: Sequence[tuple[int, Ink]], rounds: Rounds, canvas: Canvas) -> list[Line]:
    """The lines that one ink draws: as its own area, or as the area within its outline."""
    near_ones = _near_end(ink, small)
    found, used = _traced(ink.whole, ink, touching(ink, rounds), near_ones, canvas)
    if found:
        hollow = is_hollow([trace for trace, _ in found], ink, canvas)
        return [_line(replace(trace, outlined=hollow), (index, *used), heads) for trace, heads in found]
    if ink.role == "stroke" and all(ink.closed) and ink.width <= CELL:
        inside = filled(ink.outlines, ink.even_odd, canvas.raster, canvas.shape)
        found, _ = _traced(inside, ink, Rounds(()), (), canvas)
    elif ink.role == "fill" and len(ink.outlines) > 1:
        found, _ = _traced(within(ink.whole), ink, Rounds(()), (), canvas)
    return [_line(replace(trace, outlined=True), (index,), heads) for trace, heads in found]


def _line(trace: Trace, inks: tuple[int, ...], heads: tuple[Head, ...]) -> Line:
    return Line(trace, inks, len(trace.links), heads)


def _near_end(ink: Ink, small: Sequence[tuple[int, Ink]]) -> tuple[tuple[int, Ink], ...]:
    """Those small inks that touch an ink, or touch one that does: its arrow head, perhaps."""
    small = list(small)
    found: list[tuple[int, Ink]] = []
    fresh = [ink]
    while fresh and small:
        one = fresh.pop()
        met = [each for each in small if touch(one.whole, each[1].whole)]
        small = [each for each in small if each not in met]
        found += met
        fresh += [other for _, other in met]
    return tuple(found)


def _traced(
    patch: Patch, ink: Ink, rounds: Rounds, near_ones: tuple[tuple[int, Ink], ...], canvas: Canvas
) -> tuple[list[tuple[Trace, tuple[Head, ...]]], tuple[int, ...]]:
    """The traces on a patch with their heads, and the indices of those of `near_ones` that draw heads."""
    if not near_ones:
        return headed(patch, ink, rounds, (), canvas), ()
    # The fewest that make the most heads: where two arrows meet, the head of one touches the line of the other.
    tried = [(some, headed(patch, ink, rounds, some, canvas)) for some in _choices(near_ones)]
    some, found = max(tried, key=lambda each: (sum(len(heads) for _, heads in each[1]), -len(each[0])))
    used = tuple(each for each in some if draws_head(each[1], [head for _, its in found for head in its], canvas))
    if len(used) < len(some):
        found = headed(patch, ink, rounds, used, canvas)
    return found, tuple(index for index, _ in used)


def _choices(near_ones: tuple[tuple[int, Ink], ...]) -> Iterator[tuple[tuple[int, Ink], ...]]:
    """What may be heads: all that is near, or one or two of it."""
    yield near_ones
    if 1 < len(near_ones) <= MOST_NEAR:
        yield from combinations(near_ones, 1)
        yield from combinations(near_ones, 2)


def headed(
    patch: Patch, ink: Ink, rounds: Rounds, near_ones: Sequence[tuple[int, Ink]], canvas: Canvas
) -> list[tuple[Trace, tuple[Head, ...]]]:
    """The traces on a patch with their heads: with the circles drawn from which they come, and `near_ones`."""
    mask = canvas_mask(patch, canvas.shape)
    for _, other in near_ones:
        mask[other.whole.window] |= other.whole.mask
    starts, bare = set(), mask.copy()
    for disc in rounds.discs:
        rim = np.zeros(canvas.shape, dtype=np.bool_)
        draw_discs(rim, [replace(disc, radius=disc.radius + RIM)], canvas.raster)
        starts |= spokes(mask, patch, ink, rim, [cell_under(disc.centre)], canvas.raster)
    draw_discs(mask, rounds.discs, canvas.raster)
    for capsule in rounds.capsules:
        starts |= spokes(mask, patch, ink, area(capsule, canvas), capsule.cells, canvas.raster)
    is_open = ink.role == "stroke" and not any(ink.closed)
    half = max(ink.width if is_open else 0.0, THINNEST) / 2
    is_hairline = is_open and ink.width <= HAIRLINE
    found = graphs(_spread(mask) if is_hairline and rounds.discs and near_ones else mask, canvas.raster)
    return [
        (_trace_of(graph, ink, heads), tuple(heads.values()))
        for graph, heads in with_heads(found, mask, bare, canvas.raster, starts, half)
    ]


def _spread(mask: Mask) -> Mask:
    """The mask of an arrow's hairline a pixel wider: over a table whose rows are not quite equal it runs beside the
    middles."""
    wider: Mask = cv2.dilate(mask.view(np.uint8), np.ones((3, 3), np.uint8)).view(np.bool_)
    return wider


def draws_head(ink: Ink, heads: Sequence[Head], canvas: Canvas) -> bool:
    """Whether an ink lies within heads."""
    area = np.zeros(canvas.shape, dtype=np.bool_)
    for head in heads:
        draw_head(area, head, canvas.raster)
    mask = ink.whole.mask
    return bool(np.count_nonzero(area[ink.whole.window] & mask) >= OF_HEAD * np.count_nonzero(mask))


def draw_head(area: Mask, head: Head, raster: Raster) -> None:
    """Fill a head, and a little around it."""
    points = np.round(np.array(head.outline) * CELL + raster.origin).astype(np.int32)
    cv2.fillConvexPoly(area.view(np.uint8), points, 1)
    cv2.polylines(area.view(np.uint8), [points], True, 1, raster.px(2 * SPARE))


def _trace_of(graph: Graph, ink: Ink, heads: dict[Cell, Head]) -> Trace:
    nodes = graph.cells
    index = {cell: place for place, cell in enumerate(nodes)}
    width = float(np.median([step.width for step in graph.steps]))
    notes = (*graph.notes, *loops(graph))
    return Trace(
        nodes=nodes,
        links=tuple(sorted((index[step.first], index[step.second]) for step in graph.steps)),
        colour=ink.colour,
        # The width of an open stroke is known, and that of a straight bar; of anything else it is measured.
        width=ink.width if ink.role == "stroke" and not any(ink.closed) else bar_width(ink) or width,
        outlined=False,
        how="vector",
        discs=tuple(sorted((index[cell], radius) for cell, radius in graph.discs.items())),
        heads=tuple(sorted(index[cell] for cell in heads)),
        dashed=ink.dashed,
        barbs=tuple(head.outline for head in heads.values()),
        confidence=UNSURE if notes else SURE,
        ambiguous=notes,
    )


def bar_width(ink: Ink) -> float | None:
    """The width, in cells, of an ink that fills one straight bar, with square or round ends; None for any other."""
    if ink.role != "fill" or len(ink.outlines) != 1 or ink.grain:
        return None
    hull = cv2.convexHull(ink.outlines[0].astype(np.float32))
    area, around = cv2.contourArea(hull), cv2.arcLength(hull, closed=True)
    if abs(polygon_area(ink.outlines[0])) < STRAIGHT * area:
        return None
    # With n for 4 (square ends) or pi (round ones) the area is width * around / 2 - n * width^2 / 4.
    ends = np.pi if ink.curved else 4.0
    return float(around - np.sqrt(max(0.0, around**2 - 4 * ends * area))) / ends


def together(left: Sequence[tuple[int, Ink]], rounds: Rounds, canvas: Canvas) -> list[Line]:
    """Lines put together from inks of one colour, none of which is a line by itself."""
    groups: dict[tuple[str, Colour, bool], list[tuple[int, Ink]]] = {}
    for index, ink in left:
        groups.setdefault((ink.role, ink.colour, ink.dashed), []).append((index, ink))
    lines = []
    for group in groups.values():
        if len(group) < 2:
            continue
        patch = group[0][1].whole
        for _, ink in group[1:]:
            patch = joined_patches(patch, ink.whole)
        ink = group[0][1]
        near_ones = [touching(other, rounds) for _, other in group]
        its_rounds = Rounds(
            tuple({id(disc): disc for each in near_ones for disc in each.discs}.values()),
            tuple({id(capsule): capsule for each in near_ones for capsule in each.capsules}.values()),
        )
        found = headed(patch, ink, its_rounds, (), canvas)
        hollow = not found
        if hollow and ink.role == "stroke":
            found = headed(within(patch), replace(ink, closed=(True,)), Rounds(()), (), canvas)
        for trace, heads in found:
            its = tuple(index for index, other in group if _meets_trace(other, trace, heads, canvas))
            if not its:
                # Waves that cross happen to cover the way between two cells.
                continue
            lines.append(_line(replace(trace, outlined=hollow), its, heads))
    return lines


def _meets_trace(ink: Ink, trace: Trace, heads: Sequence[Head], canvas: Canvas) -> bool:
    area = painted([trace], canvas.raster, canvas.shape, SPARE)
    for head in heads:
        draw_head(area, head, canvas.raster)
    its = area[ink.whole.window]
    return bool(np.count_nonzero(its & ink.whole.mask) > 0.8 * np.count_nonzero(ink.whole.mask))
