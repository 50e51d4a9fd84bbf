"""Where cells and marks stand on the page of a reading, by the corners of its grid."""

from __future__ import annotations

import cv2
import numpy as np

from clueprint.draw.lattice import puzzle_shapes
from clueprint.draw.primitives import Box, bounds_of
from schema.cells import Cell
from schema.puzzle import Puzzle
from schema.reading import Point, Polygon, Reading

_FREE = 0.08
"""Of a cell, around a mark: a straight line alone has no area that an outline could show."""


def cell_polygon(puzzle: Puzzle, reading: Reading, cell: Cell) -> Polygon:
    """About where a cell stands on the page."""
    right, bottom = cell.column, cell.row
    return _on_page(puzzle, reading, (right - 1, bottom - 1, right, bottom))


def mark_polygon(puzzle: Puzzle, reading: Reading, pointer: str) -> Polygon:
    """About where a mark stands on the page: where our own drawing of the puzzle has it, else the whole grid."""
    shapes = [shape for shape in puzzle_shapes(puzzle) if shape.item == pointer]
    if not shapes:
        return reading.corners
    left, top, right, bottom = bounds_of(shapes)
    return _on_page(puzzle, reading, (left - _FREE, top - _FREE, right + _FREE, bottom + _FREE))


def _on_page(puzzle: Puzzle, reading: Reading, box: Box) -> Polygon:
    grid = puzzle.grid
    outline = np.array([(0, 0), (grid.columns, 0), (grid.columns, grid.rows), (0, grid.rows)], np.float32)
    to_page = cv2.getPerspectiveTransform(outline, np.array(reading.corners, np.float32))
    left, top, right, bottom = box
    square = np.array([[(left, top), (right, top), (right, bottom), (left, bottom)]], np.float32)
    points: tuple[Point, ...] = tuple((float(x), float(y)) for x, y in cv2.perspectiveTransform(square, to_page)[0])
    return points
