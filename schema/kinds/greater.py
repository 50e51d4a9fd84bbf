"""Of two neighbours, one is greater."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar, Literal, Self

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._drawing import middle
from schema.kinds._sets import set_problems
from schema.kinds.base import Board, Constraint, Digits, Look, Paint, Pen, Sample, Setting
from schema.marks import Family, Seen

_POINTS_BACK = frozenset("<^∧Λ")
"""Signs whose point is on the left or the top: the first of the two cells is the smaller."""
_POINTS_ON = frozenset(">vV∨")


class Greater(Constraint):
    """The digit in `greater` is greater than the one in `less`."""

    kind: Literal["greater"] = "greater"
    greater: Cell
    less: Cell
    name: ClassVar[str] = "inequality"
    marks: ClassVar[tuple[Family, ...]] = ("edge",)
    look: ClassVar[Look] = Look(width=0.04, size=0.22)

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """Two cells side by side."""
        for name, cell in (("greater", self.greater), ("less", self.less)):
            for _, why in set_problems(setting.grid, (cell,)):
                yield f"/{name}", why
        if not self.greater.beside(self.less):
            yield "", f"{self.greater} and {self.less} do not share a side"

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """The greater, then the smaller."""
        return self.greater, self.less

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """A greater that is not, or a digit that leaves none for the other cell."""
        grid = setting.grid
        high = digits.get(self.greater, max(grid.digits))
        low = digits.get(self.less, min(grid.digits))
        if high > low:
            return []
        held = [f"{grid.label(digits[c])} in {c}" for c in (self.greater, self.less) if c in digits]
        return [f"{self.greater} must be greater than {self.less}: {' and '.join(held) or 'there is one digit only'}"]

    def post(self, board: Board) -> None:
        """One above the other."""
        board.require(board.digit(self.greater) > board.digit(self.less))

    def draw(self, pen: Pen, look: Look) -> None:
        """An open sign on the edge, its point towards the smaller."""
        x, y = middle(self.greater, self.less)
        dx, dy = self.less.column - self.greater.column, self.less.row - self.greater.row
        half = look.size / 2
        arms = [(x - dx * half + dy * lean, y - dy * half + dx * lean) for lean in (-half, half)]
        point = (x + dx * half, y + dy * half)
        pen.line([arms[0], point, arms[1]], Paint(stroke=look.colour, width=look.width), "mark")

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """One sign, which `text` (or else `shape`) prints: its point is towards the smaller cell."""
        first, second = sorted(seen.cells)
        sign = seen.text.strip() or seen.shape
        if sign in _POINTS_BACK:
            return (cls(greater=second, less=first, **fields),)
        if sign in _POINTS_ON:
            return (cls(greater=first, less=second, **fields),)
        raise ValueError(f"{sign!r} does not say which cell is greater")

    @classmethod
    def sample(cls) -> Sample:
        """Two cells at the top of a 4x4 grid."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(greater=Cell(1, 2), less=Cell(2, 2)),
            obeyed=((1, 4, 2, 3), (2, 3, 1, 4), (3, 2, 4, 1), (4, 1, 3, 2)),
            broken=((0, 0, 0, 0), (0, 4, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
