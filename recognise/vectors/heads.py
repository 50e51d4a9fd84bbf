"""Arrow heads at the ends of traced lines: what widens to both sides of a line's end and narrows to a tip.

Only the area is looked at, so a filled triangle, a kite, two strokes and a polyline that turns back on itself are the
same."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

import cv2
import numpy as np

from ingest.page import Point
from recognise.pixels.frame import Mask, Raster
from recognise.vectors.graph import STEPS, Graph, Step, disc_on, inked_at
from recognise.vectors.place import Floats
from schema.cells import Cell

BEHIND, BEYOND, ASIDE = 0.75, 0.55, 0.48
"""In cells from the middle of a line's last cell: how far back along the line, on beyond it, and to its sides a head is
looked for."""
FINE = 64
"""Samples a cell."""
FLARE = 0.03
"""In cells: how far beside the line a head reaches at least, on either side."""
WIDER = 1.5
"""So many times as wide as its line a head is at least: the corners of a square cap on a slanting line reach beside it
as well, by two fifths."""
SHORTEST, LONGEST = 0.06, 0.7
"""In cells: length of a head from its tip."""
WIDEST = 0.44
"""In cells: a head reaches less far to the side; what does is another line."""
LOPSIDED = 1.7
"""How much more a head reaches to one side than to the other."""
BACK = 0.6
"""As a part of its length: a head is widest so far behind its tip; a disc or diamond is at half."""
NARROW = 0.75
"""At a quarter of its length behind the tip a head is at most so wide, as a part of its greatest width."""
UNEVEN = 4
"""Samples: where a thin barb leaves the line its width wavers about what counts as wide, over so many at most."""
BREAK = 0.1
"""In cells: a gap between the line and its head, and along a dashed line."""
REACHED = 0.5
"""The part of a step that a line runs along at least to be on its way into the next cell."""


@dataclass(frozen=True, slots=True)
class Head:
    """A head: tip and the two points behind it, in cells."""

    outline: tuple[Point, Point, Point]


def with_heads(
    found: list[Graph], mask: Mask, bare: Mask, raster: Raster, starts: Collection[Cell], half: float
) -> Iterator[tuple[Graph, dict[Cell, Head]]]:
    """Every graph with its heads by cell, and with the steps added that end in a head before the middle of their last
    cell. `bare` is the mask without the circles of other inks; `starts` are cells with a circle from which lines may
    come; `half` is half the width of the line."""
    taken: set[Cell] = set()
    for graph in found:
        taken |= set(graph.cells)
        yield _headed(*_in_circles(graph, bare, raster, half), mask, raster, half)
    for cell in starts:
        if cell not in taken:
            late = list(_late(cell, frozenset(), mask, raster, half))
            if late:
                steps = tuple(step for step, _ in late)
                yield _grown(Graph((), {}), steps, mask, raster), {s.other(cell): head for s, head in late}


def _in_circles(graph: Graph, bare: Mask, raster: Raster, half: float) -> tuple[Graph, dict[Cell, Head]]:
    """A graph with the heads that end in circles of other marks, which are no bulbs of it."""
    heads: dict[Cell, Head] = {}
    for cell in graph.discs:
        arms = [step for step in graph.steps if cell in (step.first, step.second)]
        head = head_at(bare, raster, arms[0].other(cell), cell, half) if len(arms) == 1 else None
        if head is not None:
            heads[cell] = head
    return replace(graph, discs={cell: size for cell, size in graph.discs.items() if cell not in heads}), heads


def _headed(
    graph: Graph, heads: dict[Cell, Head], mask: Mask, raster: Raster, half: float
) -> tuple[Graph, dict[Cell, Head]]:
    """A graph with its heads, of which those in `heads` are known."""
    heads = dict(heads)
    steps: list[Step] = []
    for cell in graph.cells:
        arms = [step for step in graph.steps if cell in (step.first, step.second)]
        if cell in heads or (len(arms) > 1 and cell not in graph.discs):
            continue
        if cell not in graph.discs:
            head = head_at(mask, raster, arms[0].other(cell), cell, half)
            if head is not None:
                heads[cell] = head
                continue
        linked = frozenset(arm.other(cell) for arm in arms)
        for step, head in _late(cell, linked, mask, raster, half):
            if step.other(cell) not in graph.cells:
                steps.append(step)
                heads[step.other(cell)] = head
    return (_grown(graph, tuple(steps), mask, raster) if steps else graph), heads


def _grown(graph: Graph, steps: tuple[Step, ...], mask: Mask, raster: Raster) -> Graph:
    everything = (*graph.steps, *steps)
    discs = dict(graph.discs)
    for cell in {cell for step in steps for cell in (step.first, step.second)}:
        radius = disc_on(mask, raster, cell, [step for step in everything if cell in (step.first, step.second)])
        if radius is not None and cell in {step.first for step in steps}:
            discs[cell] = radius
    return Graph(everything, discs, graph.notes)


def _late(cell: Cell, linked: frozenset[Cell], mask: Mask, raster: Raster, half: float) -> Iterator[tuple[Step, Head]]:
    """Steps from a cell that end in a head before the middle of the next one."""
    for rows, columns in (*STEPS, *((-rows, -columns) for rows, columns in STEPS)):
        other = cell.stepped(rows, columns)
        if other in linked or not (1 <= other.row <= raster.rows and 1 <= other.column <= raster.columns):
            continue
        start, end = np.array(cell.centre), np.array(other.centre)
        way = start + (end - start) * np.linspace(0.06, 1, FINE)[:, None]
        inked = inked_at(mask, way * raster.cell + raster.origin)
        if float(np.cumprod(inked).mean()) < REACHED:
            continue
        head = head_at(mask, raster, cell, other, half)
        if head is not None:
            yield Step(cell, other, 2 * half), head


def head_at(mask: Mask, raster: Raster, before: Cell, cell: Cell, half: float) -> Head | None:
    """The head of a line that comes from `before` and ends in `cell`."""
    end, start = np.array(cell.centre), np.array(before.centre)
    along = (end - start) / np.linalg.norm(end - start)
    aside = np.array([-along[1], along[0]])
    s = np.arange(-round(BEHIND * FINE), round(BEYOND * FINE) + 1) / FINE
    v = np.arange(-round(ASIDE * FINE), round(ASIDE * FINE) + 1) / FINE
    points = end + s[:, None, None] * along + v[None, :, None] * aside
    area = _joined(inked_at(mask, points * raster.cell + raster.origin), half)
    if area is None:
        return None
    tip = _tip(area, s, v, half)
    if tip is None:
        return None
    reach = np.where(area, np.abs(v)[None, :], 0.0)
    left, right = reach[:, v < 0].max(axis=1), reach[:, v > 0].max(axis=1)
    wide = _zone(np.maximum(left, right) > half + FLARE, tip)
    if wide is None:
        return None
    first, last = wide
    sides = float(left[first : last + 1].max()), float(right[first : last + 1].max())
    ends_here = first > 0 and s[tip] - s[last] <= half + 2 * BREAK
    fits = SHORTEST <= float(s[tip] - s[first]) <= LONGEST and max(sides) <= WIDEST
    # Where a program rounds, a small head stands a little beside its line: its own middle runs through the tip.
    beside = float(v[area[tip]].mean())
    own = sides[0] + beside, sides[1] - beside
    even = min(own) >= max(half + FLARE, WIDER * half) and max(own) <= LOPSIDED * min(own)
    if not (ends_here and fits and even and _is_pointed(left + right, first, tip)):
        return None
    back, point = end + s[first] * along, end + s[tip] * along
    corners = (point, back - sides[0] * aside, back + sides[1] * aside)
    tip_point, one, other = ((float(x), float(y)) for x, y in corners)
    return Head((tip_point, one, other))


def _joined(area: Mask, half: float) -> Mask | None:
    """The part of the area that hangs together with the line, which comes in along the middle."""
    grown = cv2.dilate(area.astype(np.uint8), np.ones((3, 3), np.uint8))
    _, labels = cv2.connectedComponents(grown, connectivity=8)
    middle = area.shape[1] // 2
    near = max(1, round(half * FINE))
    here = labels[: round(BEHIND * FINE) // 3, middle - near : middle + near + 1]
    own = set(np.unique(here[here > 0]).tolist())
    return (np.isin(labels, list(own)) & area) if own else None


def _tip(area: Mask, s: Floats, v: Floats, half: float) -> int | None:
    """Where the line, with its head, ends."""
    on_axis = area[:, np.abs(v) <= half + 1.5 / FINE].any(axis=1)
    inked = np.flatnonzero(on_axis)
    if not len(inked) or s[inked[0]] > -BEHIND / 2:
        return None
    breaks = np.flatnonzero(np.diff(inked) > BREAK * FINE)
    last = int(inked[breaks[0]] if len(breaks) else inked[-1])
    return last if last < len(s) - 1 else None


def _zone(wide: Mask, tip: int) -> tuple[int, int] | None:
    """The last stretch before the tip where the area is wide."""
    inside = np.flatnonzero(wide[: tip + 1])
    if not len(inside):
        return None
    last = int(inside[-1])
    breaks = np.flatnonzero(np.diff(inside) > UNEVEN)
    return (int(inside[breaks[-1] + 1]) if len(breaks) else int(inside[0])), last


def _is_pointed(width: Floats, first: int, tip: int) -> bool:
    """Whether the area is widest at its back and narrows towards its tip."""
    widest = first + int(np.argmax(width[first : tip + 1]))
    quarter = tip - max(1, (tip - first) // 4)
    return bool(tip - widest >= BACK * (tip - first) and width[quarter] <= NARROW * width[widest])
