"""The first digits of a line add up to a number; the first of all says how many."""

from __future__ import annotations

from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._outside import OutsideClue
from schema.kinds._totals import sums_left, sums_of
from schema.kinds.base import Board, Digits, Sample, Setting
from schema.words import added, with_empty


class XSum(OutsideClue):
    """The first X digits from that side add up to `value`, X being the first of them."""

    kind: Literal["x-sum"] = "x-sum"
    name: ClassVar[str] = "x-sum"

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """No first digit is left with which the value can be reached."""
        grid, line = setting.grid, self.cells_of(setting.grid)
        distinct = setting.holds_each_once(line)
        elsewhere = {digits[cell] for cell in line if cell in digits} if distinct else set()
        firsts = [digits[line[0]]] if line[0] in digits else [d for d in grid.digits if d not in elsewhere]
        if any(self._reached(setting, {**digits, line[0]: first}, first, distinct) for first in firsts):
            return []
        if line[0] not in digits:
            return [f"{self.clue_name}: no digit is left for {line[0]} that makes it come out"]
        return [f"{self.clue_name}: {self._arithmetic(grid, digits, line, firsts[0])}"]

    def _reached(self, setting: Setting, digits: Digits, first: int, distinct: bool) -> bool:
        line = self.cells_of(setting.grid)
        if first > len(line):
            return False
        if not distinct:
            return self.value in sums_left(setting.grid, line[:first], digits)
        held = [digits[cell] for cell in line[:first] if cell in digits]
        used = {digits[cell] for cell in line if cell in digits}
        choices = tuple(d for d in setting.grid.digits if d not in used)
        return self.value - sum(held) in sums_of(first - len(held), choices, distinct)

    def _arithmetic(self, grid: Grid, digits: Digits, line: tuple[Cell, ...], first: int) -> str:
        if first > len(line):
            return f"the first digit is {first}, and there are only {len(line)} cells"
        held = [digits[cell] for cell in line[:first] if cell in digits]
        return f"the first {first} from the {self.side}: {with_empty(added(held), first - len(held))}"

    def post(self, board: Board) -> None:
        """A sum for each digit that can stand first; the others are ruled out."""
        line = self.cells_of(board.grid)
        distinct = board.setting.holds_each_once(line)
        for first in board.grid.digits:
            rest = tuple(d for d in board.grid.digits if not (distinct and d == first))
            stands = board.holds(line[0], first)
            possible = first == 0 == self.value or (
                1 <= first <= len(line) and self.value - first in sums_of(first - 1, rest, distinct)
            )
            if not possible:
                board.any_of([board.negated(stands)])
            elif first:
                board.require(sum(map(board.digit, line[:first])) == self.value, only_if=[stands])

    @classmethod
    def sample(cls) -> Sample:
        """2 + 4 from the right."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(side="right", index=1, value=6),
            obeyed=((1, 3, 4, 2), (2, 4, 3, 1), (3, 1, 2, 4), (4, 2, 1, 3)),
            broken=((0, 0, 0, 4), (0, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
