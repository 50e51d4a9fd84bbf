"""Every box holds every digit once; boxes may be regular or irregular."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._outline import borders
from schema.kinds._sets import set_problems, twice, whole_problem
from schema.kinds.base import Board, Constraint, Digits, Look, Paint, Pen, Sample, Setting
from schema.marks import Family
from schema.words import counted, listed

_NAMED = 6
"""So many missing cells are named; of more, their number is told."""


class Boxes(Constraint):
    """Every box holds every digit once."""

    kind: Literal["boxes"] = "boxes"
    cells: Annotated[tuple[Annotated[tuple[Cell, ...], Field(min_length=1)], ...], Field(min_length=1)]
    name: ClassVar[str] = "boxes"
    once: ClassVar[bool] = True
    marks: ClassVar[tuple[Family, ...]] = ("rule",)
    look: ClassVar[Look] = Look(width=0.06)

    @classmethod
    def regular(cls, grid: Grid, rows: int, columns: int) -> Boxes:
        """Boxes of so many rows and columns, left to right and top to bottom. Raises ValueError where they do not
        fill the grid."""
        if grid.rows % rows or grid.columns % columns:
            raise ValueError(f"boxes of {rows} by {columns} do not fill a grid of {grid.rows} by {grid.columns}")
        return cls(
            cells=tuple(
                tuple(Cell(top + r, left + c) for r in range(rows) for c in range(columns))
                for top in range(1, grid.rows + 1, rows)
                for left in range(1, grid.columns + 1, columns)
            )
        )

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """The boxes cover the grid, each cell once, and are as large as the digits are many."""
        seen: dict[Cell, int] = {}
        for number, box in enumerate(self.cells):
            yield from set_problems(setting.grid, box, f"/cells/{number}")
            for index, cell in enumerate(box):
                if seen.setdefault(cell, number) != number:
                    yield f"/cells/{number}/{index}", f"{cell} is in box {seen[cell] + 1} already"
            if why := whole_problem(setting.grid, len(box), f"box {number + 1}"):
                yield f"/cells/{number}", why
        missing = [cell for cell in setting.grid.cells() if cell not in seen]
        if missing:
            which = listed(missing) if len(missing) <= _NAMED else counted(len(missing), "cell")
            yield "/cells", f"{which} {'is' if len(missing) == 1 else 'are'} in no box"

    def identity(self) -> frozenset[frozenset[Cell]]:
        """The boxes as sets, in no order."""
        return frozenset(map(frozenset, self.cells))

    def wholes(self, grid: Grid) -> Iterable[frozenset[Cell]]:
        """The boxes."""
        return map(frozenset, self.cells)

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """All cells, box by box."""
        return tuple(chain.from_iterable(self.cells))

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Digits that stand twice in a box."""
        return [
            why
            for number, box in enumerate(self.cells, 1)
            for why in twice(setting.grid, box, digits, f"box {number} (with {min(box)})")
        ]

    def post(self, board: Board) -> None:
        """All different, box by box."""
        for box in self.cells:
            board.different(box)

    def draw(self, pen: Pen, look: Look) -> None:
        """Thick lines wherever two boxes meet; the frame of the grid belongs to the grid."""
        paint = Paint(stroke=look.colour, width=look.width)
        for ends in borders(pen.grid, self.cells):
            pen.line(ends, paint, "grid")

    @classmethod
    def sample(cls) -> Sample:
        """Four boxes of four cells, one irregular pair among them."""
        texts = ("r1c1 r1c2 r1c3 r2c1", "r1c4 r2c2 r2c3 r2c4", "r3c1 r3c2 r4c1 r4c2", "r3c3 r3c4 r4c3 r4c4")
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(cells=tuple(tuple(map(Cell.parse, text.split())) for text in texts)),
            obeyed=((1, 2, 3, 4), (4, 1, 2, 3), (2, 3, 4, 1), (1, 4, 3, 2)),
            broken=((1, 2, 3, 0), (3, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
