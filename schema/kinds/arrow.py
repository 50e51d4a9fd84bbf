"""Digits along an arrow add up to the number in its circle."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise, product
from math import hypot
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import Field

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._drawing import arrow_head, capsule
from schema.kinds._lines import path_problems
from schema.kinds._sets import set_problems
from schema.kinds._totals import sums_left
from schema.kinds.base import Board, Constraint, Digits, Look, Paint, Pen, Sample, Setting
from schema.marks import Family, Seen
from schema.words import added, with_empty

_LONGEST_TABLE = 600
"""Rows of a table that still propagate faster than a sum: more than any shaft of 9 digits from 1 needs (126)."""


class Arrow(Constraint):
    """The digits along `shaft` add up to the number that the cells of `circle` make, read left to right or top to
    bottom: 1 and 5 make 15, and 1 and 12 make 112."""

    kind: Literal["arrow"] = "arrow"
    circle: Annotated[tuple[Cell, ...], Field(min_length=1, max_length=3)]
    shaft: Annotated[tuple[Cell, ...], Field(min_length=1)]
    name: ClassVar[str] = "arrow"
    marks: ClassVar[tuple[Family, ...]] = ("arrow",)
    unmistakable: ClassVar[tuple[Family, ...]] = ("arrow",)
    look: ClassVar[Look] = Look(colour="#8c8c8c", width=0.06, size=0.38)

    @property
    def _read(self) -> list[Cell]:
        return sorted(self.circle)

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """The circle's cells stand side by side in a line; the shaft is a path that starts beside them."""
        yield from set_problems(setting.grid, self.circle, "/circle")
        straight = len({cell.row for cell in self.circle}) == 1 or len({cell.column for cell in self.circle}) == 1
        if not straight or not all(one.beside(other) for one, other in pairwise(self._read)):
            yield "/circle", "the cells of a circle stand side by side in one row or column"
        yield from path_problems(setting.grid, self.shaft, "/shaft")
        if not any(self.shaft[0].touches(cell) for cell in self.circle):
            yield "/shaft/0", f"{self.shaft[0]} does not touch the circle"
        for index, cell in enumerate(self.shaft):
            if cell in self.circle:
                yield f"/shaft/{index}", f"{cell} is in the circle already"

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """The circle, then the shaft."""
        return (*self.circle, *self.shaft)

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """No number is left for the circle that the shaft can add up to."""
        options = [(digits[cell],) if cell in digits else setting.grid.digits for cell in self._read]
        totals = sums_left(setting.grid, self.shaft, digits)
        if any(_number(choice) in totals for choice in product(*options)):
            return []
        held = [digits[cell] for cell in self.shaft if cell in digits]
        shaft = with_empty(added(held), len(self.shaft) - len(held))
        full = all(cell in digits for cell in self.circle)
        circle = str(_number([digits[cell] for cell in self._read])) if full else "a number that they cannot make"
        return [f"the arrow from {self._read[0]}: its circle holds {circle}, its shaft {shaft}"]

    def post(self, board: Board) -> None:
        """The shaft's sum is the number; digits above 9 take more than one place in it."""
        circle = [board.digit(cell) for cell in self._read]
        shaft = [board.digit(cell) for cell in self.shaft]
        if len(circle) == 1 and (rows := _single_sums(board.grid.digits, len(shaft))):
            board.table([*circle, *shaft], rows)
            return
        if max(board.grid.digits) < 10 or len(circle) == 1:
            number = sum(10**place * digit for place, digit in enumerate(reversed(circle)))
            board.require(sum(shaft) == number)
            return
        most = max(board.grid.digits) * len(shaft)
        written = board.amount(0, most)
        numbers = [(*choice, _number(choice)) for choice in product(board.grid.digits, repeat=len(circle))]
        board.table([*circle, written], [row for row in numbers if row[-1] <= most])
        board.require(sum(shaft) == written)

    def draw(self, pen: Pen, look: Look) -> None:
        """A ring or capsule round the circle's cells, a line through the shaft, and an open head."""
        paint = Paint(stroke=look.colour, width=look.width)
        pen.line(capsule(self._read[0].centre, self._read[-1].centre, look.size), paint, "line", closed=True)
        root = min(self.circle, key=lambda cell: hypot(*_step(cell, self.shaft[0])))
        across, down = _step(root, self.shaft[0])
        length = hypot(across, down)
        x, y = root.centre
        start = (x + across / length * look.size, y + down / length * look.size)
        points = [start, *(cell.centre for cell in self.shaft)]
        pen.line(points, paint, "line")
        pen.line(arrow_head(points[-2], points[-1], 0.2), paint, "line")

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """One arrow for each head; `cells` are the circle's, or else the circle is where a path starts."""
        made = []
        for path in seen.paths:
            circle = seen.cells or path[:1]
            made.append(cls(circle=circle, shaft=tuple(cell for cell in path if cell not in circle), **fields))
        return tuple(made)

    @classmethod
    def sample(cls) -> Sample:
        """1 + 3 along the shaft, 4 in the circle."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(circle=(Cell(2, 1),), shaft=(Cell(1, 2), Cell(1, 3))),
            obeyed=((2, 1, 3, 4), (4, 3, 1, 2), (1, 2, 4, 3), (3, 4, 2, 1)),
            broken=((0, 3, 0, 0), (3, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )


def _single_sums(digits: tuple[int, ...], length: int) -> list[tuple[int, ...]]:
    """Each digit with each way to make it of `length` digits, as rows of a table; none where they are too many."""
    ways: list[tuple[int, ...]] = [()]
    for _ in range(length):
        ways = [(*way, digit) for way in ways for digit in digits if sum(way) + digit <= max(digits)]
        if len(ways) > _LONGEST_TABLE:
            return []
    return [(sum(way), *way) for way in ways if sum(way) in digits]


def _number(digits: tuple[int, ...] | list[int]) -> int:
    return int("".join(map(str, digits)))


def _step(one: Cell, other: Cell) -> tuple[int, int]:
    return other.column - one.column, other.row - one.row
