"""A mark that was seen and that no rule explains."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import Field

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._drawing import square
from schema.kinds._sets import set_problems
from schema.kinds.base import Board, Constraint, Digits, Look, Paint, Pen, Sample, Setting
from schema.marks import Seen

_HATCHES = 4
"""Strokes across a cell."""


class UnreadMark(Constraint):
    """Nothing is known: a mark was seen that no rule explains. `shape` says in a word or two what it looks like; there
    may be no cells, where it stands beside the grid."""

    kind: Literal["unread-mark"] = "unread-mark"
    shape: Annotated[str, Field(min_length=1)]
    cells: tuple[Cell, ...]
    name: ClassVar[str] = "unread mark"
    understood: ClassVar[bool] = False
    look: ClassVar[Look] = Look(colour="#7a7a7a", width=0.02, size=0.42)

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """The cells."""
        return set_problems(setting.grid, self.cells)

    def identity(self) -> Hashable:
        """Two smudges alike are still two."""
        return id(self)

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """The cells of the mark."""
        return self.cells

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Nothing breaks a rule that nobody knows."""
        return []

    def post(self, board: Board) -> None:
        """Nothing."""

    def draw(self, pen: Pen, look: Look) -> None:
        """Each cell framed by dashes and hatched, as a sign to the reader and not as a mark of the puzzle."""
        paint = Paint(stroke=look.colour, width=look.width, dash=(0.06, 0.06))
        for cell in self.cells:
            left, top = cell.centre[0] - look.size, cell.centre[1] - look.size
            right, bottom = left + 2 * look.size, top + 2 * look.size
            pen.line(square(cell, look.size), paint, "mark", closed=True)
            for stroke in range(1, 2 * _HATCHES):
                reach = 4 * look.size * stroke / (2 * _HATCHES)
                start = (min(left + reach, right), max(top, top + reach - 2 * look.size))
                end = (max(left, left + reach - 2 * look.size), min(top + reach, bottom))
                pen.line([start, end], paint, "mark")

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """The mark by what it looks like, in every cell that it touches."""
        cells = dict.fromkeys((*seen.cells, *(cell for path in seen.paths for cell in path)))
        return (cls(shape=seen.shape or seen.family, cells=tuple(cells), **fields),)

    @classmethod
    def sample(cls) -> Sample:
        """A star in one cell; no grid breaks it."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(shape="star", cells=(Cell(2, 2),)),
            obeyed=((1, 1, 1, 1), (1, 1, 1, 1), (1, 1, 1, 1), (1, 1, 1, 1)),
            broken=(),
        )
