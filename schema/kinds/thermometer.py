"""Digits rise from the bulb to the tip."""

from __future__ import annotations

from collections.abc import Hashable
from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._lines import Line, along
from schema.kinds.base import Board, Digits, Look, Paint, Pen, Sample, Setting
from schema.marks import Family

_BULB = 1.9
"""The bulb's diameter in tube widths."""
_RIM = 0.04
"""How thick an outlined thermometer's wall is, in cells."""


class Thermometer(Line):
    """Digits rise along the path, bulb first; not `strict`: they never fall. A branched thermometer is one path for
    each tip, each from the bulb."""

    kind: Literal["thermometer"] = "thermometer"
    strict: bool = True
    name: ClassVar[str] = "thermometer"
    marks: ClassVar[tuple[Family, ...]] = ("tube",)
    unmistakable: ClassVar[tuple[Family, ...]] = ("tube",)
    look: ClassVar[Look] = Look(colour="#c4c4c4", width=0.4)
    shapes: ClassVar[tuple[str, ...]] = ("tube", "outline")

    def identity(self) -> Hashable:
        """A thermometer from the other end is another one."""
        return self.path, self.strict

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Goes up the path with the lowest digit that can stand in each cell."""
        ladder = sorted(setting.grid.digits)
        lowest, last = ladder[0], None
        for index, cell in enumerate(self.path):
            room = [d for d in ladder if index == 0 or d > lowest or (d == lowest and not self.strict)]
            held = digits.get(cell)
            if held is None and room:
                lowest = room[0]
            elif held is not None and held in room:
                lowest, last = held, cell
            else:
                return [f"{self._where()}: {self._stuck(setting.grid, digits, last, cell)}"]
        return []

    def _where(self) -> str:
        return f"the thermometer from {along(self.path)}"

    def _stuck(self, grid: Grid, digits: Digits, last: Cell | None, cell: Cell) -> str:
        rule = "must rise" if self.strict else "must never fall"
        if cell not in digits:
            above = f" after {grid.label(digits[last])} in {last}" if last else ""
            return f"digits {rule}, and no digit is left for {cell}{above}"
        label = grid.label(digits[cell])
        if last is None:
            return f"digits {rule}, and {label} in {cell} leaves no digit for a cell before it"
        steps = self.path.index(cell) - self.path.index(last)
        way = "" if steps == 1 else f" {steps} cells on"
        return f"digits {rule}, and {grid.label(digits[last])} in {last} has {label} in {cell}{way}"

    def post(self, board: Board) -> None:
        """Each digit against the one before."""
        for before, after in zip(self.path, self.path[1:], strict=False):
            rise = board.digit(after) - board.digit(before)
            board.require(rise >= (1 if self.strict else 0))

    def draw(self, pen: Pen, look: Look) -> None:
        """A thick round-ended line with a disc in its first cell, grey or (`outline`) white with a dark wall."""
        points = [cell.centre for cell in self.path]
        radius = look.width * _BULB / 2
        coats = [(look.colour, 0.0)]
        if look.shape == "outline":
            coats = [("#404040", _RIM), ("#ffffff", -_RIM)]
        for colour, more in coats:
            pen.line(points, Paint(stroke=colour, width=look.width + more), "line")
            pen.circle(points[0], radius + more / 2, Paint(stroke=None, fill=colour), "line")

    @classmethod
    def sample(cls) -> Sample:
        """Four cells up the left side of a 4x4 grid and round a corner."""
        path = tuple(map(Cell.parse, ("r4c1", "r3c1", "r2c1", "r1c2")))
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(path=path),
            obeyed=((2, 4, 1, 3), (3, 1, 4, 2), (2, 3, 2, 4), (1, 2, 3, 1)),
            broken=((0, 0, 0, 0), (0, 0, 0, 0), (2, 0, 0, 0), (2, 0, 0, 0)),
        )
