"""Kinds that a mark on the edge between two cells states."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterator, Mapping
from typing import Annotated, Any, ClassVar, Self

from pydantic import Field

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._drawing import middle
from schema.kinds._sets import set_problems
from schema.kinds.base import Board, Constraint, Digits, Look, Paint, Pen, Setting
from schema.marks import Family, Seen

DOT = 0.13
"""The radius of a dot on an edge."""


class Pair(Constraint):
    """Two cells that share a side, and a relation that does not ask which of them comes first."""

    cells: Annotated[tuple[Cell, ...], Field(min_length=2, max_length=2)]
    marks: ClassVar[tuple[Family, ...]] = ("edge",)
    look: ClassVar[Look] = Look(width=0.025, size=0.26)

    @abstractmethod
    def obeyed_by(self, one: int, other: int) -> bool:
        """Whether two digits stand in the relation."""

    @property
    @abstractmethod
    def relation(self) -> str:
        """The relation in words, as in `must add up to 10`."""

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """Two cells side by side."""
        yield from set_problems(setting.grid, self.cells)
        if not self.cells[0].beside(self.cells[1]):
            yield "/cells", f"{self.cells[0]} and {self.cells[1]} do not share a side"

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """The two cells."""
        return self.cells

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Two digits that do not stand in the relation, or one that no digit does with."""
        grid = setting.grid
        ones, others = ((digits[cell],) if cell in digits else grid.digits for cell in self.cells)
        if any(self.obeyed_by(one, other) for one in ones for other in others):
            return []
        held = [f"{grid.label(digits[cell])} in {cell}" for cell in self.cells if cell in digits]
        found = " and ".join(held) if held else "no two digits of the grid do"
        alone = ", which no digit goes with" if len(held) == 1 else ""
        return [f"{self.cells[0]} and {self.cells[1]} {self.relation}: {found}{alone}"]

    def post(self, board: Board) -> None:
        """The pairs of digits that stand in the relation."""
        digits = board.grid.digits
        rows = [(one, other) for one in digits for other in digits if self.obeyed_by(one, other)]
        board.table([board.digit(cell) for cell in self.cells], rows)

    def draw_dot(self, pen: Pen, look: Look, fill: str) -> None:
        """A dot on the edge."""
        pen.circle(middle(*self.cells), DOT, Paint(stroke=look.colour, fill=fill, width=look.width), "mark")

    def draw_text(self, pen: Pen, look: Look, text: str) -> None:
        """A text on the edge, on a ground of white so that the grid line does not cross it."""
        at = middle(*self.cells)
        pen.circle(at, look.size * 0.62, Paint(stroke=None, fill="#ffffff"), "mark")
        pen.text(at, text, look.size, "glyph", look.colour)

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """One pair."""
        return (cls(cells=seen.cells, **fields),)
