"""Sets of cells: what may be listed, and what holds no digit twice."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Digits
from schema.words import counted, listed

Problem = tuple[str, str]


def set_problems(grid: Grid, cells: Sequence[Cell], at: str = "/cells") -> Iterator[Problem]:
    """Cells that are not on the grid or listed twice, each by its JSON Pointer."""
    for index, cell in enumerate(cells):
        if cell not in grid:
            yield f"{at}/{index}", f"{cell} is not on the grid of {grid.rows} rows and {grid.columns} columns"
        if cell in cells[:index]:
            yield f"{at}/{index}", f"{cell} is listed twice"


def twice(grid: Grid, cells: Iterable[Cell], digits: Digits, where: str) -> list[str]:
    """Why these cells cannot all hold different digits: `row 3 holds 5 twice: r3c1 and r3c4`."""
    cells = tuple(cells)
    if len(cells) > len(grid.digits):
        return [f"{where} has {counted(len(cells), 'cell')} for {counted(len(grid.digits), 'digit')}, none twice"]
    held_there = [digit for digit in map(digits.get, cells) if digit is not None]
    if len(set(held_there)) == len(held_there):  # nearly always, and thousands of times a proof
        return []
    places = defaultdict(list)
    for cell in cells:
        if cell in digits:
            places[digits[cell]].append(cell)
    return [
        f"{where} holds {grid.label(digit)} {'twice' if len(held) == 2 else f'{len(held)} times'}: {listed(held)}"
        for digit, held in places.items()
        if len(held) > 1
    ]


def whole_problem(grid: Grid, count: int, what: str) -> str | None:
    """Why so many cells cannot hold every digit once."""
    if count == len(grid.digits):
        return None
    return f"{what} has {counted(count, 'cell')}, so it cannot hold each of {len(grid.digits)} digits once"
