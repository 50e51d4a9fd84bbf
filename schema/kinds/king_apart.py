"""No digit twice a king's move apart."""

from __future__ import annotations

from typing import ClassVar, Literal

from schema.grid import Grid
from schema.kinds._apart import BESIDE, SameApart
from schema.kinds.base import Sample


class KingApart(SameApart):
    """No digit stands twice a chess king's move apart."""

    kind: Literal["king-apart"] = "king-apart"
    name: ClassVar[str] = "no digit twice a king's move apart"
    move: ClassVar[str] = "a king's move"
    steps: ClassVar[tuple[tuple[int, int], ...]] = (*BESIDE, (1, 1), (1, -1))
    """The king's moves that go right or down; the others are the same pairs."""

    @classmethod
    def sample(cls) -> Sample:
        """A 4x4 grid."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(),
            obeyed=((1, 2, 3, 4), (3, 4, 1, 2), (1, 2, 3, 4), (3, 4, 1, 2)),
            broken=((0, 0, 0, 0), (0, 2, 0, 0), (2, 0, 0, 0), (0, 0, 0, 0)),
        )
