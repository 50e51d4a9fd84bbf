"""The grid: its size, its digits, and what is printed for a digit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import BaseModel, ConfigDict

from schema.cells import Cell

Side = Literal["top", "bottom", "left", "right"]


class Grid(BaseModel):
    """Rows x columns of cells, the digits that they hold, and labels for digits not printed as themselves."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    rows: int
    columns: int
    digits: tuple[int, ...]
    labels: dict[str, str] = {}

    def __contains__(self, cell: Cell) -> bool:
        return 1 <= cell.row <= self.rows and 1 <= cell.column <= self.columns

    def cells(self) -> Iterator[Cell]:
        """All cells, row by row."""
        return (Cell(r, c) for r in range(1, self.rows + 1) for c in range(1, self.columns + 1))

    def row(self, index: int) -> tuple[Cell, ...]:
        """The cells of row `index`, left to right."""
        return tuple(Cell(index, c) for c in range(1, self.columns + 1))

    def column(self, index: int) -> tuple[Cell, ...]:
        """The cells of column `index`, top to bottom."""
        return tuple(Cell(r, index) for r in range(1, self.rows + 1))

    def line_from(self, side: Side, index: int) -> tuple[Cell, ...]:
        """The row or column that an outside clue at `side`, `index` sees, nearest cell first."""
        line = self.column(index) if side in ("top", "bottom") else self.row(index)
        return line[::-1] if side in ("bottom", "right") else line

    def label(self, digit: int) -> str:
        """What is printed for `digit`."""
        return self.labels.get(str(digit), str(digit))
