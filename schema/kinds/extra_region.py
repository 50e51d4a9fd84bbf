"""A group of cells without repeats."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import Field

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._drawing import square
from schema.kinds._sets import set_problems, twice
from schema.kinds.base import Board, Constraint, Digits, Look, Paint, Pen, Sample, Setting
from schema.marks import Family, Seen


class ExtraRegion(Constraint):
    """The cells hold no digit twice."""

    kind: Literal["extra-region"] = "extra-region"
    cells: Annotated[tuple[Cell, ...], Field(min_length=1)]
    name: ClassVar[str] = "extra region"
    marks: ClassVar[tuple[Family, ...]] = ("area",)
    look: ClassVar[Look] = Look(fill="#dedede")

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """The cells."""
        return set_problems(setting.grid, self.cells)

    def wholes(self, grid: Grid) -> list[frozenset[Cell]]:
        """The region itself, where it has as many cells as the grid has digits."""
        return [frozenset(self.cells)] if len(self.cells) == len(grid.digits) else []

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """The region."""
        return self.cells

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Digits that stand twice in the region."""
        return twice(setting.grid, self.cells, digits, f"the extra region with {min(self.cells)}")

    def post(self, board: Board) -> None:
        """All different."""
        board.different(self.cells)

    def draw(self, pen: Pen, look: Look) -> None:
        """Tinted cells."""
        for cell in self.cells:
            pen.line(square(cell), Paint(stroke=None, fill=look.fill), "tint", closed=True)

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """One region."""
        return (cls(cells=seen.cells, **fields),)

    @classmethod
    def sample(cls) -> Sample:
        """The middle of a 4x4 grid."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(cells=(Cell(2, 2), Cell(2, 3), Cell(3, 2), Cell(3, 3))),
            obeyed=((1, 2, 3, 4), (4, 3, 2, 1), (2, 1, 4, 3), (3, 4, 1, 2)),
            broken=((0, 0, 0, 0), (0, 3, 0, 0), (0, 0, 3, 0), (0, 0, 0, 0)),
        )
