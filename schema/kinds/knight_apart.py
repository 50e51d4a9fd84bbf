"""No digit twice a knight's move apart."""

from __future__ import annotations

from typing import ClassVar, Literal

from schema.grid import Grid
from schema.kinds._apart import SameApart
from schema.kinds.base import Sample


class KnightApart(SameApart):
    """No digit stands twice a chess knight's move apart."""

    kind: Literal["knight-apart"] = "knight-apart"
    name: ClassVar[str] = "no digit twice a knight's move apart"
    move: ClassVar[str] = "a knight's move"
    steps: ClassVar[tuple[tuple[int, int], ...]] = ((1, 2), (1, -2), (2, 1), (2, -1))
    """The knight's moves that go down; the others are the same pairs."""

    @classmethod
    def sample(cls) -> Sample:
        """A 4x4 grid."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(),
            obeyed=((1, 2, 3, 4), (2, 1, 4, 3), (3, 4, 1, 2), (4, 3, 2, 1)),
            broken=((1, 0, 0, 0), (0, 0, 1, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
