"""From the mask of one ink layer to the lines drawn in it, as graphs of cells."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Colour, Point
from recognise.evidence import Trace
from recognise.pixels.frame import Colours, Mask, Raster
from recognise.pixels.links import Link, find_links, polar
from schema.cells import Cell

DIRECTIONS = 48
"""Rays around a cell centre: one every 7.5 degrees."""
CLEAR = np.deg2rad(38)
"""Rays nearer than this to a link say nothing about a disc; 45 degrees is the nearest that another link can be."""
DISC_REACH = 0.55
"""In cells: no disc on a line is larger, it would reach into the next cell."""
DISC_RATIO = 1.12
"""A disc is this much wider than its line at least: less is a rounded end."""
ROUND = 0.15
"""How much the rays of a disc may differ, as a part of its radius, beyond a pixel: square ends and bends differ by a
quarter and more."""
FREE = 0.25
"""The part of all rays that must be clear of links before anything is said: between four arms less is left, and that
looks round."""
SAME_COLOUR = 0.1
"""Links whose colours differ by less (of full scale, in any channel) are of one line: scans differ by 3 to 5 %."""
TIP = 0.12
"""In cells: how far a line goes on past the middle of its last cell before it ends, its cap not counted."""
SHARPEST = np.deg2rad(45)
"""The sharpest bend of a line from cell to cell."""
KNOWN = 0.4
"""The part of those rays that must be seen to end, not hidden by a digit, before anything is said."""
LIKE_OTHERS = 0.5
"""Discs of one layer are alike: one that stands out of its line by less than this part of what the largest does is the
rounded or mitred outside of a bend."""
SURE, UNSURE = 0.995, 0.6
"""Confidence of a line whose links are all whole, and of one with something in doubt."""


@dataclass(frozen=True, slots=True)
class _Bundle:
    """Links that hang together."""

    links: tuple[Link, ...]
    notes: tuple[str, ...] = ()

    @property
    def nodes(self) -> tuple[Cell, ...]:
        return tuple(sorted({cell for link in self.links for cell in (link.first, link.second)}))


def trace_layer(
    mask: Mask,
    raster: Raster,
    colours: Colours | None = None,
    outlined: bool = False,
    hidden: Mask | None = None,
) -> list[Trace]:
    """The lines of a layer. `mask` is the flattened picture's size and True on the line's ink (for outlined tubes: on
    the tube with its walls); `colours` gives the picture relative to paper, for telling crossing lines apart; `hidden`
    is True where something else covers what may be line."""
    links = find_links(mask, raster, hidden)
    sure = [link for link in links if link.sure]
    shades = _shades(sure, raster, colours)
    radii: dict[Cell, float] = {}
    traces = []
    for bundle in _bundles(sure, shades, radii, mask, raster, hidden):
        doubted = _doubted(bundle, links)
        noted = replace(bundle, notes=(*bundle.notes, *doubted, *_shortcuts(bundle, mask, raster)))
        traces.append(_trace(noted, shades, radii, raster, outlined))
    return traces


def _shades(links: Sequence[Link], raster: Raster, colours: Colours | None) -> dict[Link, npt.NDArray[np.float32]]:
    """The colour of each link: the median along its centre line, away from both ends."""
    if colours is None:
        return {link: np.zeros(3, np.float32) for link in links}
    shades = {}
    # Halftone dots and noise become a tone.
    smooth = cv2.blur(colours, (raster.px(0.08), raster.px(0.08)))
    for link in links:
        ends = np.array([link.first.centre, link.second.centre]) * raster.cell + raster.origin
        along = np.linspace(0.15, 0.85, 24)[:, None]
        points = np.rint(ends[0] + (ends[1] - ends[0]) * along).astype(np.int64)
        shades[link] = np.median(smooth[points[:, 1], points[:, 0]], axis=0)
    return shades


def _discs(mask: Mask, raster: Raster, links: Sequence[Link], hidden: Mask | None) -> dict[Cell, float]:
    """The radius, in cells, of the disc on each node of one line that has one. Where a ray ends in what is `hidden`
    nobody knows how far it goes."""
    arms: dict[Cell, list[Link]] = {}
    for link in links:
        arms.setdefault(link.first, []).append(link)
        arms.setdefault(link.second, []).append(link)
    nodes = sorted(arms)
    width = float(np.percentile([link.width for link in links], 25))
    covered = mask if hidden is None else mask | hidden
    extents = _extents(polar(covered, raster, nodes, DIRECTIONS, DISC_REACH))
    known = np.ones(extents.shape, dtype=bool)
    if hidden is not None:
        behind = polar(hidden & ~mask, raster, nodes, DIRECTIONS, DISC_REACH)
        last = np.maximum(extents - 1, 0)[..., None]
        known = ~np.take_along_axis(behind, last, axis=-1)[..., 0]
    return {
        cell: radius
        for cell, rays, seen in zip(nodes, extents / raster.cell, known, strict=True)
        if (radius := _disc(cell, arms[cell], rays, seen, width, 1 / raster.cell)) is not None
    }


def _extents(rays: npt.NDArray[np.bool_]) -> npt.NDArray[np.int64]:
    """How far along each ray the mask goes on without a break of more than a pixel."""
    joined = rays.copy()
    joined[..., :-1] |= rays[..., 1:]
    return np.asarray(np.cumprod(joined, axis=-1, dtype=np.int64).sum(axis=-1), np.int64)


def _disc(
    cell: Cell,
    arms: Sequence[Link],
    rays: npt.NDArray[np.float64],
    seen: npt.NDArray[np.bool_],
    width: float,
    pixel: float,
) -> float | None:
    """The radius of the disc around a node whose mask goes `rays` far, None where the line alone explains them.
    `seen` says which rays are seen to end; `width` is the line's; all lengths and `pixel`, the size of one, in
    cells."""
    angles = np.arange(len(rays)) * 2 * np.pi / len(rays)
    free = np.ones(len(rays), dtype=bool)
    for link in arms:
        other = link.second if link.first == cell else link.first
        towards = np.arctan2(other.row - cell.row, other.column - cell.column)
        apart = np.abs((angles - towards + np.pi) % (2 * np.pi) - np.pi)
        free &= apart > CLEAR
    clear = free & seen
    if free.mean() < FREE or clear.sum() < KNOWN * free.sum():
        return None
    low, middle, high = np.percentile(rays[clear], (20, 50, 80))
    if low < DISC_RATIO * width / 2 + pixel / 2 or high - low > ROUND * middle + pixel:
        return None
    return float(middle)


def _bundles(
    links: Sequence[Link],
    shades: dict[Link, npt.NDArray[np.float32]],
    radii: dict[Cell, float],
    mask: Mask,
    raster: Raster,
    hidden: Mask | None,
) -> list[_Bundle]:
    """Links put together where they meet in a cell, are of one colour, and make a line with one bulb. The radii of
    all discs found go into `radii`."""
    groups = _joined(links, lambda one, other: float(np.abs(shades[one] - shades[other]).max()) < SAME_COLOUR)
    bundles = [_Bundle(tuple(group)) for group in groups]
    discs = [_discs(mask, raster, bundle.links, hidden) for bundle in bundles]
    largest = max((radius for its in discs for radius in its.values()), default=0.0)
    found = []
    for bundle, its in zip(bundles, discs, strict=True):
        half = float(np.median([link.width for link in bundle.links])) / 2
        radii.update({c: r for c, r in its.items() if r - half >= LIKE_OTHERS * (largest - half)})
        found.extend(_uncrossed(bundle, radii) if _bulbs(bundle, radii) > 1 else [bundle])
    return found


def _joined(links: Sequence[Link], belong: Callable[[Link, Link], bool]) -> list[list[Link]]:
    """Links grouped by shared cells, as far as `belong(one, other)` agrees."""
    parent = list(range(len(links)))

    def root(index: int) -> int:
        while parent[index] != index:
            index = parent[index]
        return index

    meeting: dict[Cell, list[int]] = {}
    for index, link in enumerate(links):
        for cell in (link.first, link.second):
            meeting.setdefault(cell, []).append(index)
    for indices in meeting.values():
        for one, other in combinations(indices, 2):
            if belong(links[one], links[other]):
                parent[root(one)] = root(other)
    groups: dict[int, list[Link]] = {}
    for index, link in enumerate(links):
        groups.setdefault(root(index), []).append(link)
    return list(groups.values())


def _bulbs(bundle: _Bundle, radii: dict[Cell, float]) -> int:
    return sum(cell in radii for cell in bundle.nodes)


def _uncrossed(bundle: _Bundle, radii: dict[Cell, float]) -> list[_Bundle]:
    """A bundle with several bulbs taken apart where four arms cross straight; whole, with a note, where that does not
    give lines of one bulb each. A line with a disc at both ends is one line."""
    ends = [cell for cell in bundle.nodes if _degree(cell, bundle.links) == 1]
    if _bulbs(bundle, radii) == 2 and len(ends) == 2 and all(cell in radii for cell in ends):
        return [bundle]

    def straight(one: Link, other: Link) -> bool:
        shared = {one.first, one.second} & {other.first, other.second}
        cell = next(iter(shared))
        return _degree(cell, bundle.links) != 4 or _opposite(one, other, cell)

    parts = [_Bundle(tuple(group)) for group in _joined(bundle.links, straight)]
    if len(parts) > 1 and all(_bulbs(part, radii) == 1 for part in parts):
        return parts
    return [replace(bundle, notes=(*bundle.notes, "lines with several bulbs meet"))]


def _degree(cell: Cell, links: Iterable[Link]) -> int:
    return sum(cell in (link.first, link.second) for link in links)


def _opposite(one: Link, other: Link, cell: Cell) -> bool:
    ends = [link.second if link.first == cell else link.first for link in (one, other)]
    return all(a + b == 2 * c for a, b, c in zip(_rc(ends[0]), _rc(ends[1]), _rc(cell), strict=True))


def _rc(cell: Cell) -> tuple[int, int]:
    return cell.row, cell.column


def _doubted(bundle: _Bundle, links: Iterable[Link]) -> list[str]:
    """A note for each unsure link that would touch the bundle."""
    nodes = set(bundle.nodes)
    return [
        f"perhaps it also goes from {link.first} to {link.second}"
        for link in links
        if not link.sure and (link.first in nodes or link.second in nodes)
    ]


def _shortcuts(bundle: _Bundle, mask: Mask, raster: Raster) -> list[str]:
    """A note for each three cells that are all joined, with ink in their middle: one of the three steps may be only
    the inside of a bend. Where the middle is clear, three lines were drawn."""
    joined = {frozenset((link.first, link.second)) for link in bundle.links}
    notes = []
    for corner in bundle.nodes:
        arms = [cell for cell in bundle.nodes if cell.beside(corner) and frozenset((cell, corner)) in joined]
        for one, other in combinations(arms, 2):
            if frozenset((one, other)) in joined and _middle_covered(corner, one, other, mask, raster):
                notes.append(f"{corner}, {one} and {other} are all joined")
    return notes


def _middle_covered(corner: Cell, one: Cell, other: Cell, mask: Mask, raster: Raster) -> bool:
    """Whether the mask covers the incentre of a right triangle of cell centres, `corner` at its right angle."""
    share = 1 - 1 / np.sqrt(2)
    x, y = (
        round(raster.at(c + share * (a - c) + share * (b - c)))
        for c, a, b in zip(corner.centre, one.centre, other.centre, strict=True)
    )
    return bool(mask[y, x])


def _trace(
    bundle: _Bundle,
    shades: dict[Link, npt.NDArray[np.float32]],
    radii: dict[Cell, float],
    raster: Raster,
    outlined: bool,
) -> Trace:
    nodes = bundle.nodes
    index = {cell: place for place, cell in enumerate(nodes)}
    links = tuple(sorted((index[link.first], index[link.second]) for link in bundle.links))
    width = float(np.median([link.width for link in bundle.links]))
    discs = tuple((index[cell], radii[cell]) for cell in nodes if cell in radii)
    shade = np.median([shades[link] for link in bundle.links], axis=0)
    confidence = (UNSURE if bundle.notes else SURE) * min(link.score for link in bundle.links)
    trace = Trace(
        nodes, links, _colour(shade), width, outlined, "shape", discs, confidence=confidence, ambiguous=bundle.notes
    )
    return replace(trace, where=outline(trace, raster))


def _colour(shade: npt.NDArray[np.floating]) -> Colour:
    red, green, blue = (round(255 * float(value)) for value in shade)
    return red, green, blue


def painted(traces: Iterable[Trace], raster: Raster, shape: tuple[int, int], spare: float) -> Mask:
    """The traces as a mask, every line and disc drawn wider by `spare` cells on each side."""
    canvas = np.zeros(shape, dtype=np.uint8)
    for trace in traces:
        points = [(round(raster.at(cell.centre[0])), round(raster.at(cell.centre[1]))) for cell in trace.nodes]
        thick = raster.px(trace.width + 2 * spare)
        ends = [node for link in trace.links for node in link]
        for one, other in trace.links:
            cv2.line(canvas, points[one], points[other], 1, thick)
            for near, far in ((one, other), (other, one)):
                if spare > 0 and ends.count(near) == 1:
                    cv2.line(canvas, points[near], _beyond(points[near], points[far], raster), 1, thick)
        for node, radius in trace.discs:
            cv2.circle(canvas, points[node], raster.px(radius + spare), 1, -1)
        for node, point in enumerate(points):
            if node not in dict(trace.discs):
                cv2.circle(canvas, point, raster.px(trace.width / 2 + spare), 1, -1)
    return canvas.view(np.bool_)


def overshoots(traces: Iterable[Trace], raster: Raster, shape: tuple[int, int], spare: float) -> Mask:
    """Where the pen may have run on beyond the middle of a cell, as a mask: at square ends, and at mitred bends, whose
    tip lies half the width times the cotangent of half the angle behind the corner."""
    canvas = np.zeros(shape, dtype=np.uint8)
    for trace in traces:
        for node, ways in _ways(trace).items():
            reach = trace.width / 2 + spare
            if len(ways) > 1:
                angle = min(_angle(one, other) for one, other in combinations(ways, 2))
                reach = trace.width / 2 / np.tan(max(angle, SHARPEST) / 2) + spare
            x, y = trace.nodes[node].centre
            start = round(raster.at(x)), round(raster.at(y))
            for dx, dy in ways:
                end = round(raster.at(x - dx * reach)), round(raster.at(y - dy * reach))
                cv2.line(canvas, start, end, 1, raster.px(trace.width + 2 * spare))
    return canvas.view(np.bool_)


def _ways(trace: Trace) -> dict[int, list[Point]]:
    """The unit vectors along the links of each node."""
    ways: dict[int, list[Point]] = {}
    for one, other in trace.links:
        for node, far in ((one, other), (other, one)):
            (x, y), (fx, fy) = trace.nodes[node].centre, trace.nodes[far].centre
            length = float(np.hypot(fx - x, fy - y))
            ways.setdefault(node, []).append(((fx - x) / length, (fy - y) / length))
    return ways


def _angle(one: Point, other: Point) -> float:
    return float(np.arccos(np.clip(one[0] * other[0] + one[1] * other[1], -1, 1)))


def _beyond(end: tuple[int, int], before: tuple[int, int], raster: Raster) -> tuple[int, int]:
    """A point past the end of a line, as far as a tip goes on beyond the middle of its last cell."""
    step = np.array(end) - np.array(before)
    x, y = np.rint(end + step / np.linalg.norm(step) * TIP * raster.cell).astype(int)
    return int(x), int(y)


def outline(trace: Trace, raster: Raster) -> tuple[Point, ...]:
    """The outline of a trace, in cells."""
    shape = (2 * raster.origin + raster.rows * raster.cell, 2 * raster.origin + raster.columns * raster.cell)
    canvas = painted([trace], raster, shape, 0.0)
    contours, _ = cv2.findContours(canvas.view(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    if not contours:
        return ()
    largest = max(contours, key=len)
    simple = cv2.approxPolyDP(largest, 0.02 * raster.cell, closed=True)[:, 0]
    return tuple((raster.to_cells(float(x)), raster.to_cells(float(y))) for x, y in simple)
