"""Two neighbours that differ by 1."""

from __future__ import annotations

from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._pairs import Pair
from schema.kinds.base import Look, Pen, Sample


class ConsecutivePair(Pair):
    """The two digits differ by 1."""

    kind: Literal["consecutive-pair"] = "consecutive-pair"
    name: ClassVar[str] = "consecutive pair"
    relation: ClassVar[str] = "must hold consecutive digits"

    def obeyed_by(self, one: int, other: int) -> bool:
        """Whether they differ by 1."""
        return abs(one - other) == 1

    def draw(self, pen: Pen, look: Look) -> None:
        """A white dot on the edge."""
        self.draw_dot(pen, look, look.fill or "#ffffff")

    @classmethod
    def sample(cls) -> Sample:
        """Two cells at the top of a 4x4 grid."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(cells=(Cell(1, 2), Cell(1, 3))),
            obeyed=((1, 2, 3, 4), (3, 4, 1, 2), (2, 1, 4, 3), (4, 3, 2, 1)),
            broken=((0, 4, 2, 0), (0, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
