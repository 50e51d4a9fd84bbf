"""Digits between the lowest and the highest digit of a line add up to a number."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._outside import OutsideClue
from schema.kinds._totals import sums_of
from schema.kinds.base import Board, Digits, Sample, Setting
from schema.words import added, with_empty


class Sandwich(OutsideClue):
    """Digits between the lowest and the highest digit of the grid, each of which stands once in that line, add up to
    `value`. `wrap`: start at the lowest digit, go rightwards or downwards, past the edge and round again if need be,
    to the highest."""

    kind: Literal["sandwich"] = "sandwich"
    wrap: bool = False
    name: ClassVar[str] = "sandwich"

    def _line(self, grid: Grid) -> tuple[Cell, ...]:
        """The line forward, whatever side the clue stands on."""
        return grid.line_from("top" if self.side in ("top", "bottom") else "left", self.index)

    def _between(self, line: Sequence[Cell], low: int, high: int) -> tuple[Cell, ...]:
        """The cells between two places, counted from 0."""
        return tuple(line[place] for place in _places_between(len(line), low, high, self.wrap))

    def _fillings(self, setting: Setting) -> tuple[tuple[int, int], ...]:
        """Places of the lowest and of the highest digit between which the value can be reached."""
        line, middle = self._line(setting.grid), _middle(setting.grid)
        return _ends(len(line), self.wrap, self.value, middle, setting.holds_each_once(line))

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Tries every place for the two ends of the sandwich."""
        line = self._line(setting.grid)
        lowest, highest = min(setting.grid.digits), max(setting.grid.digits)
        lows = _places(line, digits, lowest)
        highs = _places(line, digits, highest)
        if not lows or not highs:
            return [
                f"{self.clue_name} needs one {lowest} and one {highest}, and the filled cells leave no place for both"
            ]
        ends = [(low, high) for low in lows for high in highs if low != high]
        if any(self._reached(setting, digits, line, low, high) for low, high in ends):
            return []
        if len(ends) == 1:
            return [self._arithmetic(setting.grid, digits, line, *ends[0])]
        return [f"{self.clue_name}: no place left for {lowest} and {highest} makes it come out"]

    def _reached(self, setting: Setting, digits: Digits, line: Sequence[Cell], low: int, high: int) -> bool:
        distinct = setting.holds_each_once(line)
        cells = self._between(line, low, high)
        held = [digits[cell] for cell in cells if cell in digits]
        elsewhere = {digits[cell] for cell in line if cell in digits} if distinct else set()
        choices = tuple(d for d in _middle(setting.grid) if d not in elsewhere)
        return self.value - sum(held) in sums_of(len(cells) - len(held), choices, distinct)

    def _arithmetic(self, grid: Grid, digits: Digits, line: Sequence[Cell], low: int, high: int) -> str:
        cells = self._between(line, low, high)
        held = [digits[cell] for cell in cells if cell in digits]
        lowest, highest = grid.label(min(grid.digits)), grid.label(max(grid.digits))
        way = f" between the {lowest} and the {highest}"
        if self.wrap:
            onwards = "downwards" if self.side in ("top", "bottom") else "rightwards"
            edge = " round the edge" if low > high else ""
            way = f", from the {lowest} {onwards}{edge} to the {highest}"
        return f"{self.clue_name}{way}: {with_empty(added(held), len(cells) - len(held))}"

    def post(self, board: Board) -> None:
        """For each pair of places of the two ends, the sum between them; pairs that cannot reach it are ruled out."""
        line = self._line(board.grid)
        lows = [board.holds(cell, min(board.grid.digits)) for cell in line]
        highs = [board.holds(cell, max(board.grid.digits)) for cell in line]
        board.exactly_one(lows)
        board.exactly_one(highs)
        possible = set(self._fillings(board.setting))
        for low in range(len(line)):
            partners = [highs[high] for high in range(len(line)) if (low, high) in possible]
            board.any_of([*partners, board.negated(lows[low])])
            board.any_of(
                [*(lows[other] for other in range(len(line)) if (other, low) in possible), board.negated(highs[low])]
            )
        for low, high in possible:
            cells = self._between(line, low, high)
            if cells:
                total = sum(board.digit(cell) for cell in cells)
                board.require(total == self.value, only_if=[lows[low], highs[high]])

    @classmethod
    def sample(cls) -> Sample:
        """A wrapped sandwich of one row: from the 1 rightwards round the edge to the 5."""
        return Sample(
            grid=Grid(rows=5, columns=5, digits=(1, 2, 3, 4, 5)),
            constraint=cls(side="left", index=2, value=7, wrap=True),
            obeyed=((1, 2, 3, 4, 5), (4, 5, 2, 1, 3), (5, 4, 1, 3, 2), (2, 3, 5, 1, 4), (3, 1, 4, 5, 2)),
            broken=((0, 0, 0, 0, 0), (4, 2, 5, 1, 3), (0, 0, 0, 0, 0), (0, 0, 0, 0, 0), (0, 0, 0, 0, 0)),
        )


@lru_cache(maxsize=1024)
def _places_between(length: int, low: int, high: int, wrap: bool) -> tuple[int, ...]:
    """The places of a line between two others."""
    if not wrap:
        return tuple(range(min(low, high) + 1, max(low, high)))
    return tuple(range(low + 1, high)) if low < high else (*range(low + 1, length), *range(high))


@lru_cache(maxsize=1024)
def _ends(length: int, wrap: bool, value: int, middle: tuple[int, ...], distinct: bool) -> tuple[tuple[int, int], ...]:
    """Places of the two ends between which digits of the middle can come to a value."""
    return tuple(
        (low, high)
        for low in range(length)
        for high in range(length)
        if low != high and value in sums_of(len(_places_between(length, low, high, wrap)), middle, distinct)
    )


def _middle(grid: Grid) -> tuple[int, ...]:
    """The digits that can stand between."""
    return tuple(d for d in grid.digits if min(grid.digits) < d < max(grid.digits))


def _places(line: Sequence[Cell], digits: Digits, digit: int) -> list[int]:
    """Where a digit stands or can still stand, given that it stands once; none when it stands twice."""
    held = [place for place, cell in enumerate(line) if digits.get(cell) == digit]
    if held:
        return held if len(held) == 1 else []
    return [place for place, cell in enumerate(line) if cell not in digits]
