"""Cells that go on beside a grid as spreadsheets and tables have them: each row or column begins or ends in one that
holds its clue, or nothing. They say no more than where the clues stand."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from ingest.page import Box
from recognise.evidence import Shape
from recognise.geometry import extent
from recognise.vectors.painting import polygon_area

OFF = 0.08
"""In cells: how far the side of such a cell may lie off its place."""
LEAST = 2
"""So many of them at least; a single frame is a mark."""
FULL = 0.9
"""Of a square as wide, what the outline of such a cell encloses at least."""
NAMES = frozenset(("outline", "square"))
"""What they are called, open or filled."""


def clue_cells(shapes: Iterable[Shape], rows: int, columns: int) -> list[Shape]:
    """The shapes that are cells beside a grid of so many rows and columns, as large as its own."""
    found = [shape for shape in shapes if _is_box(shape) and _is_cell_beside(shape.box, rows, columns)]
    return found if len(found) >= LEAST else []


def _is_box(shape: Shape) -> bool:
    """Whether a shape has four square corners; tags have a point."""
    area = abs(polygon_area(np.array(shape.where))) if len(shape.where) > 2 else 0.0
    return shape.name in NAMES and area >= FULL * extent(shape.box) ** 2


def _is_cell_beside(box: Box, rows: int, columns: int) -> bool:
    column, row = round(box[0]), round(box[1])
    beside = (column in (-1, columns)) != (row in (-1, rows)) and -1 <= column <= columns and -1 <= row <= rows
    cell = (column, row, column + 1, row + 1)
    return beside and all(abs(side - place) <= OFF for side, place in zip(box, cell, strict=True))
