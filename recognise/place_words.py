"""Where on a grid something lies, as a person looks for it."""

from __future__ import annotations

from ingest.page import Box
from schema.cells import Cell
from schema.naming import cells_words

TOUCHED = 0.25
"""Of the width or height of a place: so much of it lies in a row or column that is named."""
MOST = 4
"""So many cells are named one by one: those around a crossing of lattice lines."""


def place_words(box: Box, size: tuple[int, int]) -> str:
    """Where a box in cells lies on a grid of `size` (rows, columns): `in r3c4`, `at r3c4 and r3c5`, `left of row 2`."""
    left, top, right, bottom = box
    rows = [row for row in _touched(top, bottom) if 1 <= row <= size[0]]
    columns = [column for column in _touched(left, right) if 1 <= column <= size[1]]
    if rows and columns:
        cells = [Cell(row, column) for row in rows for column in columns]
        return cells_words(cells) if len(cells) <= MOST else f"from {cells[0]} to {cells[-1]}"
    beside = []
    if not rows:
        beside.append("above" if bottom < 1 else "below")
    if not columns:
        beside.append("left of" if right < 1 else "right of")
    line = f"row {rows[0]}" if rows else f"column {columns[0]}" if columns else "the grid"
    return f"{' and '.join(beside)} {line}"


def _touched(low: float, high: float) -> list[int]:
    """The rows or columns, from 1, in which a good part of a stretch lies, or those that it fills."""
    least = TOUCHED * min(high - low, 1.0)
    first, last = int(low // 1), int(high // 1)
    found = [n + 1 for n in range(first, last + 1) if min(high, n + 1) - max(low, n) >= least]
    return found or [int(((low + high) / 2) // 1) + 1]
