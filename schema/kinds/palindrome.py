"""A line that reads the same both ways."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._lines import Line, along
from schema.kinds.base import Board, Digits, Sample, Setting


class Palindrome(Line):
    """The digits along the path read the same both ways."""

    kind: Literal["palindrome"] = "palindrome"
    name: ClassVar[str] = "palindrome"

    def _mirrored(self) -> Iterator[tuple[Cell, Cell]]:
        half = len(self.path) // 2
        return zip(self.path[:half], reversed(self.path[-half:]), strict=True)

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Mirrored cells that differ."""
        label = setting.grid.label
        return [
            f"the palindrome from {along(self.path)} has {label(digits[one])} in {one} "
            f"and {label(digits[other])} in {other}, its mirror"
            for one, other in self._mirrored()
            if one in digits and other in digits and digits[one] != digits[other]
        ]

    def post(self, board: Board) -> None:
        """Mirrored cells are equal."""
        for one, other in self._mirrored():
            board.require(board.digit(one) == board.digit(other))

    @classmethod
    def sample(cls) -> Sample:
        """Five cells down the middle of a 4x4 grid."""
        path = tuple(map(Cell.parse, ("r1c1", "r2c2", "r3c2", "r3c3", "r2c4")))
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(path=path),
            obeyed=((1, 2, 3, 4), (4, 3, 2, 1), (2, 4, 3, 1), (3, 1, 4, 2)),
            broken=((1, 0, 0, 0), (0, 3, 0, 4), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
