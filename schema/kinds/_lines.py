"""Kinds that stand on a path of cells: what a path may be, and how it is drawn."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from typing import Annotated, Any, ClassVar, Self

from pydantic import Field

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint, Look, Paint, Pen, Setting
from schema.marks import Family, Seen

Path = Annotated[tuple[Cell, ...], Field(min_length=2)]
"""An ordered list of cells, each touching the next by side or corner."""


def path_problems(
    grid: Grid, path: Sequence[Cell], at: str = "/path", closed: bool = False
) -> Iterator[tuple[str, str]]:
    """Cells off the grid, cells that do not touch the one before, cells that come twice. `closed`: the path may end
    where it began."""
    for index, cell in enumerate(path):
        if cell not in grid:
            yield f"{at}/{index}", f"{cell} is not on the grid of {grid.rows} rows and {grid.columns} columns"
        if index and not cell.touches(path[index - 1]):
            yield f"{at}/{index}", f"{cell} does not touch {path[index - 1]}, the cell before it"
        ring = closed and index == len(path) - 1 > 2 and cell == path[0]
        if cell in path[:index] and not ring:
            yield f"{at}/{index}", f"{cell} is on the path twice"


def along(path: Sequence[Cell]) -> str:
    """A path in words: `r1c1 to r4c2`."""
    return f"{path[0]} to {path[-1]}"


class Line(Constraint):
    """A kind that a plain line along `path` prints, the same from either end."""

    path: Path
    marks: ClassVar[tuple[Family, ...]] = ("line", "ringed-line")
    look: ClassVar[Look] = Look(colour="#b4b4b4", width=0.16)

    def problems(self, setting: Setting) -> Iterable[tuple[str, str]]:
        """The path touches from cell to cell and stays on the grid."""
        return path_problems(setting.grid, self.path)

    def identity(self) -> Hashable:
        """The same path from its other end is the same line."""
        rest = tuple(value for name, value in self if name != "path")
        return min(self.path, self.path[::-1]), *rest

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """The path."""
        return self.path

    def draw(self, pen: Pen, look: Look) -> None:
        """A line through the centres of the cells."""
        paint = Paint(stroke=look.colour, width=look.width, dash=look.dash)
        pen.line([cell.centre for cell in self.path], paint, "line")

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """One constraint for each path. A number printed at its start belongs to another kind."""
        if seen.text:
            raise ValueError(f"{seen.text} is printed at its start, and a {cls.name} has no number")
        return tuple(cls(path=path, **fields) for path in seen.paths)
