"""Kinds that a number beside the grid states: a clue of one row or column, seen from one side."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any, ClassVar, Self

from pydantic import Field

from schema.cells import Cell
from schema.grid import Grid, Side
from schema.kinds._values import Total, printed_number
from schema.kinds.base import Constraint, Look, Pen, Point, Setting
from schema.marks import Family, Seen
from schema.words import with_article


def margin_point(grid: Grid, side: Side, index: int, ring: int) -> Point:
    """The middle of a place in the margin; ring 1 is next to the grid."""
    across, away = index - 0.5, ring - 0.5
    return {
        "top": (across, -away),
        "bottom": (across, grid.rows + away),
        "left": (-away, across),
        "right": (grid.columns + away, across),
    }[side]


class OutsideClue(Constraint):
    """A number `value` at `side` of the column (top, bottom) or row (left, right) `index`."""

    side: Side
    index: Annotated[int, Field(ge=1)]
    value: Total
    marks: ClassVar[tuple[Family, ...]] = ("outside",)
    look: ClassVar[Look] = Look(size=0.45)

    @property
    def line_name(self) -> str:
        """`column 3`, `row 3`."""
        return f"{'column' if self.side in ('top', 'bottom') else 'row'} {self.index}"

    @property
    def clue_name(self) -> str:
        """The clue as a person points at it: `left clue 22 of row 2`."""
        return f"{self.side} clue {self.value} of {self.line_name}"

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """The index is one of the grid's rows or columns."""
        most = setting.grid.columns if self.side in ("top", "bottom") else setting.grid.rows
        if self.index > most:
            yield "/index", f"there is no {self.line_name}; the last is {most}"

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """The row or column as the clue sees it, nearest cell first."""
        return grid.line_from(self.side, self.index)

    def draw(self, pen: Pen, look: Look) -> None:
        """The number in the margin."""
        at = margin_point(pen.grid, self.side, self.index, look.ring)
        pen.text(at, str(self.value), look.size, "glyph", look.colour)

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """One clue for the number."""
        if seen.side is None:
            raise ValueError(f"{with_article(cls.name)} clue stands beside the grid")
        return (cls(side=seen.side, index=seen.index, value=printed_number(seen.text), **fields),)
