"""A grid that somebody has filled in, whole or in part: reading it from text, and examining it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from checker.items import Fault, Items
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Digits
from schema.puzzle import Puzzle
from schema.words import counted

_LARGEST_FILE = 1 << 20
"""Bytes; a 25x25 grid with long labels is a hundredth of it."""


class BadGrid(Exception):
    """A text that is no filled grid of this puzzle: everything that is wrong with it, in words."""

    exit_status = 2

    def __init__(self, problems: list[str]) -> None:
        super().__init__(problems)
        self.problems = problems

    def __str__(self) -> str:
        return "; ".join(self.problems)


@dataclass(frozen=True, slots=True)
class Wrong:
    """A cell whose digit is not that of the solution."""

    cell: Cell
    digit: int
    solution: int


@dataclass(frozen=True, slots=True)
class Examination:
    """What is wrong with a filled grid: the rules that it breaks, the cells that differ from the solution (none when
    the puzzle has not exactly one), and how many cells are still empty."""

    broken: tuple[Fault, ...]
    wrong: tuple[Wrong, ...]
    empty: int


def examine(puzzle: Puzzle, filled: Digits, solution: Digits | None = None) -> Examination:
    """Check a filled grid against every rule of the puzzle, and against the solution where there is one."""
    wrong = [
        Wrong(cell, digit, solution[cell]) for cell, digit in filled.items() if solution and solution[cell] != digit
    ]
    empty = sum(1 for cell in puzzle.grid.cells() if cell not in filled)
    return Examination(tuple(Items.of(puzzle).faults(filled)), tuple(wrong), empty)


def read_filled(path: Path, grid: Grid) -> dict[Cell, int]:
    """Read a filled grid from a UTF-8 text file. Raises OSError and BadGrid."""
    with path.open("rb") as file:
        raw = file.read(_LARGEST_FILE + 1)
    if len(raw) > _LARGEST_FILE:
        raise BadGrid(["it is too large for a grid of text"])
    try:
        return parse_filled(raw.decode("utf-8-sig"), grid)
    except UnicodeDecodeError:
        raise BadGrid(["it is not UTF-8 text"]) from None


def parse_filled(text: str, grid: Grid) -> dict[Cell, int]:
    """Read a filled grid: a line for each row, one label for each cell, `.` for an empty one, and `0` too unless 0 is
    a digit of the grid. Blanks between labels may be left out where every label is one character long. Blank lines at
    the start and end do not count. Raises BadGrid with everything that is wrong."""
    lines = text.splitlines()
    used = [n for n, line in enumerate(lines, 1) if line.strip()]
    numbered = [(n, lines[n - 1]) for n in range(used[0], used[-1] + 1)] if used else []
    problems: list[str] = []
    if len(numbered) != grid.rows:
        problems.append(f"{counted(len(numbered), 'line')} for {counted(grid.rows, 'row')}")
    labels = _labels(grid)
    printed = [grid.label(digit) for digit in grid.digits]
    filled: dict[Cell, int] = {}
    for row, (number, line) in enumerate(numbered[: grid.rows], 1):
        entries = _entries(line, printed, grid.columns)
        if len(entries) != grid.columns:
            problems.append(f"line {number} has {counted(len(entries), 'cell')} instead of {grid.columns}")
            continue
        for column, entry in enumerate(entries, 1):
            if entry not in labels:
                problems.append(f"line {number}, cell {column}: {entry!r} is no digit of this grid")
                continue
            digit = labels[entry]
            if digit is not None:
                filled[Cell(row, column)] = digit
    if problems:
        raise BadGrid(problems)
    return filled


def _labels(grid: Grid) -> dict[str, int | None]:
    """What may stand in the text for each digit, None for an empty cell. A digit may also be written as a number, and
    letters in either case, wherever that leaves no doubt."""
    labels: dict[str, int | None] = {grid.label(digit): digit for digit in grid.digits}
    for digit in grid.digits:
        for other in (str(digit), grid.label(digit).upper(), grid.label(digit).lower()):
            labels.setdefault(other, digit)
    for empty in (".", "0"):
        labels.setdefault(empty, None)
    return labels


def _entries(line: str, labels: Iterable[str], columns: int) -> list[str]:
    """The entries of one line: what stands between blanks, or each character where every label is a single one."""
    parts = line.split()
    if all(len(label) == 1 for label in labels) and len(parts) != columns:
        return list("".join(parts))
    return parts
