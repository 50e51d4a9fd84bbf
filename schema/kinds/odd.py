"""Cells with odd digits."""

from __future__ import annotations

from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._parity import Parity
from schema.kinds.base import Look, Paint, Pen, Sample


class Odd(Parity):
    """Every one of the cells holds an odd digit."""

    kind: Literal["odd"] = "odd"
    name: ClassVar[str] = "odd"
    remainder: ClassVar[int] = 1

    def draw(self, pen: Pen, look: Look) -> None:
        """A grey disc in each cell."""
        for cell in self.cells:
            pen.circle(cell.centre, look.size, Paint(stroke=None, fill=look.fill), "tint")

    @classmethod
    def sample(cls) -> Sample:
        """Two cells of a 4x4 grid."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(cells=(Cell(1, 1), Cell(3, 4))),
            obeyed=((1, 2, 3, 4), (3, 4, 1, 2), (2, 4, 1, 3), (4, 3, 2, 1)),
            broken=((3, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 2), (0, 0, 0, 0)),
        )
