"""Puzzles for the drawing tests, written down by hand."""

from __future__ import annotations

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from schema.kinds.sandwich import Sandwich
from schema.kinds.thermometer import Thermometer
from schema.puzzle import Puzzle


def harbour(**changes: object) -> Puzzle:
    """A 9x9 with a thermometer and two clues at the same end of a column."""
    grid = Grid(rows=9, columns=9, digits=tuple(range(1, 10)))
    puzzle = Puzzle(
        title="Harbour Lights",
        setter="Fixture Press",
        rules_text="Place 1 to 9 once in every row, column and box. " * 6,
        grid=grid,
        givens={Cell(1, 2): 5, Cell(4, 4): 9},
        constraints=(
            Rows(),
            Columns(),
            Boxes.regular(grid, 3, 3),
            Thermometer(path=(Cell(7, 1), Cell(6, 1), Cell(5, 2))),
            Sandwich(side="top", index=3, value=23),
            Sandwich(side="top", index=3, value=12, wrap=True),
        ),
    )
    return puzzle.model_copy(update=changes)


def sample_puzzle(kind: type[Constraint]) -> Puzzle:
    """The sample of a kind as a puzzle; the givens are those of the grid that obeys it, but for its last row."""
    sample = kind.sample()
    givens = {
        Cell(r, c): digit
        for r, row in enumerate(sample.obeyed[:-1], 1)
        for c, digit in enumerate(row, 1)
        if digit in sample.grid.digits
    }
    return Puzzle(grid=sample.grid, givens=givens, constraints=(sample.constraint, *sample.extra))
