"""Two neighbours that add up to a number."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar, Literal, Self

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._pairs import Pair
from schema.kinds._values import Total, printed_number
from schema.kinds.base import Look, Pen, Sample
from schema.marks import Seen
from schema.numerals import numeral, roman

_AS_NUMERALS = (5, 10)
"""The two commonest sums, for which print puts numerals on edges."""


class SumPair(Pair):
    """The two digits add up to `value`."""

    kind: Literal["sum-pair"] = "sum-pair"
    value: Total
    name: ClassVar[str] = "sum pair"

    @property
    def relation(self) -> str:
        """The sum in words."""
        return f"must add up to {self.value}"

    def obeyed_by(self, one: int, other: int) -> bool:
        """Whether they add up to the value."""
        return one + other == self.value

    def draw(self, pen: Pen, look: Look) -> None:
        """The sum on the edge, as a numeral where there is one."""
        self.draw_text(pen, look, numeral(self.value) if self.value in _AS_NUMERALS else str(self.value))

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Self, ...]:
        """One pair; the number or numeral printed with the mark is the sum, unless the rules give it."""
        text = seen.text.strip()
        if text and "value" not in fields:
            value = roman(text) or printed_number(text)
            return (cls(cells=seen.cells, value=value, **fields),)
        return (cls(cells=seen.cells, **fields),)

    @classmethod
    def sample(cls) -> Sample:
        """Two cells down the left of a 4x4 grid."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(cells=(Cell(1, 1), Cell(2, 1)), value=5),
            obeyed=((1, 2, 3, 4), (4, 3, 2, 1), (2, 1, 4, 3), (3, 4, 1, 2)),
            broken=((1, 0, 0, 0), (3, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
        )
