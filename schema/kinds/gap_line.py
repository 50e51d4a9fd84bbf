"""Neighbours on a line differ by at least a gap."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from schema.cells import Cell
from schema.grid import MOST_DIGIT, Grid
from schema.kinds._lines import Line, along, path_problems
from schema.kinds.base import Board, Digits, Look, Sample, Setting


class GapLine(Line):
    """Digits next to each other on the path differ by at least `gap`. The path may end where it began: a loop."""

    kind: Literal["gap-line"] = "gap-line"
    gap: Annotated[int, Field(ge=1, le=MOST_DIGIT)]
    name: ClassVar[str] = "gap line"
    look: ClassVar[Look] = Look(colour="#8fbc8f", width=0.16)

    def problems(self, setting: Setting) -> Iterable[tuple[str, str]]:
        """A path, or a loop."""
        return path_problems(setting.grid, self.path, closed=True)

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Neighbours too close together, or else a cell that no digit can fill."""
        where = f"the gap line from {along(self.path)}"
        close = [
            f"{where} has {digits[one]} in {one} and {digits[other]} in {other}, "
            f"which differ by {abs(digits[one] - digits[other])}, not by {self.gap} or more"
            for one, other in pairwise(self.path)
            if one in digits and other in digits and abs(digits[one] - digits[other]) < self.gap
        ]
        if close or any(self._goes_on(setting.grid, digits, first) for first in setting.grid.digits):
            return close
        return [f"{where}: its empty cells cannot be filled so that neighbours differ by {self.gap} or more"]

    def _goes_on(self, grid: Grid, digits: Digits, first: int) -> bool:
        """Whether the line can be filled with `first` in its first cell."""
        here = {first} & _options(grid, digits, self.path[0])
        for cell in self.path[1:]:
            here = {d for d in _options(grid, digits, cell) if any(abs(d - before) >= self.gap for before in here)}
        return bool(here) and (self.path[0] != self.path[-1] or first in here)

    def post(self, board: Board) -> None:
        """The pairs of digits that are far enough apart, for each two neighbours."""
        digits = board.grid.digits
        apart = [(a, b) for a in digits for b in digits if abs(a - b) >= self.gap]
        for one, other in pairwise(self.path):
            board.table([board.digit(one), board.digit(other)], apart)

    @classmethod
    def sample(cls) -> Sample:
        """A gap of 2 along the top of a 4x4 grid."""
        path = tuple(map(Cell.parse, ("r1c1", "r1c2", "r1c3", "r2c4")))
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(path=path, gap=2),
            obeyed=((2, 4, 1, 3), (1, 3, 2, 4), (3, 1, 4, 2), (4, 2, 3, 1)),
            broken=((1, 3, 2, 0), (0, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )


def _options(grid: Grid, digits: Digits, cell: Cell) -> set[int]:
    return {digits[cell]} if cell in digits else set(grid.digits)
