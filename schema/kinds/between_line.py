"""Digits on a line lie between the digits at its ends."""

from __future__ import annotations

from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._lines import Line, along
from schema.kinds.base import Board, Digits, Look, Paint, Pen, Sample, Setting
from schema.marks import Family


class BetweenLine(Line):
    """The digits inside the path are strictly between the two end digits in value."""

    kind: Literal["between-line"] = "between-line"
    name: ClassVar[str] = "between line"
    marks: ClassVar[tuple[Family, ...]] = ("ringed-line", "line")
    look: ClassVar[Look] = Look(colour="#9a9a9a", width=0.08, size=0.36)

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Digits that no two ends left can take between them."""
        grid, inner = setting.grid, self.path[1:-1]
        held = [digits[cell] for cell in inner if cell in digits]
        ends = [(digits[cell],) if cell in digits else grid.digits for cell in (self.path[0], self.path[-1])]
        for one in ends[0]:
            for other in ends[1]:
                room = range(min(one, other) + 1, max(one, other))
                filled = all(digit in room for digit in held)
                fillable = len(held) == len(inner) or any(digit in room for digit in grid.digits)
                if filled and fillable:
                    return []
        return [f"the between line from {along(self.path)}: {self._why(grid, digits)}"]

    def _why(self, grid: Grid, digits: Digits) -> str:
        start, end = self.path[0], self.path[-1]
        if start in digits and end in digits:
            low, high = sorted((digits[start], digits[end]))
            ends = f"{grid.label(digits[start])} in {start} and {grid.label(digits[end])} in {end}"
            for cell in self.path[1:-1]:
                if cell in digits and not low < digits[cell] < high:
                    return f"{grid.label(digits[cell])} in {cell} is not between its ends, {ends}"
            return f"no digit lies between its ends, {ends}"
        return "no digits are left for its ends that have its other digits between them"

    def post(self, board: Board) -> None:
        """Rising from the first end to the last, or the other way round."""
        first, last = board.digit(self.path[0]), board.digit(self.path[-1])
        rising = board.flag()
        for cell in self.path[1:-1]:
            inner = board.digit(cell)
            for low, high, flag in ((first, last, rising), (last, first, board.negated(rising))):
                board.require(inner > low, only_if=[flag])
                board.require(inner < high, only_if=[flag])

    def draw(self, pen: Pen, look: Look) -> None:
        """A line between two white rings."""
        super().draw(pen, look)
        ring = Paint(stroke=look.colour, fill=look.fill or "#ffffff", width=look.width / 2)
        for end in (self.path[0], self.path[-1]):
            pen.circle(end.centre, look.size, ring, "line")

    @classmethod
    def sample(cls) -> Sample:
        """From 1 to 4 across a 4x4 grid."""
        path = tuple(map(Cell.parse, ("r1c1", "r2c2", "r2c3", "r1c4")))
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(path=path),
            obeyed=((1, 2, 3, 4), (4, 3, 2, 1), (2, 1, 4, 3), (3, 4, 1, 2)),
            broken=((1, 0, 0, 2), (0, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
