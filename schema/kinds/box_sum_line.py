"""Digits of a line add up to the same total in each box that it visits."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._lines import Line, along, path_problems
from schema.kinds._totals import sums_left
from schema.kinds.base import Board, Digits, Look, Sample, Setting
from schema.kinds.boxes import Boxes
from schema.words import added, with_empty


class BoxSumLine(Line):
    """The digits in each box that the path visits add up to the same total. A box that it enters twice has one total:
    of all its cells on the path."""

    kind: Literal["box-sum-line"] = "box-sum-line"
    name: ClassVar[str] = "box-sum line"
    look: ClassVar[Look] = Look(colour="#85b7d9", width=0.16)

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """Besides the path, the puzzle must have boxes."""
        yield from path_problems(setting.grid, self.path)
        if not setting.of_kind(Boxes):
            yield "", "a box-sum line needs boxes, and the puzzle has none"

    def _visits(self, setting: Setting) -> dict[int, list[Cell]]:
        """The cells of the path in each box, by the number of the box."""
        number_of = {
            cell: number for rule in setting.of_kind(Boxes) for number, box in enumerate(rule.cells, 1) for cell in box
        }
        visits: dict[int, list[Cell]] = defaultdict(list)
        for cell in self.path:
            visits[number_of[cell]].append(cell)
        return visits

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """No total is left that all boxes can reach."""
        visits = self._visits(setting)
        if frozenset.intersection(*(sums_left(setting.grid, cells, digits) for cells in visits.values())):
            return []
        totals = []
        for number, cells in visits.items():
            held = [digits[cell] for cell in cells if cell in digits]
            totals.append(f"{with_empty(added(held), len(cells) - len(held))} in box {number}")
        return [f"the box-sum line from {along(self.path)}: {', '.join(totals)}"]

    def post(self, board: Board) -> None:
        """The first box's total is each other box's total."""
        first, *others = (sum(map(board.digit, cells)) for cells in self._visits(board.setting).values())
        for total in others:
            board.require(total == first)

    @classmethod
    def sample(cls) -> Sample:
        """A line through two boxes of a 4x4 grid: 1 + 3 on the left, 4 on the right."""
        grid = Grid(rows=4, columns=4, digits=(1, 2, 3, 4))
        return Sample(
            grid=grid,
            constraint=cls(path=tuple(map(Cell.parse, ("r2c1", "r1c2", "r1c3")))),
            obeyed=((2, 1, 4, 3), (3, 4, 1, 2), (1, 2, 3, 4), (4, 3, 2, 1)),
            broken=((0, 3, 0, 0), (4, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
            extra=(Boxes.regular(grid, 2, 2),),
        )
