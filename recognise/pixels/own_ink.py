"""The ink that is a line's own, as measured along its way: how wide it is, how far beside the middles of its cells it
lies, and how far it goes on behind the last of them. A claim (recognise/support.py) has room for all that; this has
none."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import cv2
import numpy as np
import numpy.typing as npt

from recognise.draft import Polygon
from recognise.evidence import Trace
from recognise.geometry import disc_polygon
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.support import BEYOND, SLACK

Floats = npt.NDArray[np.float64]

SHARE = 0.35
"""Part of a line's own ink from which on what stands beside it counts; its width is measured at the same part."""
DARKER = 0.16
"""Ink (0 to 1) by which characters are darker than pale lines."""
EVEN = 0.02
"""In cells: how far the side of a line may stray from its straight way: blur, grain, a picture not quite flat."""
CLEAR = 0.15
"""Part of a link at both its ends that tells nothing of its width: other arms and marks begin there."""
TOLD = 0.25
"""Part of a link along which its sides must be seen; else it is as wide as the reader says."""
ROUNDS, NEAR = 12, 0.004
"""Rounds of fitting a side, and how far off its way (in cells) a place counts in full."""
CURVE, TURN = 0.35, 0.98
"""In cells: how far from a bend a line may leave its way to round it, on the inner side; cosine of a turn too small to
be rounded."""
ROUND, FULL = 0.35, 0.75
"""Part of its width by which a round end goes on behind the last place at which so much of the width is inked."""
GAP, HOLLOW = (0.42, 0.58), 0.3
"""As parts of its width, where a hollow line has its gap; and how much of that is inked at most."""
HEAD = 0.4
"""In cells: how far from the middle of its cell an arrow head reaches."""
BLUNT = 0.3
"""Sine of half the angle of a bend below which its mitre is cut off."""
DISC = 0.11
"""In cells: how far the wall of a disc and its blur reach beyond its radius."""


@dataclass(frozen=True, slots=True)
class Arm:
    """A link as seen from one of its nodes: its corners there, and the direction in which it leads away."""

    corners: tuple[Floats, Floats]
    way: Floats

    @property
    def width(self) -> float:
        """In cells, with EVEN on both sides."""
        return float(np.hypot(*(self.corners[1] - self.corners[0])))


@dataclass(frozen=True, slots=True)
class OwnInk:
    """A line as measured: where there is ink as dark as its own, and its arms by node; `beyond` is how far its full
    width goes on behind each of its last nodes."""

    trace: Trace
    ink: Mask
    arms: dict[int, list[Arm]]
    beyond: dict[int, float]

    @property
    def width(self) -> float:
        """In cells, as the reader says."""
        return self.trace.width

    @property
    def ends(self) -> tuple[float, ...]:
        """How far it goes on behind each of its last nodes."""
        return tuple(self.beyond.values())

    def body(self, farthest: float) -> Iterator[Polygon]:
        """Polygons that cover the line's own ink, in cells; it goes on `farthest` behind its last nodes at most."""
        discs = dict(self.trace.discs)
        for a, b in self.trace.links:
            one, other = (self._arm(node, to) for node, to in ((a, b), (b, a)))
            yield _hull(*one.corners, *other.corners)
        for node, arms in self.arms.items():
            centre = self.trace.nodes[node].centre
            if node in self.trace.heads:
                yield disc_polygon(centre, HEAD)
            elif node in discs:
                yield disc_polygon(centre, discs[node] + DISC)
            elif node not in self.beyond:
                yield _hull(*(corner for arm in arms for corner in arm.corners))
                for pair in combinations(arms, 2):
                    yield from _bend(*pair)
        yield from self.tails(farthest)

    def tails(self, farthest: float) -> Iterator[Polygon]:
        """What it fills behind its last nodes, `farthest` at most and the rounding of its end."""
        for node, beyond in self.beyond.items():
            (arm,) = self.arms[node]
            behind = arm.way * (min(beyond, farthest) + ROUND * arm.width)
            yield _hull(*arm.corners, *(corner - behind for corner in arm.corners))

    def _arm(self, node: int, to: int) -> Arm:
        way = np.subtract(self.trace.nodes[to].centre, self.trace.nodes[node].centre)
        return max(self.arms[node], key=lambda arm: float(arm.way @ way))


def _bend(one: Arm, other: Arm) -> Iterator[Polygon]:
    """What a bend may fill beside its arms: a curve cuts it off on the inner side, a mitre goes on on the outer one."""
    if abs(float(one.way @ other.way)) > TURN:
        return
    corners = [*one.corners, *other.corners]
    yield _hull(*corners, *(corner + arm.way * CURVE for arm in (one, other) for corner in arm.corners))
    bisector = (one.way + other.way) / np.hypot(*(one.way + other.way))
    sine = max(BLUNT, float(np.sqrt((1 - one.way @ other.way) / 2)))
    yield _hull(*corners, np.mean(corners, axis=0) - bisector * max(one.width, other.width) / 2 / sine)


def own_ink(trace: Trace, ink: Grey, floor: float, raster: Raster) -> OwnInk:
    """A line's own ink, and its sides."""
    tone = _tone(trace, ink, raster)
    # On pale lines, and in the grain of rough paper, what stands out is what is darker than they are.
    dark = ink > (SHARE * tone if SHARE * tone > 2 * floor else tone + DARKER)
    arms: dict[int, list[Arm]] = {}
    for a, b in trace.links:
        for node, arm in zip((a, b), _arms(*_ends(trace, a, b), trace, dark, raster), strict=True):
            arms.setdefault(node, []).append(arm)
    taken = {*dict(trace.discs), *trace.heads}
    last = {node: its[0] for node, its in arms.items() if len(its) == 1 and node not in taken}
    # What is hollow ends in a wall, half a circle.
    half = 0.5 - ROUND
    beyond = {n: half * arm.width if trace.outlined else _goes_on(arm, dark, raster) for n, arm in last.items()}
    return OwnInk(trace, dark, arms, beyond)


