"""The givens as plain text."""

from __future__ import annotations

from schema.grid import Grid
from schema.puzzle import Puzzle


def to_text(puzzle: Puzzle) -> str:
    """A line for each row, `.` for an empty cell; blanks between labels, in columns, where any label of the grid is
    longer than one character."""
    grid: Grid = puzzle.grid
    width = max(len(grid.label(digit)) for digit in grid.digits)
    between = "" if width == 1 else " "
    lines = []
    for row in range(1, grid.rows + 1):
        cells = (puzzle.givens.get(cell) for cell in grid.row(row))
        lines.append(between.join(("." if digit is None else grid.label(digit)).rjust(width) for digit in cells))
    return "\n".join(lines) + "\n"
