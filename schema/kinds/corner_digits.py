"""Digits that stand in the four cells around a corner."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Hashable, Iterator, Mapping
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import Field

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._sets import set_problems
from schema.kinds.base import Board, Constraint, Digits, Look, Paint, Pen, Sample, Setting
from schema.marks import Family, Seen
from schema.words import listed


class CornerDigits(Constraint):
    """Each listed digit stands in one of the four cells, as often as it is listed."""

    kind: Literal["corner-digits"] = "corner-digits"
    cells: Annotated[tuple[Cell, ...], Field(min_length=4, max_length=4)]
    digits: Annotated[tuple[int, ...], Field(min_length=1, max_length=4)]
    name: ClassVar[str] = "corner digits"
    marks: ClassVar[tuple[Family, ...]] = ("corner",)
    unmistakable: ClassVar[tuple[Family, ...]] = ("corner",)
    look: ClassVar[Look] = Look(width=0.02, size=0.17)

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """Four cells around one corner, and digits of the grid."""
        yield from set_problems(setting.grid, self.cells)
        first = min(self.cells)
        if set(self.cells) != {first.stepped(r, c) for r in (0, 1) for c in (0, 1)}:
            yield "/cells", f"{listed(self.cells)} are not the four cells around one corner"
        for index, digit in enumerate(self.digits):
            if digit not in setting.grid.digits:
                yield f"/digits/{index}", f"{digit} is not one of the grid's digits"

    def identity(self) -> Hashable:
        """Cells and digits in any order."""
        return frozenset(self.cells), tuple(sorted(self.digits))

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """The four cells."""
        return self.cells

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """More digits missing than cells are empty."""
        held = Counter(digits[cell] for cell in self.cells if cell in digits)
        missing = sorted((Counter(self.digits) - held).elements())
        empty = len(self.cells) - held.total()
        if len(missing) <= empty:
            return []
        label = setting.grid.label
        room = f", with room for {empty}" if empty else ""
        where = f"the cells around the corner of {min(self.cells)} and {max(self.cells)}"
        wanted, absent = listed(map(label, sorted(self.digits))), listed(map(label, missing))
        return [f"{where} need {wanted}: {absent} {'is' if len(missing) == 1 else 'are'} missing{room}"]

    def post(self, board: Board) -> None:
        """As many cells hold each digit as list it, or more."""
        for digit, times in Counter(self.digits).items():
            flags = [board.holds(cell, digit) for cell in self.cells]
            if times == 1:
                board.any_of(flags)
            else:
                board.require(sum(flags) >= times)

    def draw(self, pen: Pen, look: Look) -> None:
        """The digits in a circle on the corner, in two lines when they are three or four."""
        corner = min(self.cells)
        x, y = float(corner.column), float(corner.row)
        paint = Paint(stroke=look.colour, fill=look.fill or "#ffffff", width=look.width)
        pen.circle((x, y), look.size * 1.25, paint, "mark")
        labels = [pen.grid.label(digit) for digit in self.digits]
        lines = [labels] if len(labels) < 3 else [labels[:2], labels[2:]]
        for number, line in enumerate(lines):
            below = (number - (len(lines) - 1) / 2) * look.size * 1.05
            pen.text((x, y + below), " ".join(line), look.size, "glyph", look.colour)

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """One corner; digits that stand apart are whole numbers, digits that stand together are single ones."""
        words = re.findall(r"[0-9]+", seen.text)
        if not words:
            raise ValueError(f"{seen.text!r} holds no digits")
        digits = map(int, words[0]) if len(words) == 1 else map(int, words)
        return (cls(cells=seen.cells, digits=tuple(digits), **fields),)

    @classmethod
    def sample(cls) -> Sample:
        """1 and 4 around the first corner of a 4x4 grid."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(cells=(Cell(1, 1), Cell(1, 2), Cell(2, 1), Cell(2, 2)), digits=(1, 4)),
            obeyed=((1, 2, 3, 4), (3, 4, 1, 2), (2, 1, 4, 3), (4, 3, 2, 1)),
            broken=((3, 2, 0, 0), (0, 3, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