def _ends(trace: Trace, a: int, b: int) -> tuple[Floats, Floats]:
    return np.array(trace.nodes[a].centre), np.array(trace.nodes[b].centre)


def _tone(trace: Trace, ink: Grey, raster: Raster) -> float:
    """How dark a line is, at the darkest across it."""
    across = (profiles(*_ends(trace, a, b), trace.width / 2, ink, raster).max(axis=1) for a, b in trace.links)
    return float(np.median(np.concatenate(list(across))))


def profiles(start: Floats, end: Floats, reach: float, ink: Grey, raster: Raster) -> Grey:
    """The ink across a link, (places along, places across), a pixel apart, from `reach` cells left to as many right."""
    length = float(np.hypot(*(end - start)))
    along = np.linspace(start, end, max(2, round(length * raster.cell)))
    count = raster.px(reach)
    offs = np.arange(-count, count + 1) / raster.cell
    places = (along[:, None, :] + offs[None, :, None] * _across((end - start) / length)) * raster.cell + raster.origin
    return np.asarray(
        cv2.remap(ink, places[..., 0].astype(np.float32), places[..., 1].astype(np.float32), cv2.INTER_LINEAR),
        np.float32,
    )


def _arms(start: Floats, end: Floats, trace: Trace, dark: Mask, raster: Raster) -> tuple[Arm, Arm]:
    """A link from its start and from its end; its sides run EVEN farther out than measured."""
    way = (end - start) / np.hypot(*(end - start))
    across, half = _across(way), trace.width / 2
    inked = profiles(start, end, half + SLACK, dark.astype(np.float32), raster) > 0.5
    number, middle = len(inked), inked.shape[1] // 2
    along = np.linspace(0, 1, number)
    tells = inked.any(axis=1) & (np.minimum(along, 1 - along) > CLEAR) & ~_on_discs(start, end, along, trace)
    firsts, lasts = inked.argmax(axis=1) - middle, middle - inked[:, ::-1].argmax(axis=1)
    if trace.outlined:
        # In a sharp bend there is no wall on the inner side, as far as the other arm reaches.
        tells &= np.minimum(-firsts, lasts) > half / 2 * raster.cell
    if tells.sum() < TOLD * number:
        left, right = (-half, -half), (half, half)
    else:
        left, right = (_fitted(along[tells], offs[tells] / raster.cell) for offs in (firsts, lasts))
    at_start, at_end = (
        (place + across * (left[n] - EVEN), place + across * (right[n] + EVEN)) for n, place in enumerate((start, end))
    )
    return Arm(at_start, way), Arm(at_end, -way)


def _on_discs(start: Floats, end: Floats, along: Floats, trace: Trace) -> npt.NDArray[np.bool_]:
    """Which places along a link lie on or close to a disc of its line."""
    places = start + along[:, None] * (end - start)
    found = np.zeros(len(along), np.bool_)
    for node, radius in trace.discs:
        away = np.hypot(*(places - trace.nodes[node].centre).T)
        found |= away < radius + DISC
    return found


def _fitted(places: Floats, offs: Floats) -> tuple[float, float]:
    """The straight side that most places lie on: how far off the way it is at both ends of the link (least absolute
    deviations, by weights)."""
    weights = np.ones_like(offs)
    slope, base = 0.0, 0.0
    for _ in range(ROUNDS):
        slope, base = np.polyfit(places, offs, 1, w=np.sqrt(weights))
        weights = 1 / np.maximum(np.abs(offs - base - slope * places), NEAR)
    return float(base), float(base + slope)


def _goes_on(arm: Arm, dark: Mask, raster: Raster) -> float:
    """How far a line goes on behind its last node in its full width, in cells; a hollow one as far as both its walls
    do."""
    steps = np.arange(0, BEYOND, 1 / raster.cell)
    if _inked(arm, -steps, GAP, dark, raster).mean() < HOLLOW:
        walls = (0.0, GAP[0]), (GAP[1], 1.0)
        full = np.all([_inked(arm, steps, wall, dark, raster).any(axis=1) for wall in walls], axis=0)
    else:
        full = _inked(arm, steps, (0.2, 0.8), dark, raster).mean(axis=1) >= FULL
    return float(steps[-1] if full.all() else steps[int(np.argmin(full))])


def _inked(arm: Arm, behind: Floats, between: tuple[float, float], dark: Mask, raster: Raster) -> Mask:
    """Where there is ink so far `behind` the last node of an arm, `between` two parts of its width: a row for each
    place along."""
    left, right = arm.corners
    parts = np.linspace(*between, 9)[:, None]
    places = left + parts * (right - left) - behind[:, None, None] * arm.way
    x, y = np.rint(places * raster.cell + raster.origin).astype(np.int64).transpose(2, 0, 1)
    return np.asarray(dark[y.clip(0, dark.shape[0] - 1), x.clip(0, dark.shape[1] - 1)], np.bool_)


def _across(way: Floats) -> Floats:
    return np.array((-way[1], way[0]))


def _hull(*points: Floats) -> Polygon:
    hull = cv2.convexHull(np.array(points, np.float32))[:, 0]
    return tuple((float(x), float(y)) for x, y in hull)
