"""Puzzles for the tests of the checker."""

from __future__ import annotations

import json
from pathlib import Path

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.boxes import Boxes
from schema.kinds.cage import Cage
from schema.kinds.columns import Columns
from schema.kinds.rows import Rows
from schema.puzzle import Puzzle

DATA = Path(__file__).parent.parent / "data"
EXAMPLES = {example["name"]: example for example in json.loads((DATA / "worked_examples.json").read_text("utf-8"))}


def square(size, box=None, extra=(), givens=None, first=1):
    """A puzzle of rows, columns, boxes of `box` rows x columns, and `extra` constraints."""
    grid = Grid(rows=size, columns=size, digits=tuple(range(first, first + size)))
    boxes = (Boxes.regular(grid, *box),) if box else ()
    return Puzzle(grid=grid, givens=givens or {}, constraints=(Rows(), Columns(), *boxes, *extra))


def one_row(size, *extra):
    """A single row that holds every digit once."""
    grid = Grid(rows=1, columns=size, digits=tuple(range(1, size + 1)))
    return Puzzle(grid=grid, givens={}, constraints=(Rows(), *extra))


def classic(text):
    """A 9x9 from 81 characters."""
    givens = {Cell(n // 9 + 1, n % 9 + 1): int(c) for n, c in enumerate(text) if c != "."}
    return square(9, (3, 3), givens=givens)


def killer(example):
    """The killer among the worked examples."""
    cages = [Cage(cells=tuple(Cell(*c) for c in cage["cells"]), value=cage["sum"]) for cage in example["cages"]]
    return square(9, (3, 3), cages)


def text_of(solution):
    """A solution as a line of digits."""
    return "".join(str(solution[cell]) for cell in sorted(solution))
