"""The grid's own lines, its givens and its items, recorded in cells."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from clueprint.draw.primitives import Shape
from clueprint.draw.recorder import Recorder
from schema.kinds.base import Constraint, Look, Paint
from schema.pointers import constraint_pointer, given_pointer
from schema.puzzle import Puzzle

THIN = Paint(width=0.02, round=False)
FRAME = Paint(width=0.07, round=False)
GIVEN_SIZE = 0.62
"""Font size of givens in cells: figures then fill a little under half of the cell's height."""
LONG_GIVEN_SIZE = 0.46
"""The same where some label has two characters."""


def puzzle_shapes(puzzle: Puzzle) -> tuple[Shape, ...]:
    """Everything on and around the grid, in cells, in the order recorded; each item's shapes carry its JSON Pointer."""
    pen = Recorder(puzzle.grid)
    _draw_lines(pen)
    for number, (constraint, look) in enumerate(looks(puzzle.constraints)):
        pen.item = constraint_pointer(number)
        constraint.draw(pen, look)
    _draw_givens(pen, puzzle)
    return tuple(pen.shapes)


def looks(constraints: Sequence[Constraint]) -> Iterator[tuple[Constraint, Look]]:
    """Each constraint with its look. The second clue at one end of a row or column stands a ring further out."""
    rings: Counter[object] = Counter()
    for constraint in constraints:
        side, index = getattr(constraint, "side", None), getattr(constraint, "index", None)
        rings[side, index] += 1
        yield constraint, constraint.look if side is None else replace(constraint.look, ring=rings[side, index])


def _draw_lines(pen: Recorder) -> None:
    rows, columns = pen.grid.rows, pen.grid.columns
    for row in range(1, rows):
        pen.line([(0, row), (columns, row)], THIN, "grid")
    for column in range(1, columns):
        pen.line([(column, 0), (column, rows)], THIN, "grid")
    pen.line([(0, 0), (columns, 0), (columns, rows), (0, rows)], FRAME, "grid", closed=True)


def _draw_givens(pen: Recorder, puzzle: Puzzle) -> None:
    longest = max(len(puzzle.grid.label(digit)) for digit in puzzle.grid.digits)
    size = GIVEN_SIZE if longest == 1 else LONG_GIVEN_SIZE
    for cell, digit in sorted(puzzle.givens.items()):
        pen.item = given_pointer(cell)
        pen.text(cell.centre, puzzle.grid.label(digit), size, "glyph")
