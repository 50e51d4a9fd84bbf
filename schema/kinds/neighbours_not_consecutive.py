"""Neighbours never hold consecutive digits."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._apart import BESIDE, Apart, stepped_pairs
from schema.kinds.base import Sample, Setting
from schema.marks import Family


class NeighboursNotConsecutive(Apart):
    """Cells that share a side never hold consecutive digits."""

    kind: Literal["neighbours-not-consecutive"] = "neighbours-not-consecutive"
    name: ClassVar[str] = "neighbours are not consecutive"
    marks: ClassVar[tuple[Family, ...]] = ("rule",)

    def pairs(self, setting: Setting) -> Iterator[tuple[Cell, Cell]]:
        """Cells that share a side."""
        return stepped_pairs(setting.grid, BESIDE)

    def clash(self, setting: Setting, one: int, other: int) -> bool:
        """Digits that differ by 1 clash."""
        return abs(one - other) == 1

    def clash_words(self, setting: Setting, cells: str, digits: str) -> str:
        """What is wrong."""
        return f"the neighbours {cells} hold {digits}, which are consecutive"

    @classmethod
    def sample(cls) -> Sample:
        """A 4x4 grid."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(),
            obeyed=((2, 4, 1, 3), (4, 1, 3, 1), (1, 3, 1, 4), (3, 1, 4, 2)),
            broken=((0, 0, 0, 0), (0, 2, 3, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
