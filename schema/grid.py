"""The grid: its size, its digits, and what is printed for a digit."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from schema.cells import Cell

Side = Literal["top", "bottom", "left", "right"]

MOST_LINES = 25
"""Rows or columns of the largest grid; a puzzle of 25x25 is the largest that is printed."""
MOST_DIGIT = 99

Count = Annotated[int, Field(ge=1, le=MOST_LINES)]
Digit = Annotated[int, Field(ge=0, le=MOST_DIGIT)]
Label = Annotated[str, Field(min_length=1, max_length=3)]


class Grid(BaseModel):
    """Rows x columns of cells, the digits that they hold, and labels for digits not printed as themselves."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    rows: Count
    columns: Count
    digits: Annotated[tuple[Digit, ...], Field(min_length=1, max_length=MOST_LINES)]
    labels: dict[str, Label] = {}

    def __contains__(self, cell: Cell) -> bool:
        return 1 <= cell.row <= self.rows and 1 <= cell.column <= self.columns

    def cells(self) -> Iterator[Cell]:
        """All cells, row by row."""
        return (cell for r in range(1, self.rows + 1) for cell in self.row(r))

    def row(self, index: int) -> tuple[Cell, ...]:
        """The cells of row `index`, left to right."""
        return _row(index, self.columns)

    def column(self, index: int) -> tuple[Cell, ...]:
        """The cells of column `index`, top to bottom."""
        return _column(index, self.rows)

    def line_from(self, side: Side, index: int) -> tuple[Cell, ...]:
        """The row or column that an outside clue at `side`, `index` sees, nearest cell first."""
        line = self.column(index) if side in ("top", "bottom") else self.row(index)
        return line[::-1] if side in ("bottom", "right") else line

    def label(self, digit: int) -> str:
        """What is printed for `digit`."""
        return self.labels.get(str(digit), str(digit))

    def problems(self) -> Iterator[tuple[str, str]]:
        """(JSON Pointer below the grid, why) for digits listed twice and labels that cannot be told apart."""
        for index, digit in enumerate(self.digits):
            if digit in self.digits[:index]:
                yield f"/digits/{index}", f"digit {digit} is listed twice"
        printed: dict[str, int] = {}
        for digit in self.digits:
            first = printed.setdefault(self.label(digit), digit)
            if first != digit:
                yield "/labels", f"digits {first} and {digit} are both printed as {self.label(digit)!r}"
        names = {str(digit) for digit in self.digits}
        for name, label in self.labels.items():
            if name not in names:
                yield (
                    f"/labels/{name.replace('~', '~0').replace('/', '~1')}",
                    f"{name!r} is not one of the grid's digits",
                )
            elif not _printable(label):
                yield (
                    f"/labels/{name}",
                    f"{label!r} cannot be a label; a label is printed without blanks and is not '.'",
                )


@lru_cache(maxsize=512)
def _row(index: int, columns: int) -> tuple[Cell, ...]:
    # Rules ask for the same rows and columns each time that a solution is checked.
    return tuple(Cell(index, c) for c in range(1, columns + 1))


@lru_cache(maxsize=512)
def _column(index: int, rows: int) -> tuple[Cell, ...]:
    return tuple(Cell(r, index) for r in range(1, rows + 1))


def _printable(label: str) -> bool:
    return label.isprintable() and label != "." and not any(character.isspace() for character in label)
