"""Capsules: rounded outlines around two or three cells in line, from which arrows come as from circles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ingest.page import Box
from recognise.evidence import Shape
from recognise.pixels.frame import Raster
from recognise.vectors.inks import Canvas, Ink
from recognise.vectors.painting import filled
from recognise.vectors.patches import CELL, canvas_size
from recognise.vectors.place import Floats
from schema.cells import Cell

NARROWEST, WIDEST = 0.45, 0.97
"""In cells: how wide a capsule is; a narrower one is a thermometer's tube or a line."""
LEAST_FILLED = 0.55
"""In cells: the same for one without an outline, which may be a short broad line."""
CENTRED = 0.12
"""In cells: how far its middle may lie off the middle of its cells."""
OVERHANG = 0.12
"""In cells: how much its width at an end may differ from its width at the sides."""
MOST_CELLS = 3
EVEN = 0.05
"""As a part of its width: how exactly its area is that of a capsule; a rectangle differs by 0.2 and more."""
RIM, ROUND_POINTS = 0.5, 24
"""As a part of a broad stroke: what is seen at most of one that is the rim of a capsule; points of a round end."""


@dataclass(frozen=True, slots=True)
class Capsule:
    """A capsule on the cells that it encloses; `outline` is n x 2 points in cells."""

    cells: tuple[Cell, ...]
    shape: Shape
    outline: Floats


@dataclass(frozen=True, slots=True)
class Capsules:
    """The capsules found, and the indices of the inks that draw them."""

    capsules: tuple[Capsule, ...]
    inks: frozenset[int]


def find_capsules(inks: Sequence[tuple[int, Ink]], canvas: Canvas) -> Capsules:
    """The capsules among inks given with their indices; fill and outline of one are one capsule."""
    found: list[Capsule] = []
    used: set[int] = set()
    seen = [(index, capsule) for index, ink in inks if (capsule := _capsule(ink, canvas)) is not None]
    outlined = {capsule.cells for _, capsule in seen if not capsule.shape.filled}
    for index, capsule in seen:
        # A fill is narrower than the outline around it by the width of the pen.
        if _breadth(capsule) < LEAST_FILLED and capsule.cells not in outlined:
            continue
        used.add(index)
        same = next((place for place, other in enumerate(found) if other.cells == capsule.cells), None)
        if same is None:
            found.append(capsule)
        else:
            found[same] = _joined(found[same], capsule)
    return Capsules(tuple(found), frozenset(used))


def _joined(one: Capsule, other: Capsule) -> Capsule:
    fill = next((capsule for capsule in (other, one) if capsule.shape.filled), other)
    larger = max((one, other), key=lambda capsule: _size(capsule.shape.box))
    shape = replace(larger.shape, colour=fill.shape.colour, filled=fill.shape.filled)
    return Capsule(one.cells, shape, larger.outline)


def _size(box: Box) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])


def _capsule(ink: Ink, canvas: Canvas) -> Capsule | None:
    is_outline = ink.role == "stroke" or len(ink.outlines) == 2
    pen = _hollow_stroke(ink)
    if len(ink.outlines) > 2 or (
        ink.role == "stroke" and pen is None and not (len(ink.outlines) == 1 and ink.closed[0])
    ):
        return None
    outer = max(ink.outlines, key=lambda points: float(np.ptp(points, axis=0).max())) if pen is None else pen
    cells = tuple(_enclosed(outer, canvas.raster))
    low, high = outer.min(axis=0), outer.max(axis=0)
    width = float((high - low).min())
    if not cells or width < NARROWEST:
        return None
    whole = (width**2 * np.pi / 4) + width * (float((high - low).max()) - width)
    area = canvas_size(filled((outer,), True, canvas.raster, canvas.shape)) / CELL**2
    if abs(area - whole) > EVEN * width + 2 * len(cells) / CELL:
        return None
    where = tuple((float(x), float(y)) for x, y in outer)
    shape = Shape("capsule", ink.box, ink.colour, "vector", 1.0, where, filled=not is_outline)
    return Capsule(cells, shape, outer)


def _breadth(capsule: Capsule) -> float:
    return float(np.ptp(capsule.outline, axis=0).min())


def _hollow_stroke(ink: Ink) -> Floats | None:
    """The outline of a broad straight stroke with round ends, where another in the ground's colour upon it leaves no
    more than its rim; None for anything else."""
    straight = ink.role == "stroke" and ink.cap == "round" and len(ink.outlines) == 1 and len(ink.outlines[0]) == 2
    if not straight or canvas_size(ink.patch) > RIM * canvas_size(ink.whole):
        return None
    start, end = ink.outlines[0]
    along = np.arctan2(*(end - start)[::-1])
    turns = np.linspace(np.pi / 2, 3 * np.pi / 2, ROUND_POINTS) + along
    half = np.stack([np.cos(turns), np.sin(turns)], axis=1) * ink.width / 2
    return np.concatenate([start + half, end - half])


def _enclosed(outline: Floats, raster: Raster) -> Iterator[Cell]:
    """The two or three cells that an outline's box encloses; none where it does not fit."""
    low, high = outline.min(axis=0), outline.max(axis=0)
    size, middle = high - low, (low + high) / 2
    long, short = (0, 1) if size[0] > size[1] else (1, 0)
    count = round(float(size[long]) + 1 - float(size[short]))
    fits = abs(size[long] - (count - 1) - size[short]) <= OVERHANG
    start = middle[long] - count / 2
    on_cells = max(abs(start - np.round(start)), abs(middle[short] % 1 - 0.5)) <= CENTRED
    if not (2 <= count <= MOST_CELLS and fits and on_cells and size[short] <= WIDEST):
        return
    for number in range(count):
        along, across = round(float(start)) + number + 1, int(middle[short]) + 1
        cell = Cell(across, along) if long == 0 else Cell(along, across)
        if 1 <= cell.row <= raster.rows and 1 <= cell.column <= raster.columns:
            yield cell
