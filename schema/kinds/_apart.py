"""Rules over the whole grid that forbid two digits in certain pairs of cells."""

from __future__ import annotations

from abc import abstractmethod
from collections import defaultdict
from collections.abc import Iterator
from typing import ClassVar

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Board, Constraint, Digits, Setting
from schema.marks import Family
from schema.words import listed

BESIDE = ((0, 1), (1, 0))
"""Steps, as rows and columns, that reach each two cells with a common side once."""


class Apart(Constraint):
    """No pair of cells of a certain sort holds digits that clash."""

    @abstractmethod
    def pairs(self, setting: Setting) -> Iterator[tuple[Cell, Cell]]:
        """The pairs, each once."""

    @abstractmethod
    def clash(self, setting: Setting, one: int, other: int) -> bool:
        """Whether the digits may not stand in a pair."""

    @abstractmethod
    def clash_words(self, setting: Setting, cells: str, digits: str) -> str:
        """What is wrong with two cells (`r1c1 and r2c3`) that hold two digits (`4 and 5`)."""

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """All cells."""
        return tuple(grid.cells())

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Pairs that clash, and empty cells for which the filled cells around them leave no digit."""
        label = setting.grid.label
        reasons = []
        around: dict[Cell, list[Cell]] = defaultdict(list)
        for one, other in self.pairs(setting):
            if one in digits and other in digits:
                if self.clash(setting, digits[one], digits[other]):
                    held = f"{label(digits[one])} and {label(digits[other])}"
                    reasons.append(self.clash_words(setting, f"{one} and {other}", held))
            elif one in digits:
                around[other].append(one)
            elif other in digits:
                around[one].append(other)
        return reasons or [
            f"no digit is left for {cell}: {self.name}, and {listed(map(str, sorted(near)))} leave none"
            for cell, near in around.items()
            if all(any(self.clash(setting, digits[n], digit) for n in near) for digit in setting.grid.digits)
        ]

    def post(self, board: Board) -> None:
        """Each two digits that clash do not stand together."""
        digits = board.grid.digits
        clashes = [(a, b) for a in digits for b in digits if self.clash(board.setting, a, b)]
        for one, other in self.pairs(board.setting):
            board.forbid([board.digit(one), board.digit(other)], clashes)


class SameApart(Apart):
    """No digit stands twice in a pair of cells that a chess piece's move connects."""

    move: ClassVar[str]
    """Whose move, as in "a king's move"."""
    steps: ClassVar[tuple[tuple[int, int], ...]]
    """Those of its moves, as rows and columns, that reach each pair once."""
    marks: ClassVar[tuple[Family, ...]] = ("rule",)

    def pairs(self, setting: Setting) -> Iterator[tuple[Cell, Cell]]:
        """Cells such a move apart."""
        return stepped_pairs(setting.grid, self.steps)

    def clash(self, setting: Setting, one: int, other: int) -> bool:
        """Equal digits clash."""
        return one == other

    def clash_words(self, setting: Setting, cells: str, digits: str) -> str:
        """What is wrong."""
        return f"{cells}, {self.move} apart, both hold {digits.split(maxsplit=1)[0]}"

    def post(self, board: Board) -> None:
        """Each two cells differ."""
        for pair in self.pairs(board.setting):
            board.different(pair)


def stepped_pairs(grid: Grid, steps: tuple[tuple[int, int], ...]) -> Iterator[tuple[Cell, Cell]]:
    """Each pair of cells of the grid that one of the steps connects."""
    for cell in grid.cells():
        for rows, columns in steps:
            other = cell.stepped(rows, columns)
            if other in grid:
                yield cell, other
