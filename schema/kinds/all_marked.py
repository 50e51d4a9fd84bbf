"""Pairs without a mark do not stand in the marked relation."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar, Literal

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds._apart import BESIDE, Apart, stepped_pairs
from schema.kinds._pairs import Pair
from schema.kinds.base import Sample, Setting
from schema.kinds.consecutive_pair import ConsecutivePair
from schema.kinds.ratio_pair import RatioPair
from schema.kinds.sum_pair import SumPair
from schema.marks import Family

MARKED_KINDS: dict[str, type[Pair]] = {
    "consecutive-pair": ConsecutivePair,
    "ratio-pair": RatioPair,
    "sum-pair": SumPair,
}
"""The kinds of which all pairs may be marked."""
_DOTS = (ConsecutivePair, RatioPair)
"""One edge has room for one dot, and 1 and 2 are both consecutive and in the ratio 2: a dot of either colour marks the
pair (common practice, no source)."""
_CORNER = (Cell(1, 1), Cell(1, 2))
"""Any two cells: a relation by default needs some to be written down."""


class AllMarked(Apart):
    """No pair of cells that share a side and have no mark of the kind `of` obeys that relation. Where marks of the kind
    state several sums or ratios, none of these; where no ratio is stated, the ratio of 2."""

    kind: Literal["all-marked"] = "all-marked"
    of: Literal["consecutive-pair", "ratio-pair", "sum-pair"]
    name: ClassVar[str] = "all pairs are marked"
    marks: ClassVar[tuple[Family, ...]] = ("rule",)

    def problems(self, setting: Setting) -> Iterator[tuple[str, str]]:
        """Without a mark nobody knows which sum is meant."""
        if self.of == "sum-pair" and not setting.of_kind(SumPair):
            yield "/of", "no sum-pair of the puzzle says which sum is meant"

    def _relations(self, setting: Setting) -> list[Pair]:
        """One pair for each different relation."""
        marked = {pair.relation: pair for pair in setting.of_kind(MARKED_KINDS[self.of])}
        if not marked and self.of == "ratio-pair":
            return [RatioPair(cells=_CORNER)]
        return list(marked.values()) or [ConsecutivePair(cells=_CORNER)]

    def pairs(self, setting: Setting) -> Iterator[tuple[Cell, Cell]]:
        """Cells that share a side and have no mark."""
        kinds = _DOTS if MARKED_KINDS[self.of] in _DOTS else (MARKED_KINDS[self.of],)
        marked = {frozenset(pair.cells) for kind in kinds for pair in setting.of_kind(kind)}
        return (pair for pair in stepped_pairs(setting.grid, BESIDE) if frozenset(pair) not in marked)

    def clash(self, setting: Setting, one: int, other: int) -> bool:
        """Digits that obey a relation clash."""
        return any(relation.obeyed_by(one, other) for relation in self._relations(setting))

    def clash_words(self, setting: Setting, cells: str, digits: str) -> str:
        """What is wrong."""
        return f"{cells} hold {digits} and have no mark, though all {MARKED_KINDS[self.of].name}s are marked"

    @classmethod
    def sample(cls) -> Sample:
        """One pair of a 4x4 grid is marked, all others differ by 2 or more or not at all."""
        return Sample(
            grid=Grid(rows=4, columns=4, digits=(1, 2, 3, 4)),
            constraint=cls(of="consecutive-pair"),
            obeyed=((2, 4, 3, 1), (4, 1, 3, 1), (1, 3, 1, 4), (3, 1, 4, 2)),
            broken=((1, 2, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0), (0, 0, 0, 0)),
            extra=(ConsecutivePair(cells=(Cell(1, 2), Cell(1, 3))),),
        )
