"""An outlined group of cells whose digits make a number."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import Field

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds import _calculation as calculation
from schema.kinds._outline import inset_outline
from schema.kinds._sets import set_problems, twice
from schema.kinds._values import Total, printed_number
from schema.kinds.base import Board, Constraint, Digits, Look, Paint, Pen, Sample, Setting
from schema.marks import Family, Seen
from schema.words import with_empty

_INSET = 0.09
"""How far the outline keeps from the edges of its cells."""
_SIGNS = {"sum": "", "difference": "–", "product": "×", "quotient": "÷"}
_OPERATIONS: dict[str, calculation.Operation] = {
    "+": "sum", "-": "difference", "–": "difference", "−": "difference", "x": "product", "X": "product",
    "×": "product", "*": "product", "÷": "quotient", "/": "quotient", ":": "quotient",
}  # fmt: skip
"""Signs that print uses beside a total."""


class Cage(Constraint):
    """The digits make `value` (where there is one): added up, multiplied, or the largest less the sum of the others,
    or divided by their product. No digit twice, unless `repeats`."""

    kind: Literal["cage"] = "cage"
    cells: Annotated[tuple[Cell, ...], Field(min_length=1)]
    value: Total | None = None
    operation: calculation.Operation = "sum"
    repeats: bool = False
    name: ClassVar[str] = "cage"
    marks: ClassVar[tuple[Family, ...]] = ("cage",)
    unmistakable: ClassVar[tuple[Family, ...]] = ("cage",)
    look: ClassVar[Look] = Look(width=0.025, size=0.22, dash=(0.09, 0.06))

    @property
    def _corner(self) -> Cell:
        """The leftmost cell of the top row, where print puts the total."""
        return min(self.cells)

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """The cells; a difference or a quotient needs two of them."""
        yield from set_problems(setting.grid, self.cells)
        if self.operation in ("difference", "quotient") and len(self.cells) < 2:
            yield "/operation", f"a {self.operation} needs two cells or more"

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """The cage."""
        return self.cells

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Repeated digits, then the arithmetic."""
        grid, where = setting.grid, f"the cage at {self._corner}"
        reasons = [] if self.repeats else twice(grid, self.cells, digits, where)
        if self.value is None or reasons:
            return reasons
        held = [digits[cell] for cell in self.cells if cell in digits]
        empty = len(self.cells) - len(held)
        choices = tuple(d for d in grid.digits if self.repeats or d not in held)
        if calculation.reaches(self.operation, self.value, held, empty, choices, not self.repeats):
            return []
        sign = _SIGNS[self.operation]
        sums = with_empty(calculation.in_words(self.operation, held), empty)
        return [f"{where} should make {self.value}{sign} and holds {sums}"]

    def post(self, board: Board) -> None:
        """All different unless digits may repeat, and the arithmetic."""
        if not self.repeats:
            board.different(self.cells)
        if self.value is not None:
            calculation.post(board, self.operation, self.value, self.cells, not self.repeats)

    def draw(self, pen: Pen, look: Look) -> None:
        """A dashed outline inside the cells, and the total small in the corner."""
        paint = Paint(stroke=look.colour, width=look.width, dash=look.dash, round=False)
        for loop in inset_outline(self.cells, _INSET):
            pen.line(loop, paint, "mark", closed=True)
        if self.value is not None:
            text = f"{self.value}{_SIGNS[self.operation]}"
            x, y = self._corner.column - 1 + _INSET, self._corner.row - 1 + _INSET
            # Figures are about 0.55 of their size wide and 0.7 high.
            at = (x + look.size * (0.2 + 0.275 * len(text)), y + look.size * 0.5)
            pen.text(at, text, look.size, "glyph", look.colour)

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """One cage; a sign behind the total or before it names the operation."""
        text = seen.text.strip()
        stated = dict(fields)
        if operation := _OPERATIONS.get(text[-1:]):
            text = text[:-1]
        elif operation := _OPERATIONS.get(text[:1]):
            text = text[1:]
        if operation:
            stated["operation"] = operation
        if text:
            stated["value"] = printed_number(text)
        return (cls(cells=seen.cells, **stated),)

    @classmethod
    def sample(cls) -> Sample:
        """Three cells that add up to 7."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(cells=(Cell(1, 1), Cell(1, 2), Cell(2, 1)), value=7),
            obeyed=((1, 2, 3, 4), (4, 3, 1, 2), (2, 1, 4, 3), (3, 4, 2, 1)),
            broken=((1, 3, 0, 0), (4, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
