"""No digit twice a king's move apart."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._apart import BESIDE, Apart, stepped_pairs
from schema.kinds.base import Board, Sample, Setting
from schema.marks import Family

_STEPS = (*BESIDE, (1, 1), (1, -1))
"""The king's moves that go right or down; the others are the same pairs."""


class KingApart(Apart):
    """No digit stands twice a chess king's move apart."""

    kind: Literal["king-apart"] = "king-apart"
    name: ClassVar[str] = "no digit twice a king's move apart"
    marks: ClassVar[tuple[Family, ...]] = ("rule",)

    def pairs(self, setting: Setting) -> Iterator[tuple[Cell, Cell]]:
        """Cells that touch."""
        return stepped_pairs(setting.grid, _STEPS)

    def clash(self, setting: Setting, one: int, other: int) -> bool:
        """Equal digits clash."""
        return one == other

    def clash_words(self, setting: Setting, cells: str, digits: str) -> str:
        """What is wrong."""
        return f"{cells}, a king's move apart, both hold {digits.split(maxsplit=1)[0]}"

    def post(self, board: Board) -> None:
        """Each two cells differ."""
        for pair in self.pairs(board.setting):
            board.different(pair)

    @classmethod
    def sample(cls) -> Sample:
        """A 4x4 grid."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(),
            obeyed=((1, 2, 3, 4), (3, 4, 1, 2), (1, 2, 3, 4), (3, 4, 1, 2)),
            broken=((0, 0, 0, 0), (0, 2, 0, 0), (2, 0, 0, 0), (0, 0, 0, 0)),
        )
