"""Digits along a line add up to the number printed at its start."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar, Literal, Self

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._lines import Line, along
from schema.kinds._totals import sums_left
from schema.kinds._values import Total, printed_number
from schema.kinds.base import Board, Digits, Look, Pen, Sample, Setting
from schema.marks import Seen
from schema.words import added, with_empty


class SumLine(Line):
    """The digits on the path add up to `value`, which is printed in its first cell; digits may repeat."""

    kind: Literal["sum-line"] = "sum-line"
    value: Total
    name: ClassVar[str] = "sum line"
    look: ClassVar[Look] = Look(colour="#c9a66b", width=0.16)

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """No filling of the empty cells comes to the value."""
        if self.value in sums_left(setting.grid, self.path, digits):
            return []
        held = [digits[cell] for cell in self.path if cell in digits]
        total = with_empty(added(held), len(self.path) - len(held))
        return [f"the sum line from {along(self.path)} must come to {self.value}: {total}"]

    def post(self, board: Board) -> None:
        """The sum."""
        board.require(sum(map(board.digit, self.path)) == self.value)

    def draw(self, pen: Pen, look: Look) -> None:
        """The line, with its number in the top left corner of the first cell."""
        super().draw(pen, look)
        x, y = self.path[0].centre
        pen.text((x - 0.36, y - 0.36), str(self.value), 0.24, "glyph")

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """One line for each path, the number being what is printed at its start."""
        return tuple(cls(path=path, **{**fields, "value": printed_number(seen.text)}) for path in seen.paths)

    @classmethod
    def sample(cls) -> Sample:
        """1 + 3 + 4 on the way through a 4x4 grid."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(path=tuple(map(Cell.parse, ("r1c1", "r1c2", "r2c3"))), value=8),
            obeyed=((1, 3, 2, 4), (2, 1, 4, 3), (3, 4, 1, 2), (4, 2, 3, 1)),
            broken=((1, 3, 0, 0), (0, 0, 2, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
