"""How many digits of a line are higher than all before them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._outside import OutsideClue
from schema.kinds.base import Board, Digits, Flag, Sample, Setting
from schema.words import listed


class Skyscraper(OutsideClue):
    """`value` digits of the line are higher than all before them, seen from that side."""

    kind: Literal["skyscraper"] = "skyscraper"
    name: ClassVar[str] = "skyscraper"

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """No way is left to fill the line so that the value can be counted."""
        line = self.cells_of(setting.grid)
        held = [digits.get(cell) for cell in line]
        if self.value in _counts_left(held, setting.grid.digits, setting.holds_each_once(line)):
            return []
        if None in held:
            return [f"{self.clue_name}: the filled cells leave no way to see {self.value} digits"]
        seen = _seen([digit for digit in held if digit is not None])
        return [f"{self.clue_name}: {listed(map(setting.grid.label, seen))} can be seen, which makes {len(seen)}"]

    def post(self, board: Board) -> None:
        """The highest so far from cell to cell, and a flag for each cell that tops it."""
        line = self.cells_of(board.grid)
        ladder = sorted(board.grid.digits)
        if board.setting.holds_each_once(line):
            self._post_room(board, line, ladder)
        flags: list[Flag] = []
        highest = board.digit(line[0])
        for cell in line[1:]:
            top, seen = board.amount(ladder[0], ladder[-1]), board.flag()
            board.maximum(top, [highest, board.digit(cell)])
            board.require(board.digit(cell) > highest, only_if=[seen])
            board.require(board.digit(cell) <= highest, only_if=[board.negated(seen)])
            flags.append(seen)
            highest = top
        board.require(sum(flags) == self.value - 1)

    def _post_room(self, board: Board, line: Sequence[Cell], ladder: Sequence[int]) -> None:
        """A high digit near the viewer hides too many: the cell at place p (from 1) holds at most the digit of rank
        n - value + p, since value - p more must be seen beyond it."""
        for place, cell in enumerate(line[: self.value], 1):
            most = len(ladder) - self.value + place
            if 1 <= most < len(ladder):
                board.require(board.digit(cell) <= ladder[most - 1])

    @classmethod
    def sample(cls) -> Sample:
        """Three of four digits seen from the left: 1, 3 and 4."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(side="left", index=1, value=3),
            obeyed=((1, 3, 2, 4), (2, 4, 1, 3), (3, 1, 4, 2), (4, 2, 3, 1)),
            broken=((0, 4, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )


def _seen(digits: Sequence[int]) -> list[int]:
    """The digits that are higher than all before them."""
    seen: list[int] = []
    for digit in digits:
        if not seen or digit > seen[-1]:
            seen.append(digit)
    return seen


def _counts_left(held: Sequence[int | None], digits: Sequence[int], once: bool) -> set[int]:
    """Every number of visible digits that a partly filled line can still come to.

    Goes along the line with all pairs (highest so far, number seen). Where each digit stands once, the empty cells so
    far must find enough unused digits up to the highest: that is Hall's condition here, as those sets are nested."""
    unused = [d for d in digits if d not in held] if once else list(digits)
    states: set[tuple[int, int]] = {(-1, 0)}
    empty = 0
    for digit in held:
        empty += digit is None
        following = set()
        for highest, seen in states:
            options = unused if digit is None else [digit]
            following |= {(d, seen + 1) for d in options if d > highest}
            if any(d <= highest for d in options):
                following.add((highest, seen))
        states = {
            (highest, seen)
            for highest, seen in following
            if not once or empty <= sum(1 for d in unused if d <= highest)
        }
    return {seen for _, seen in states}
