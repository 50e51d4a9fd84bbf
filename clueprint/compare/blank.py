"""Whether the paper is blank where an item of the source should stand: on a picture something may be overlooked."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from clueprint.compare.proof import ProofGrid
from clueprint.draw.lattice import puzzle_shapes
from clueprint.draw.primitives import Circle, Polyline, Shape, bounds_of
from schema.cells import Cell
from schema.kinds.base import Point
from schema.puzzle import Puzzle

Ink = npt.NDArray[np.float32]

DARK, PALE = 0.3, 0.12
"""Ink (0 white to 1 black) that a given has at least on any paper, and a pale tube or line."""
INNER = 0.15
"""How far inside its cell a given is looked for, in cells: the lattice's own lines stand outside that."""
SPECKS = 0.01
"""Part of a cell's inside that may be dark by dust. The thinnest figure, a 1, covers four times that."""
STEP, REACH = 0.1, 0.08
"""In cells: how far apart a mark's picture is looked up, and how far from its place ink may lie."""
SMALL = 1.2
"""In cells: a mark whose picture is no larger is looked for in all of its place, wherever in it print may put it."""
HARDLY = 0.3
"""Part of a mark's picture on which ink may lie that belongs to others; where there is more it may be there."""


def is_blank_cell(grid: ProofGrid, cell: Cell) -> bool:
    """Whether no figure can stand in a cell."""
    seen = _window(grid, cell.column - 1 + INNER, cell.row - 1 + INNER, cell.column - INNER, cell.row - INNER)
    return seen.size > 0 and float((seen > DARK).mean()) < SPECKS


def is_blank_mark(grid: ProofGrid, source: Puzzle, pointer: str) -> bool:
    """Whether a mark of the source cannot stand where we would draw it."""
    shapes = [shape for shape in puzzle_shapes(source) if shape.item == pointer]
    if not shapes:
        return False
    x0, y0, x1, y1 = bounds_of(shapes)
    if max(x1 - x0, y1 - y0) < SMALL:
        seen = _window(grid, x0, y0, x1, y1)
        return seen.size > 0 and float((seen > PALE).mean()) < SPECKS
    inked = [
        bool((_window(grid, x - REACH, y - REACH, x + REACH, y + REACH) > PALE).any())
        for shape in shapes
        for x, y in _along(shape)
    ]
    return sum(inked) < HARDLY * len(inked)


def _window(grid: ProofGrid, x0: float, y0: float, x1: float, y1: float) -> Ink:
    """The ink in a box given in cells, without the lattice."""
    flat, ink = grid.looked.flat, grid.looked.ink.unsifted
    left, top, right, bottom = (max(0, round((v + flat.margin) * flat.cell)) for v in (x0, y0, x1, y1))
    return ink[top : bottom + 1, left : right + 1]


def _along(shape: Shape) -> Iterator[Point]:
    """Points on the ink of a shape, in cells."""
    if isinstance(shape, Polyline):
        ends: Sequence[Point] = (*shape.points, shape.points[0]) if shape.closed else shape.points
        for start, end in pairwise(ends):
            count = max(1, round(math.dist(start, end) / STEP))
            for n in range(count + 1):
                yield tuple(a + (b - a) * n / count for a, b in zip(start, end, strict=True))  # type: ignore[misc]
    elif isinstance(shape, Circle):
        count = max(6, round(2 * math.pi * shape.radius / STEP))
        for n in range(count):
            turn = 2 * math.pi * n / count
            yield shape.centre[0] + shape.radius * math.cos(turn), shape.centre[1] + shape.radius * math.sin(turn)
    else:
        left, top, right, bottom = shape.bounds()
        for n in range(3):
            yield left + (right - left) * (n + 0.5) / 3, (top + bottom) / 2
