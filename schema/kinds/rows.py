"""Every row holds every digit once."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._sets import twice, whole_problem
from schema.kinds.base import Board, Constraint, Digits, Sample, Setting
from schema.marks import Family


class Rows(Constraint):
    """Every row holds every digit once."""

    kind: Literal["rows"] = "rows"
    name: ClassVar[str] = "rows"
    once: ClassVar[bool] = True
    marks: ClassVar[tuple[Family, ...]] = ("rule",)

    def problems(self, setting: Setting) -> Iterable[tuple[str, str]]:
        """The rows must be as long as the digits are many."""
        why = whole_problem(setting.grid, setting.grid.columns, "a row")
        return [("", why)] if why else []

    def wholes(self, grid: Grid) -> Iterable[frozenset[Cell]]:
        """The rows."""
        return [frozenset(grid.row(r)) for r in range(1, grid.rows + 1)]

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """All cells."""
        return tuple(grid.cells())

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Digits that stand twice in a row."""
        grid = setting.grid
        return [why for r in range(1, grid.rows + 1) for why in twice(grid, grid.row(r), digits, f"row {r}")]

    def post(self, board: Board) -> None:
        """All different, row by row: as many cells as digits, so every digit stands there."""
        for r in range(1, board.grid.rows + 1):
            board.different(board.grid.row(r))

    @classmethod
    def sample(cls) -> Sample:
        """A 4x4 grid whose columns repeat."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(),
            obeyed=((1, 2, 3, 4), (1, 2, 3, 4), (4, 3, 2, 1), (2, 1, 4, 3)),
            broken=((1, 2, 3, 4), (0, 0, 0, 0), (4, 3, 0, 4), (0, 0, 0, 0)),
        )
