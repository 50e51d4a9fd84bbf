"""Every column holds every digit once."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._sets import twice, whole_problem
from schema.kinds.base import Board, Constraint, Digits, Sample, Setting
from schema.marks import Family


class Columns(Constraint):
    """Every column holds every digit once."""

    kind: Literal["columns"] = "columns"
    name: ClassVar[str] = "columns"
    once: ClassVar[bool] = True
    marks: ClassVar[tuple[Family, ...]] = ("rule",)

    def problems(self, setting: Setting) -> Iterable[tuple[str, str]]:
        """The columns must be as long as the digits are many."""
        why = whole_problem(setting.grid, setting.grid.rows, "a column")
        return [("", why)] if why else []

    def wholes(self, grid: Grid) -> Iterable[frozenset[Cell]]:
        """The columns."""
        return [frozenset(grid.column(c)) for c in range(1, grid.columns + 1)]

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """All cells."""
        return tuple(grid.cells())

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Digits that stand twice in a column."""
        grid = setting.grid
        return [why for c in range(1, grid.columns + 1) for why in twice(grid, grid.column(c), digits, f"column {c}")]

    def post(self, board: Board) -> None:
        """All different, column by column: as many cells as digits, so every digit stands there."""
        for c in range(1, board.grid.columns + 1):
            board.different(board.grid.column(c))

    @classmethod
    def sample(cls) -> Sample:
        """A 4x4 grid whose rows repeat."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(),
            obeyed=((1, 1, 4, 2), (2, 2, 3, 1), (3, 3, 2, 4), (4, 4, 1, 3)),
            broken=((1, 0, 4, 0), (2, 0, 3, 0), (3, 0, 0, 0), (4, 0, 4, 0)),
        )
