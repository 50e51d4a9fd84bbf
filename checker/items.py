"""The items of a puzzle that may be right or wrong: each given and each constraint, named by a JSON Pointer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from checker.board import CpBoard
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint, Digits, Setting
from schema.pointers import constraint_pointer, given_pointer
from schema.puzzle import Puzzle


@dataclass(frozen=True, slots=True)
class Fault:
    """Something wrong with one item: `item` is a JSON Pointer (RFC 6901) into the puzzle file, `why` plain words."""

    item: str
    why: str


@dataclass(frozen=True, slots=True)
class PartSetting(Setting):
    """The setting of a rule when only some of a puzzle's rules count. What a rule refers to (the boxes of a box sum
    line, the marks of `all-marked`) is still that of the whole puzzle, or leaving out a mark would add a rule; only
    "these cells hold every digit once" is left to the rules that count."""

    counting: tuple[Constraint, ...] = ()

    def holds_each_once(self, cells: Iterable[Cell]) -> bool:
        """Whether some rule that counts says by itself that these cells, together, hold every digit once."""
        wanted = frozenset(cells)
        return any(wanted in c.wholes(self.grid) for c in self.counting)


@dataclass(frozen=True, slots=True)
class Items:
    """Some or all of the items of one puzzle: what the solver is given, and what a solution is checked against."""

    setting: Setting
    givens: dict[Cell, int]
    constraints: dict[str, Constraint]

    @property
    def grid(self) -> Grid:
        """The grid of the puzzle."""
        return self.setting.grid

    @classmethod
    def of(cls, puzzle: Puzzle) -> Items:
        """All items of a puzzle."""
        constraints = {constraint_pointer(index): c for index, c in enumerate(puzzle.constraints)}
        return cls(puzzle.setting, dict(puzzle.givens), constraints)

    def pointers(self) -> Iterator[str]:
        """The JSON Pointers of these items: constraints, then givens."""
        yield from self.constraints
        yield from (given_pointer(cell) for cell in self.givens)

    def only(self, pointers: Iterable[str]) -> Items:
        """Those of these items that `pointers` name."""
        wanted = set(pointers)
        constraints = {p: c for p, c in self.constraints.items() if p in wanted}
        givens = {cell: digit for cell, digit in self.givens.items() if given_pointer(cell) in wanted}
        setting = PartSetting(self.grid, self.setting.constraints, tuple(constraints.values()))
        return Items(setting, givens, constraints)

    def board(self) -> CpBoard:
        """A solver's model of these items."""
        board = CpBoard(self.setting)
        for cell, digit in self.givens.items():
            board.fix(cell, digit)
        for constraint in self.constraints.values():
            constraint.post(board)
        return board

    def faults(self, digits: Digits) -> list[Fault]:
        """Every item that a grid filled in whole or in part breaks, in the order of the file; no solver involved."""
        found = []
        for cell, given in self.givens.items():
            held = digits.get(cell, given)
            if held != given:
                why = f"the given in {cell} is {self.grid.label(given)}, not {self.grid.label(held)}"
                found.append(Fault(given_pointer(cell), why))
        for pointer, constraint in self.constraints.items():
            found.extend(Fault(pointer, why) for why in constraint.broken(self.setting, digits))
        return found
