"""Two neighbours of which one is a multiple of the other."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import Field

from schema.cells import Cell
from schema.grid import MOST_DIGIT, Grid
from schema.kinds._drawing import middle
from schema.kinds._pairs import DOT, Pair
from schema.kinds._values import printed_ratio
from schema.kinds.base import Look, Pen, Sample
from schema.marks import Seen


class RatioPair(Pair):
    """One digit is `ratio` times the other."""

    kind: Literal["ratio-pair"] = "ratio-pair"
    ratio: Annotated[int, Field(ge=1, le=MOST_DIGIT)] = 2
    name: ClassVar[str] = "ratio pair"

    @property
    def relation(self) -> str:
        """The ratio in words."""
        return f"must hold digits of which one is {self.ratio} times the other"

    def obeyed_by(self, one: int, other: int) -> bool:
        """Whether either is `ratio` times the other."""
        return one == self.ratio * other or other == self.ratio * one

    def draw(self, pen: Pen, look: Look) -> None:
        """A black dot on the edge; a ratio other than 2 stands in it."""
        self.draw_dot(pen, look, look.fill or look.colour)
        if self.ratio != 2:
            pen.text(middle(*self.cells), str(self.ratio), DOT * 1.6, "glyph", "#ffffff")

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """One pair; a number printed with the mark is the ratio."""
        printed = {"ratio": printed_ratio(seen.text)} if seen.text.strip() else {}
        return (cls(cells=seen.cells, **{**fields, **printed}),)

    @classmethod
    def sample(cls) -> Sample:
        """Two cells at the top of a 4x4 grid."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(cells=(Cell(1, 3), Cell(1, 4))),
            obeyed=((1, 3, 2, 4), (4, 2, 3, 1), (2, 4, 1, 3), (3, 1, 4, 2)),
            broken=((0, 0, 3, 0), (0, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
