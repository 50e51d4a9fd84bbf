"""Outlines that several kinds draw, as points in cells."""

from __future__ import annotations

from math import atan2, cos, pi, sin

from schema.cells import Cell
from schema.kinds.base import Point

_ARC = 24
"""Straight pieces of half a circle: at print size the corners cannot be seen."""
_HEAD = pi / 6
"""Half the angle of an arrow head."""


def capsule(start: Point, end: Point, radius: float) -> list[Point]:
    """The outline at `radius` around the line from start to end; a circle where both are the same."""
    angle = atan2(end[1] - start[1], end[0] - start[0])
    arc = [pi / 2 + pi * step / _ARC for step in range(_ARC + 1)]
    return [
        (x + radius * cos(angle + turn + lean), y + radius * sin(angle + turn + lean))
        for (x, y), turn in ((start, 0.0), (end, pi))
        for lean in arc
    ]


def arrow_head(before: Point, tip: Point, length: float) -> list[Point]:
    """The two strokes of an open head at `tip`, coming from `before`: side, tip, side."""
    angle = atan2(tip[1] - before[1], tip[0] - before[0])
    left, right = (
        (tip[0] - length * cos(angle + lean), tip[1] - length * sin(angle + lean)) for lean in (-_HEAD, _HEAD)
    )
    return [left, tip, right]


def square(cell: Cell, half: float = 0.5) -> list[Point]:
    """The corners of a square around a cell's centre; by default the cell itself."""
    x, y = cell.centre
    return [(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)]


def middle(one: Cell, other: Cell) -> Point:
    """The point halfway between two cells: for neighbours, on the edge between them."""
    return (one.centre[0] + other.centre[0]) / 2, (one.centre[1] + other.centre[1]) / 2
