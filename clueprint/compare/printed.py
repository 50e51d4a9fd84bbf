"""What stands on one grid of the proof, item by item, as it is held against the source."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from clueprint.compare.match import cells_on, spread
from clueprint.compare.proof import ProofGrid
from clueprint.compare.settle import Settled, settled
from clueprint.compare.source import is_drawn, marks_of
from recognise.draft import Alternative, Doubt, Draft, Given, Item, Polygon
from recognise.geometry import bounds
from recognise.interpret.cages import NO_NUMBER
from recognise.interpret.draft import cells_under
from schema.cells import Cell
from schema.kinds.base import Constraint
from schema.puzzle import Puzzle

SURE = 0.9
"""From this confidence on an item that was read otherwise than the source is a difference, below it a query."""
CERTAIN = 0.999
"""From this confidence on that holds even where the source's value is among the other readings of the item: at 0.999
it is about as likely to be a misprint (one item in some hundreds) as to be misread into just this value."""
COVERS = 0.3
"""Part of the place of an item that something unread must cover to be perhaps that item."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One drawn constraint of the proof, and the item of the draft that it comes from."""

    constraint: Constraint
    index: int


@dataclass
class Printed:
    """The items of one grid. `doubts` are those of the ink alone, by item; `told` the items that a finding speaks of
    already."""

    grid: ProofGrid
    known: Settled
    givens: dict[Cell, int]
    marks: list[Mark]
    unread: list[int]
    doubts: dict[int, list[Doubt]]
    told: set[int] = field(default_factory=set)

    @property
    def draft(self) -> Draft:
        """The draft, its marks read as the source has them."""
        return self.known.draft

    def item(self, index: int) -> Item:
        """An item of the draft."""
        return self.draft.items[index]

    def is_sure(self, index: int) -> bool:
        """Whether an item was read surely enough that what differs is a difference."""
        return self.item(index).confidence >= SURE and not self.doubts.get(index) and index not in self.known.contested

    def is_clear(self, cells: Iterable[Cell]) -> bool:
        """Whether nothing that could not be read stands on these cells, and no mark of kinds that the source does not
        have: then what was read there is all there is."""
        strange = {cell for index in self.known.strange for cell in self._cells_of(index)}
        return not (self.doubtful | strange).intersection(cells)

    @cached_property
    def doubtful(self) -> frozenset[Cell]:
        """The cells on which something stands that was not read, or read with doubts."""
        grid = self.draft.grid
        found: set[Cell] = set()
        for index in (*(i for i in self.unread if i not in self.known.strange), *self.doubts):
            found |= self._cells_of(index)
        for doubt in self.draft.doubts:
            if doubt.item is None and doubt.where is not None:
                found.update(cells_under(bounds(doubt.where), grid))
        return frozenset(found)

    def _cells_of(self, index: int) -> set[Cell]:
        value = self.item(index).value
        return set() if isinstance(value, Given) else {cell for c in value for cell in cells_on(self.draft.grid, c)}

    def may_be(self, index: int, value: Given | tuple[Constraint, ...]) -> bool:
        """Whether an item may be something else by its other readings."""
        item = self.item(index)
        return item.confidence < CERTAIN and any(_same(other, value) for other in item.alternatives)

    def unread_at(self, place: Polygon, cells: Sequence[Cell]) -> Item | Doubt | None:
        """A mark or ink at this place that nobody could read, and so may be the item that should stand there."""
        for index in self.unread:
            item = self.item(index)
            if item.where is not None and _covers(item.where, place) and self._on_cells(index, cells):
                self.told.add(index)
                return item
        spots = (doubt for doubt in self.draft.doubts if doubt.item is None and doubt.where is not None)
        return next((doubt for doubt in spots if doubt.where and _covers(doubt.where, place)), None)

    def _on_cells(self, index: int, cells: Sequence[Cell]) -> bool:
        """Whether an unread mark stands on the cells of what should stand there; where there are none, anywhere."""
        stood = self._cells_of(index)
        return not cells or not stood or len(stood & set(cells)) * 2 >= len(set(cells))


def _same(other: Alternative, value: Given | tuple[Constraint, ...]) -> bool:
    if isinstance(value, Given) or isinstance(other.value, Given):
        return other.value == value
    ours, theirs = ([(c.kind, c.identity()) for c in constraints] for constraints in (value, other.value))
    return set(ours) <= set(theirs)


def _covers(spot: Polygon, place: Polygon) -> bool:
    """Whether the box of a spot covers a good part of the box of a place."""
    a, b = bounds(spot), bounds(place)
    across, down = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
    if across <= 0 or down <= 0:
        return False
    return across * down >= COVERS * (b[2] - b[0]) * (b[3] - b[1])


def printed(grid: ProofGrid, source: Puzzle) -> Printed:
    """The items of a grid of the proof, its marks meant as in the source."""
    known = settled(grid.draft, marks_of(source))
    marks: list[Mark] = []
    unread: list[int] = []
    givens: dict[Cell, int] = {}
    for index, item in enumerate(known.draft.items):
        if isinstance(item.value, Given):
            givens[item.value.cell] = index
            continue
        drawn = [one for c in item.value if is_drawn(c) for one in spread(c)]
        marks += [Mark(c, index) for c in drawn if c.understood]
        unread += [index] if any(not c.understood for c in drawn) else []
    return Printed(grid, known, givens, marks, unread, _ink_doubts(grid, known.draft))


def _ink_doubts(grid: ProofGrid, draft: Draft) -> dict[int, list[Doubt]]:
    """What is in doubt about items, other than what they mean. A cage without a number is drawn so where a PDF says it:
    that number could not be missed, and whether there should be one the source says."""
    found: dict[int, list[Doubt]] = {}
    for doubt in draft.doubts:
        bare = doubt.why == NO_NUMBER and grid.looked.by_vectors
        if doubt.item is not None and not doubt.meaning and not bare:
            found.setdefault(doubt.item, []).append(doubt)
    return found
