"""Digits on a diagonal add up to the number at its start."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar, Literal, Self

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._drawing import arrow_head
from schema.kinds._sets import set_problems
from schema.kinds._totals import sums_left
from schema.kinds._values import Total, printed_number
from schema.kinds.base import Board, Constraint, Digits, Look, Paint, Pen, Sample, Setting
from schema.marks import Direction, Family, Seen, step_of
from schema.words import added, with_empty

_ARROW = (0.44, 0.08)
"""Where the little arrow begins and ends, in diagonals of a cell before the corner of the start."""


class DiagonalSum(Constraint):
    """The digits from `start` along the diagonal to the edge add up to `value`; they may repeat."""

    kind: Literal["diagonal-sum"] = "diagonal-sum"
    start: Cell
    direction: Direction
    value: Total
    name: ClassVar[str] = "diagonal sum"
    marks: ClassVar[tuple[Family, ...]] = ("outside-diagonal",)
    unmistakable: ClassVar[tuple[Family, ...]] = ("outside-diagonal",)
    look: ClassVar[Look] = Look(width=0.03, size=0.36)

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """The start is on the grid, and the first cell of its diagonal: the number stands before it."""
        for _, why in set_problems(setting.grid, (self.start,)):
            yield "/start", why
        rows, columns = step_of(self.direction)
        if self.start in setting.grid and self.start.stepped(-rows, -columns) in setting.grid:
            yield "/start", f"{self.start} is not where a diagonal that goes {self.direction} begins"

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """The diagonal, from its start."""
        cells, here = [], self.start
        while here in grid:
            cells.append(here)
            here = here.stepped(*step_of(self.direction))
        return tuple(cells)

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """A total that is wrong or out of reach."""
        cells = self.cells_of(setting.grid)
        if self.value in sums_left(setting.grid, cells, digits):
            return []
        held = [digits[cell] for cell in cells if cell in digits]
        where = f"diagonal sum {self.value} from {self.start} {self.direction}"
        return [f"{where}: {with_empty(added(held), len(cells) - len(held))}"]

    def post(self, board: Board) -> None:
        """The sum."""
        board.require(sum(map(board.digit, self.cells_of(board.grid))) == self.value)

    def draw(self, pen: Pen, look: Look) -> None:
        """The number outside the corner of the start, and a little arrow into the diagonal."""
        rows, columns = step_of(self.direction)
        x, y = self.start.centre[0] - columns / 2, self.start.centre[1] - rows / 2
        away = look.ring - 0.36
        pen.text((x - columns * away, y - rows * away), str(self.value), look.size, "glyph", look.colour)
        tail, tip = ((x - columns * far, y - rows * far) for far in _ARROW)
        paint = Paint(stroke=look.colour, width=look.width)
        pen.line([tail, tip], paint, "mark")
        pen.line(arrow_head(tail, tip, 0.12), paint, "mark")

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """One sum, from the cell that the arrow points into."""
        if len(seen.cells) != 1:
            raise ValueError("a diagonal sum starts in one cell")
        value = printed_number(seen.text)
        return (cls(**{"start": seen.cells[0], "direction": seen.direction, "value": value, **fields}),)

    @classmethod
    def sample(cls) -> Sample:
        """Three cells that fall from the left: 3 + 2 + 3."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(start=Cell(2, 1), direction="down-right", value=8),
            obeyed=((1, 2, 3, 4), (3, 4, 1, 2), (4, 2, 2, 1), (2, 1, 3, 3)),
            broken=((0, 0, 0, 0), (1, 0, 0, 0), (0, 2, 0, 0), (0, 0, 0, 0)),
        )
