"""A line of consecutive digits in any order."""

from __future__ import annotations

from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._lines import Line, along
from schema.kinds._sets import twice
from schema.kinds.base import Board, Digits, Look, Sample, Setting
from schema.words import listed


class RunLine(Line):
    """The digits on the path are consecutive, in any order, none twice."""

    kind: Literal["run-line"] = "run-line"
    name: ClassVar[str] = "run line"
    look: ClassVar[Look] = Look(colour="#c39bd3", width=0.16)

    def _runs(self, grid: Grid) -> list[range]:
        """Every run of consecutive digits as long as the path."""
        runs = (range(low, low + len(self.path)) for low in sorted(grid.digits))
        return [run for run in runs if set(run) <= set(grid.digits)]

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """A digit twice, or digits that no run holds."""
        where = f"the run line from {along(self.path)}"
        if repeated := twice(setting.grid, self.path, digits, where):
            return repeated
        held = {digits[cell] for cell in self.path if cell in digits}
        if any(held <= set(run) for run in self._runs(setting.grid)):
            return []
        digits_held = listed(sorted(held)) or "nothing"
        return [f"{where} holds {digits_held}, which no {len(self.path)} consecutive digits include"]

    def post(self, board: Board) -> None:
        """All different, and no digit outside the run that starts at the lowest."""
        board.different(self.path)
        runs = self._runs(board.grid)
        starts = [board.flag() for _ in runs]
        board.exactly_one(starts)
        for start, run in zip(starts, runs, strict=True):
            for cell in self.path:
                board.require(board.digit(cell) >= run[0], only_if=[start])
                board.require(board.digit(cell) <= run[-1], only_if=[start])

    @classmethod
    def sample(cls) -> Sample:
        """Three consecutive digits down the left of a 4x4 grid."""
        path = tuple(map(Cell.parse, ("r1c1", "r2c1", "r3c2")))
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(path=path),
            obeyed=((4, 1, 2, 3), (2, 4, 3, 1), (1, 3, 4, 2), (3, 2, 1, 4)),
            broken=((1, 0, 0, 0), (4, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
