"""Cells that hold only even, or only odd digits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any, ClassVar, Self

from pydantic import Field

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._sets import set_problems
from schema.kinds.base import Board, Constraint, Digits, Look, Setting
from schema.marks import Family, Seen


class Parity(Constraint):
    """Every one of the cells holds a digit with the remainder `remainder` when divided by 2."""

    cells: Annotated[tuple[Cell, ...], Field(min_length=1)]
    remainder: ClassVar[int]
    marks: ClassVar[tuple[Family, ...]] = ("cell", "area")
    look: ClassVar[Look] = Look(fill="#d2d2d2", size=0.36)

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """The cells."""
        return set_problems(setting.grid, self.cells)

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """The cells."""
        return self.cells

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Digits of the other parity, or none of this one in the grid."""
        grid = setting.grid
        if not any(digit % 2 == self.remainder for digit in grid.digits):
            return [f"{min(self.cells)} must be {self.name}, and no digit of the grid is"]
        return [
            f"{cell} must be {self.name}, and holds {grid.label(digits[cell])}"
            for cell in self.cells
            if cell in digits and digits[cell] % 2 != self.remainder
        ]

    def post(self, board: Board) -> None:
        """The digits that each cell may hold."""
        rows = [(digit,) for digit in board.grid.digits if digit % 2 == self.remainder]
        for cell in self.cells:
            board.table([board.digit(cell)], rows)

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """The cells of the mark."""
        return (cls(cells=seen.cells, **fields),)
