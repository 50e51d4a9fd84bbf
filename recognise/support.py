"""Whether a line that one reader claims is there in the picture: its ink, looked for where it must be."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import combinations

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Point
from recognise.draft import Polygon
from recognise.evidence import Flat, Trace
from recognise.geometry import band, disc_polygon, filled

Grey = npt.NDArray[np.float32]

SAMPLES = 25
"""Places looked at along one link, from cell centre to cell centre."""
BEND = 3.0
"""As a multiple of its depth: how far from a bend the way has no ink beside it where a curve cuts the bend off."""
LATTICE = 0.06
"""In cells: so near to the middle of a lattice line there need be no ink of a line that crosses it."""
ACROSS = 0.04
"""In cells: how far beside its place a wall of an outlined tube is looked for."""
OFF, FARTHEST_OFF = 0.25, 0.02
"""As a part of its width, and in cells: how far beside its place a line that a PDF draws may show: a table's program
sets all marks half a lattice line off."""
CIRCLE, HEAD = 0.46, 0.3
"""In cells: how far around the start of an arrow without a disc of its own (a capsule is there), and around the middle
of the cell in which its head is, its shaft may be missing."""
SLACK = 0.05
"""In cells: how far the ink of a line may reach beyond its measured width (blur, rounding, a wall's own thickness)."""
DASH_GAP = 0.15
"""In cells: half of the widest gap between the dashes of a broken line."""
BEYOND = 0.42
"""In cells: how far a line may go on beyond the middle of its last cell."""
HEAD_LONG, HEAD_WIDE = 0.3, 0.18
"""In cells: how long an arrow head is at most, and how far it reaches to each side of its shaft."""
STRIP = 0.2
"""In cells."""
SHARP = 0.1
"""Cosine of the angle at a bend from which on its tip stands out: 45 degrees, not 90."""
BULB_SIDES = 16
"""Corners of the polygon that stands for a bulb."""


def supported(drawn: Grey, floor: float, flat: Flat, trace: Trace, upon: Sequence[tuple[Point, float]] = ()) -> float:
    """The least share, over the links of a trace, of places along the link at which there is ink. `drawn` is ink from 0
    to 1 in the pixels of `flat`, without the lattice; `floor` the least that counts. `upon` are middles and
    radii of what may hide a line."""
    hidden = [(trace.nodes[node].centre, radius) for node, radius in _hiding(trace).items()]
    hidden += upon
    shares = [_share(drawn, floor, flat, ends, trace, hidden) for ends in _links(trace)]
    return min(shares, default=0.0)


def _hiding(trace: Trace) -> dict[int, float]:
    """The nodes of a trace around which its line may be hidden, or lead round in a curve, and how far."""
    found = dict.fromkeys(range(len(trace.nodes)), BEND * trace.sway) if trace.sway else {}
    found |= dict(trace.discs)
    if trace.heads:
        leaves = [node for node in range(len(trace.nodes)) if sum(node in link for link in trace.links) == 1]
        discs = dict(trace.discs)
        found |= {node: HEAD if node in trace.heads else CIRCLE for node in leaves if node not in discs}
    return found


def covered(drawn: Grey, floor: float, flat: Flat, outlines: Sequence[Polygon]) -> Callable[[Sequence[Polygon]], float]:
    """A function that tells which part of the ink in some polygons lies within the outlines; 0 where there is none."""
    reach = max(1, round(SLACK * flat.cell))
    mask = filled(flat, outlines)
    within = cv2.dilate(mask, np.ones((2 * reach + 1, 2 * reach + 1), np.uint8)) > 0
    inked = drawn > 2 * floor

    def share(polygons: Sequence[Polygon]) -> float:
        corners = np.concatenate([np.asarray(polygon, np.float64) for polygon in polygons])
        (x0, y0), (x1, y1) = (
            np.rint((v + flat.margin) * flat.cell).astype(int) for v in (corners.min(0), corners.max(0))
        )
        part = slice(max(0, y0), max(0, y1)), slice(max(0, x0), max(0, x1))
        ink = inked[part] & (filled(flat, polygons)[part] > 0)
        return float(within[part][ink].mean()) if ink.any() else 0.0

    return share


def claims(trace: Trace) -> tuple[Polygon, ...]:
    """Polygons that cover all ink of a trace: a band along each link, a disc on each node that carries one, heads."""
    half = trace.width / 2 + SLACK
    bands = [band(start, end, half) for start, end in _links(trace)]
    if trace.sway:
        # A wave hides nothing: it takes up little of the strip in which it swings.
        ways = [(np.array(start), np.array(end)) for start, end in _links(trace)]
        bands = [strip for start, end in ways for strip in _strips(start, end, half + trace.sway)]
    joints = [disc_polygon(cell.centre, half, BULB_SIDES) for cell in trace.nodes]
    bulbs = [disc_polygon(trace.nodes[node].centre, radius + SLACK, BULB_SIDES) for node, radius in trace.discs]
    ends = _overshoots(trace, half) if trace.how == "vector" else _heads(trace)
    return (*bands, *joints, *bulbs, *ends, *trace.barbs)


def _heads(trace: Trace) -> Iterator[Polygon]:
    """The triangle that an arrow head fills, behind its tip as seen in a picture."""
    for node, beyond in trace.tips:
        start, end = (np.array(trace.nodes[at].centre) for at in (trace.before(node), node))
        way = (end - start) / np.hypot(*(end - start))
        aside = np.array((-way[1], way[0])) * (HEAD_WIDE + SLACK)
        tip, back = end + way * (beyond + 2 * SLACK), end + way * (beyond - HEAD_LONG)
        yield tuple(map(_point, (tip, back + aside, back - aside)))


def _overshoots(trace: Trace, half: float) -> Iterator[Polygon]:
    """Where the ink of a line goes on beyond the middle of a cell, which only the vectors know to be the line's: behind
    an end, and the tip of a sharp bend."""
    for node, ways in _arms(trace).items():
        middle = np.array(trace.nodes[node].centre)
        if len(ways) == 1 and half < BEYOND:
            yield from _strips(middle - ways[0] * half, middle - ways[0] * BEYOND, half)
    yield from tips(trace, half)


def tips(trace: Trace, half: float) -> Iterator[Polygon]:
    """The tips of a line's sharp bends, where its sides are drawn out until they meet; `half` of its width in cells."""
    for node, ways in _arms(trace).items():
        middle = np.array(trace.nodes[node].centre)
        # Where lines part, two of the ways are a bend of one of them.
        for one, other in combinations(ways, 2):
            if one @ other <= SHARP:
                continue
            bisector = (one + other) / np.hypot(*(one + other))
            sine = float(np.sqrt((1 - one @ other) / 2))
            outer = [middle + half * side for side in (_aside(one, bisector), _aside(other, bisector))]
            tip, foot = middle - bisector * half / sine, middle - bisector * half
            yield from (tuple(map(_point, (foot, side, tip))) for side in outer)


def _arms(trace: Trace) -> dict[int, list[npt.NDArray[np.float64]]]:
    """At each node of a line the directions in which it goes on."""
    arms: dict[int, list[npt.NDArray[np.float64]]] = {}
    for a, b in trace.links:
        for node, other in ((a, b), (b, a)):
            way = np.subtract(trace.nodes[other].centre, trace.nodes[node].centre)
            arms.setdefault(node, []).append(way / np.hypot(*way))
    return arms


def _strips(start: npt.NDArray[np.float64], end: npt.NDArray[np.float64], half: float) -> Iterator[Polygon]:
    """The band between two points, lengthwise in strips too narrow to hide a character: nobody looks for one there."""
    number = int(np.ceil(2 * half / STRIP))
    across = (end - start) @ np.array(((0.0, 1.0), (-1.0, 0.0))) / max(float(np.hypot(*(end - start))), 1e-9)
    for k in range(number):
        off = across * half * ((2 * k + 1) / number - 1)
        yield band(_point(start + off), _point(end + off), half / number)


def _aside(way: npt.NDArray[np.float64], inner: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """The direction across a way that leads away from the inner side of a bend."""
    across = np.array((-way[1], way[0]))
    return -across if across @ inner > 0 else across


def _point(at: npt.NDArray[np.float64]) -> Point:
    return float(at[0]), float(at[1])


def _links(trace: Trace) -> Iterator[tuple[Point, Point]]:
    for a, b in trace.links:
        yield trace.nodes[a].centre, trace.nodes[b].centre


def _share(
    drawn: Grey,
    floor: float,
    flat: Flat,
    ends: tuple[Point, Point],
    trace: Trace,
    hidden: Sequence[tuple[Point, float]] = (),
) -> float:
    """The share of places along one link of a trace at which there is ink of it: in its middle, in its walls, or, where
    its middle may be lighter than its sides, in either."""
    if trace.outlined:
        return _share_of_walls(drawn, floor, flat, ends, trace, hidden)
    middle = _share_of_middle(drawn, floor, flat, ends, trace, hidden)
    return max(middle, _share_of_walls(drawn, floor, flat, ends, trace, hidden)) if trace.cored else middle


def _share_of_middle(
    drawn: Grey,
    floor: float,
    flat: Flat,
    ends: tuple[Point, Point],
    trace: Trace,
    hidden: Sequence[tuple[Point, float]],
) -> float:
    along = np.linspace(np.array(ends[0]), np.array(ends[1]), SAMPLES)
    free = _in_the_open(along, hidden)
    beside = max(trace.sway, min(FARTHEST_OFF, OFF * trace.width) if trace.how == "vector" else 0.0)
    shows = _inked_beside(drawn, flat, along, beside) > floor
    if trace.dashed:
        # Between dashes or dots there is none; there must be some in every stretch of this length.
        window = 1 + 2 * round(DASH_GAP / float(np.hypot(*(along[1] - along[0]))))
        shows = np.convolve(shows, np.ones(window), "same") > 0
    return float(shows[free].mean()) if free.any() else 1.0


def _share_of_walls(
    drawn: Grey,
    floor: float,
    flat: Flat,
    ends: tuple[Point, Point],
    trace: Trace,
    hidden: Sequence[tuple[Point, float]],
) -> float:
    along = np.linspace(np.array(ends[0]), np.array(ends[1]), SAMPLES)
    direction = along[-1] - along[0]
    normal = np.array((-direction[1], direction[0])) / np.hypot(*direction)
    # The inner third only: walls give way at joints and bulbs.
    middle = along[SAMPLES // 3 : -(SAMPLES // 3)]
    others = [other for other in _links(trace) if other != ends]
    walls = []
    for side in (-1, 1):
        wall = middle + normal * side * trace.width / 2
        # A thin wall is a pixel wide: no place across it may be left out.
        near = [_inked(drawn, flat, wall + normal * side * off) for off in np.linspace(-ACROSS, ACROSS, 5)]
        # In a sharp bend the inner wall gives way as far as the other arm reaches.
        stands = np.array([all(_away(at, other) > trace.width / 2 + ACROSS for other in others) for at in wall])
        stands &= _in_the_open(wall, hidden)
        walls.append((np.max(near, axis=0) > floor)[stands].mean() if stands.any() else 1.0)
    return float(min(walls))


def _in_the_open(points: npt.NDArray[np.float64], hidden: Sequence[tuple[Point, float]]) -> npt.NDArray[np.bool_]:
    """Which points lie in no hidden circle, nor where a lattice line was taken away, and what crosses it with it."""
    free = np.asarray((np.abs(points - np.round(points)) > LATTICE).all(axis=1))
    for centre, radius in hidden:
        free &= np.hypot(points[:, 0] - centre[0], points[:, 1] - centre[1]) > radius + ACROSS
    return free


def _away(at: npt.NDArray[np.float64], ends: tuple[Point, Point]) -> float:
    """How far a point is from the straight way between two others."""
    start, way = np.array(ends[0]), np.subtract(ends[1], ends[0])
    part = float(np.clip((at - start) @ way / (way @ way), 0.0, 1.0))
    return float(np.hypot(*(at - start - part * way)))


def _inked_beside(drawn: Grey, flat: Flat, points: npt.NDArray[np.float64], sway: float) -> Grey:
    """The darkest ink up to so far beside points along a straight way: a wavy line is on one of its sides, and so may
    be one that was set off its place."""
    way = points[-1] - points[0]
    across = np.array((-way[1], way[0])) / np.hypot(*way)
    count = math.ceil(sway / ACROSS)
    aside = (across * sway * k / max(count, 1) for k in range(-count, count + 1))
    darkest: Grey = np.max([_inked(drawn, flat, points + off) for off in aside], axis=0)
    return darkest


def _inked(drawn: Grey, flat: Flat, points: npt.NDArray[np.float64]) -> Grey:
    places = np.rint((points + flat.margin) * flat.cell - 0.5).astype(int)
    rows = np.clip(places[:, 1], 0, drawn.shape[0] - 1)
    columns = np.clip(places[:, 0], 0, drawn.shape[1] - 1)
    return np.asarray(drawn[rows, columns], np.float32)
