"""A long diagonal without repeats."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar, Literal, Self

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._sets import twice
from schema.kinds.base import Board, Constraint, Digits, Look, Paint, Pen, Sample, Setting
from schema.marks import Family, Seen


class Diagonal(Constraint):
    """The long diagonal holds no digit twice; `direction` is how it runs when read from left to right."""

    kind: Literal["diagonal"] = "diagonal"
    direction: Literal["down", "up"]
    name: ClassVar[str] = "diagonal"
    marks: ClassVar[tuple[Family, ...]] = ("diagonal", "rule")
    unmistakable: ClassVar[tuple[Family, ...]] = ("diagonal",)
    look: ClassVar[Look] = Look(colour="#a0a0a0", width=0.03)

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """Only a square grid has long diagonals."""
        if setting.grid.rows != setting.grid.columns:
            yield "", f"a grid of {setting.grid.rows} rows and {setting.grid.columns} columns has no long diagonal"

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """The diagonal from left to right."""
        across = range(1, grid.columns + 1)
        return tuple(Cell(c if self.direction == "down" else grid.rows + 1 - c, c) for c in across)

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Digits that stand twice on the diagonal."""
        cells = self.cells_of(setting.grid)
        return twice(setting.grid, cells, digits, f"the long diagonal from {cells[0]} to {cells[-1]}")

    def post(self, board: Board) -> None:
        """All different."""
        board.different(self.cells_of(board.grid))

    def draw(self, pen: Pen, look: Look) -> None:
        """A thin line from corner to corner."""
        bottom = float(pen.grid.rows)
        start, end = (0.0, bottom) if self.direction == "down" else (bottom, 0.0)
        ends = [(0.0, start), (float(pen.grid.columns), end)]
        pen.line(ends, Paint(stroke=look.colour, width=look.width, dash=look.dash), "line")

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """The diagonal that is drawn; both where the rules alone state them and name none."""
        if seen.family == "rule" and "direction" not in fields:
            return cls(direction="down"), cls(direction="up")
        if "direction" in fields:
            return (cls(**fields),)
        if seen.direction not in ("down", "up"):
            raise ValueError("a long diagonal runs down or up")
        return (cls(direction=seen.direction),)

    @classmethod
    def sample(cls) -> Sample:
        """The rising diagonal of a 4x4 grid."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(direction="up"),
            obeyed=((1, 2, 3, 4), (3, 1, 2, 4), (4, 3, 2, 1), (1, 2, 4, 3)),
            broken=((0, 0, 0, 4), (0, 0, 1, 0), (0, 2, 0, 0), (4, 0, 0, 0)),
        )
