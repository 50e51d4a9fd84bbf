"""Where on a grid a point lies: in which cell, on which edge, on which corner."""

from __future__ import annotations

import math

from ingest.page import Box, Point
from schema.cells import Cell

ALONG, ACROSS = 0.22, 0.19
"""In cells: how far from the middle of an edge a mark of two cells may stand, along the edge and across it."""
CORNER = 0.17
"""In cells: how far from the crossing of two lattice lines a mark of four cells may stand."""
MIDDLE = 0.22
"""In cells: how far from the middle of its cell a mark of one cell may stand."""

Size = tuple[int, int]
"""Rows and columns of the grid."""


def cell_at(point: Point, size: Size) -> Cell | None:
    """The cell that a point lies in."""
    x, y = point
    return Cell(int(y) + 1, int(x) + 1) if 0 <= x < size[1] and 0 <= y < size[0] else None


def cell_around(point: Point, size: Size) -> Cell | None:
    """The cell of which a point is about the middle."""
    cell = cell_at(point, size)
    if cell is None:
        return None
    x, y = cell.centre
    return cell if max(abs(point[0] - x), abs(point[1] - y)) <= MIDDLE else None


def edge_at(point: Point, size: Size) -> tuple[Cell, Cell] | None:
    """The two cells, in reading order, on the middle of whose common edge a point lies."""
    x, y = point
    column, row = round(x), math.floor(y)
    if abs(x - column) <= ACROSS and abs(y - row - 0.5) <= ALONG and 0 < column < size[1] and 0 <= row < size[0]:
        return Cell(row + 1, column), Cell(row + 1, column + 1)
    column, row = math.floor(x), round(y)
    if abs(y - row) <= ACROSS and abs(x - column - 0.5) <= ALONG and 0 < row < size[0] and 0 <= column < size[1]:
        return Cell(row, column + 1), Cell(row + 1, column + 1)
    return None


def corner_at(point: Point, size: Size, reach: float = CORNER) -> tuple[Cell, Cell, Cell, Cell] | None:
    """The four cells, in reading order, around the crossing on which a point lies."""
    column, row = round(point[0]), round(point[1])
    if max(abs(point[0] - column), abs(point[1] - row)) > reach or not (0 < column < size[1] and 0 < row < size[0]):
        return None
    return Cell(row, column), Cell(row, column + 1), Cell(row + 1, column), Cell(row + 1, column + 1)


def around(cells: tuple[Cell, ...]) -> Box:
    """The box around cells."""
    columns, rows = zip(*((cell.column, cell.row) for cell in cells), strict=True)
    return min(columns) - 1, min(rows) - 1, max(columns), max(rows)
