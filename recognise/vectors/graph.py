"""From the exact area of a drawn line to the cells that it joins.

The area is known to a pixel, holes and all, so that a step between two cells is there exactly when the straight way
from centre to centre lies wholly inside, and a disc where the area reaches further to all free sides than the line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
import numpy.typing as npt

from recognise.pixels.frame import Mask, Raster
from recognise.vectors.place import Floats
from schema.cells import Cell

STEPS = ((0, 1), (1, 1), (1, 0), (1, -1))
"""(rows, columns) to the four neighbours that come later in reading order."""
COVERED = 0.97
"""The part of the way that lies inside; the rest is rounding. Two discs that nearly touch leave more open."""
SHY = 0.06
"""As a part of a step: a line cut off flat in the middle of its last cell may fall so short of it."""
WIDEST = 0.7
"""In cells: a wider line would touch itself in the next cell; what is wider is an area."""
WAIST = 0.5
"""The narrowest place of a step as a part of its width: discs in neighbouring cells that touch have none."""
PROBES = np.linspace(0.15, 0.85, 15)
"""Where along a step its width is taken. A sharp bend widens it to one side, so the nearer side counts."""
NARROW = 0.2
"""The quantile of those widths that counts: between two branches at 45 degrees only the far end of a step stands
free."""
ROUNDING = 1
"""Pixels by which the two sides of a line differ because its middle lies between pixels."""
RAYS = 48
CLEAR = np.deg2rad(40)
"""Rays nearer than this to a step say nothing about a disc; 45 degrees is the nearest that another step can be."""
BULGE = 1.1
"""A disc is so much wider than its line at least; a rounded or square end is as wide as its line."""
LEAST_DISC = 0.1
"""Radius in cells: what is smaller is the mitre of a bend, told from a disc by no more than a pixel."""
STANDS_OUT = 0.2
"""Of the rays between the arms of a cell so many must reach beyond what the arms alone cover there."""
ROUND = 0.2
"""How much the rays of a disc differ at most, as a part of its radius; those of a square end differ by 0.4."""


@dataclass(frozen=True, slots=True)
class Step:
    """A drawn step between two cells that touch; `width` in cells."""

    first: Cell
    second: Cell
    width: float

    def other(self, cell: Cell) -> Cell:
        """The end that is not `cell`."""
        return self.second if cell == self.first else self.first


@dataclass(frozen=True, slots=True)
class Graph:
    """Steps that hang together, the radius of the disc on each cell that has one, and what is ambiguous."""

    steps: tuple[Step, ...]
    discs: dict[Cell, float]
    notes: tuple[str, ...] = ()

    @property
    def cells(self) -> tuple[Cell, ...]:
        """The cells that the steps join, in reading order."""
        return tuple(sorted({cell for step in self.steps for cell in (step.first, step.second)}))


def graphs(mask: Mask, raster: Raster) -> list[Graph]:
    """The lines of a mask, taken apart where two lines with a bulb each cross straight."""
    steps = _steps(mask, raster)
    discs = _discs(mask, raster, steps)
    found: list[Graph] = []
    for group in _grouped(steps, lambda *_: True):
        whole = _graph(group, discs)
        found.extend(_uncrossed(whole) if len(whole.discs) > 1 else [whole])
    return found


def _graph(steps: Sequence[Step], discs: dict[Cell, float]) -> Graph:
    cells = {cell for step in steps for cell in (step.first, step.second)}
    return Graph(tuple(steps), {cell: radius for cell, radius in discs.items() if cell in cells})


def _steps(mask: Mask, raster: Raster) -> list[Step]:
    inked = _inked_cells(mask, raster)
    found = []
    for cell in sorted(inked):
        for rows, columns in STEPS:
            other = cell.stepped(rows, columns)
            width = _width(mask, raster, cell, other) if other in inked else None
            if width is not None:
                found.append(Step(cell, other, width))
    return found


def _inked_cells(mask: Mask, raster: Raster) -> set[Cell]:
    at = np.floor(raster.centres()).astype(int)
    shy = raster.px(SHY)
    inked = np.zeros(at.shape[:2], dtype=bool)
    for dx, dy in product((0, shy, -shy), repeat=2):
        inked |= mask[at[..., 1] + dy, at[..., 0] + dx]
    return {Cell(int(row) + 1, int(column) + 1) for row, column in np.argwhere(inked)}


def _width(mask: Mask, raster: Raster, first: Cell, second: Cell) -> float | None:
    """The width of the step between two cells; None when nothing is drawn between them."""
    start, end = (np.array(cell.centre) * raster.cell + raster.origin for cell in (first, second))
    way = start + (end - start) * np.linspace(SHY, 1 - SHY, raster.cell)[:, None]
    if inked_at(mask, way).mean() < COVERED:
        return None
    along = (end - start) / np.linalg.norm(end - start)
    aside = np.array([-along[1], along[0]])
    reach = np.arange(1, round(WIDEST * raster.cell))
    probes = start + (end - start) * PROBES[:, None]
    sides = [probes[:, None] + sign * aside * reach[None, :, None] for sign in (1, -1)]
    halves = [np.cumprod(inked_at(mask, side), axis=1).sum(axis=1) for side in sides]
    nearer, farther = np.minimum(*halves), np.maximum(*halves)
    widths = (nearer + np.minimum(farther, nearer + ROUNDING)) / raster.cell
    width = float(np.quantile(widths, NARROW))
    # Of a line two or three pixels wide one pixel is half.
    waist = max(WAIST * width - ROUNDING / raster.cell, ROUNDING / raster.cell)
    return width if width <= WIDEST and widths.min() >= waist else None


def inked_at(mask: Mask, points: Floats) -> npt.NDArray[np.bool_]:
    """Whether there is ink at points (..., 2) in pixels of the canvas."""
    pixels = np.floor(points).astype(int)
    found: npt.NDArray[np.bool_] = mask[pixels[..., 1], pixels[..., 0]]
    return found


def _discs(mask: Mask, raster: Raster, steps: Iterable[Step]) -> dict[Cell, float]:
    arms: dict[Cell, list[Step]] = {}
    for step in steps:
        arms.setdefault(step.first, []).append(step)
        arms.setdefault(step.second, []).append(step)
    radii = ((cell, disc_on(mask, raster, cell, its)) for cell, its in arms.items())
    return {cell: radius for cell, radius in radii if radius is not None}


def disc_on(mask: Mask, raster: Raster, cell: Cell, arms: Sequence[Step]) -> float | None:
    """The radius of the disc on a cell; None where the line alone explains the area."""
    angles = np.arange(RAYS) * 2 * np.pi / RAYS
    free = np.ones(RAYS, dtype=bool)
    others = [step.other(cell) for step in arms]
    ahead = [float(np.arctan2(other.row - cell.row, other.column - cell.column)) for other in others]
    apart = np.min([_between(angles, towards) for towards in ahead], axis=0)
    free = apart > CLEAR
    if free.sum() < 4:
        return None
    centre = np.array(cell.centre) * raster.cell + raster.origin
    ways = np.stack([np.cos(angles[free]), np.sin(angles[free])], axis=-1)
    reach = np.arange(1, round(WIDEST * raster.cell))
    lengths = np.cumprod(inked_at(mask, centre + ways[:, None] * reach[None, :, None]), axis=1).sum(axis=1)
    low, middle, high = np.percentile(lengths / raster.cell, (15, 50, 85))
    half, slack = max(step.width for step in arms) / 2, ROUNDING / 2 / raster.cell
    # Where three arms meet, the area between two of them reaches so far without a disc.
    by_arms = half / np.sin(np.minimum(apart[free], np.pi / 2))
    stands_out = (lengths / raster.cell >= BULGE * by_arms + slack).mean() >= STANDS_OUT
    wide = stands_out and low >= BULGE * half + slack
    is_disc = wide and middle >= LEAST_DISC and high - low <= ROUND * middle
    return float(middle) if is_disc else None


def _between(angles: Floats, other: float) -> Floats:
    """How far directions are from another, in radians."""
    apart: Floats = np.abs((angles - other + np.pi) % (2 * np.pi) - np.pi)
    return apart


def _grouped(steps: Sequence[Step], belong: Callable[[Step, Step, Cell], bool]) -> list[list[Step]]:
    """Steps grouped by shared cells, as far as `belong(one, other, cell)` agrees."""
    left = list(steps)
    groups = []
    while left:
        group, fresh = [], [left.pop(0)]
        while fresh:
            step = fresh.pop()
            group.append(step)
            joined = [other for other in left if any(belong(step, other, cell) for cell in _shared(step, other))]
            fresh += joined
            left = [other for other in left if other not in joined]
        groups.append(sorted(group, key=lambda step: (step.first, step.second)))
    return groups


def _shared(one: Step, other: Step) -> set[Cell]:
    return {one.first, one.second} & {other.first, other.second}


def _uncrossed(graph: Graph) -> list[Graph]:
    """A graph of several discs as several lines, where crossing straight over each other makes lines of one disc; as
    it is where it has a disc at both ends or beads in all its cells; else as it is, with a note."""
    degree = {cell: sum(cell in (step.first, step.second) for step in graph.steps) for cell in graph.cells}
    ends = {cell for cell, arms in degree.items() if arms == 1}
    is_string = set(graph.discs) == set(degree) and max(degree.values(), default=0) <= 2
    if len(ends) == 2 and (ends == set(graph.discs) or is_string):
        return [graph]

    def straight(one: Step, other: Step, cell: Cell) -> bool:
        a, b = one.other(cell), other.other(cell)
        opposite = a.row + b.row == 2 * cell.row and a.column + b.column == 2 * cell.column
        return degree[cell] != 4 or opposite

    parts = [_graph(group, graph.discs) for group in _grouped(graph.steps, straight)]
    if len(parts) > 1 and all(len(part.discs) == 1 for part in parts):
        return parts
    return [Graph(graph.steps, graph.discs, ("lines with several bulbs meet",))]


def loops(graph: Graph) -> tuple[str, ...]:
    """A note where steps close a loop: which way the line runs there cannot be told."""
    return ("the line runs in a loop",) if len(graph.steps) >= len(graph.cells) else ()
