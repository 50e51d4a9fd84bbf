"""Rows, columns and boxes: which of them a grid has."""

from __future__ import annotations

import re
from collections.abc import Sequence

from recognise.draft import Doubt
from recognise.grids import Boxes
from recognise.rules import RuleSheet
from schema.cells import Cell
from schema.grid import Grid

Regions = tuple[tuple[Cell, ...], ...]

USUAL_BOXES = {4: (2, 2), 6: (2, 3), 8: (2, 4), 9: (3, 3), 10: (2, 5), 12: (3, 4), 15: (3, 5), 16: (4, 4), 25: (5, 5)}
"""Rows x columns of the box that print uses for a grid of that size."""

UNSHOWN = "the rules speak of boxes, and the grid's lines do not show them"

_SIZE = re.compile(r"\b(\d|two|three|four|five)(?: ?[x×] ?|[ -]by[ -])(\d|two|three|four|five)\b")
_FIGURES = {"two": "2", "three": "3", "four": "4", "five": "5"}

BY_CHANCE = 1e-4
"""How often lines or tints that mean something else cut a grid into parts of which each has as many cells as there are
digits. A single edge taken wrongly joins or splits parts, so that such a cut speaks for itself."""


def usual_boxes(grid: Grid) -> Regions | None:
    """The boxes of a grid that shows none but has them by its rules; None for a size without a usual box."""
    shape = USUAL_BOXES.get(grid.rows) if grid.rows == grid.columns else None
    if shape is None:
        return None
    rows, columns = shape
    return tuple(
        tuple(Cell(r + i, c + j) for i in range(rows) for j in range(columns))
        for r in range(1, grid.rows + 1, rows)
        for c in range(1, grid.columns + 1, columns)
    )


def _says_square(sentence: str, grid: Grid) -> bool:
    """Whether a sentence on boxes says that they are squares of the usual size, `3x3` on a grid of 9: then lines need
    not show where they are. How a `2 by 3` box lies is not said."""
    rows, columns = USUAL_BOXES.get(grid.rows, (0, 0)) if grid.rows == grid.columns else (0, 0)
    sizes = (tuple(_FIGURES.get(figure, figure) for figure in pair) for pair in _SIZE.findall(sentence.lower()))
    return rows == columns and any(size == (str(rows), str(columns)) for size in sizes)


def fit(boxes: Regions, grid: Grid) -> bool:
    """Whether each box can hold every digit once."""
    return all(len(box) == len(grid.digits) for box in boxes)


def decide_boxes(
    seen: Boxes, grid: Grid, sheet: RuleSheet | None, fenced: Sequence[tuple[Cell, ...]] = ()
) -> tuple[Regions | None, float, Sequence[Doubt]]:
    """The boxes of the grid (None for a grid without), how sure, and what a person must look at. `fenced` are the cages
    of the grid, which lines that show no boxes may be drawn around."""
    spoken = None if sheet is None else [s for s in sheet.statements if s.kind == "boxes"]
    denied = bool(spoken) and all(s.negated for s in spoken or ())
    expected = bool(spoken) and not denied
    if seen.cells is not None and fit(seen.cells, grid):
        doubts = [Doubt("the rules say that there are no boxes, the grid shows some")] if denied else []
        return seen.cells, 1 - BY_CHANCE * (1 - seen.confidence), doubts
    if expected:
        guess = usual_boxes(grid)
        if any(_says_square(s.sentence, grid) for s in spoken or ()):
            return guess, 1 - BY_CHANCE, []
        return guess, 0.5 if guess else 1.0, [Doubt(UNSHOWN)]
    if seen.cells is not None and {frozenset(box) for box in seen.cells} - {frozenset(cells) for cells in fenced}:
        return None, 0.5, [Doubt("thick lines divide the grid into parts that cannot hold every digit once")]
    if sheet is None and usual_boxes(grid) is not None:
        return None, 0.8, [Doubt("neither lines nor rules tell whether the grid has boxes", meaning=True)]
    return None, 0.95, []
