"""Questions whether cells are tinted, which the solution of the page answers.

Light, folds and print of the other side leave it open whether a cell is tinted. But what tints say on a page its rules
tell, and a printed puzzle has one solution: where with any of the cells in question taken the other way the solution
breaks what they would say, or the puzzle has more solutions than one, or what they would say is nothing (a region of
one cell, or one that is just a row), they were printed as they are read."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from checker.search import Effort
from recognise.doubt.idle import boxes_of, is_scrap
from recognise.doubt.ways import proves
from recognise.draft import Draft, Value, only_constraint
from recognise.grouping import areas
from recognise.rules import RuleSheet
from schema.cells import Cell
from schema.kinds.base import Constraint, Setting
from schema.kinds.even import Even
from schema.kinds.extra_region import ExtraRegion
from schema.kinds.odd import Odd

SECONDS = 4.0
"""Of work, for all such questions of a page."""
MOST = 4
"""Cells in question that are tried in all ways; of more, as words name them, not all are told."""

_CELLS = r"(r\d+c\d+(?:, r\d+c\d+)*)"
_EACH = re.compile(
    rf"whether {_CELLS} (?:is|are) tinted was hard to tell|perhaps {_CELLS} are tinted|"
    rf"the ground of {_CELLS} is dark, and was taken for shade"
)
_ALL = re.compile(rf"the ground of {_CELLS} is hardly darker than paper, and was taken for shade")

TintKind = type[ExtraRegion] | type[Even] | type[Odd]
KINDS: Mapping[str, TintKind] = {"extra-region": ExtraRegion, "even": Even, "odd": Odd}
"""What tints are printed for."""
LOOKS = ("", "tint", "square")
"""What sentences call them."""


def without_tints(draft: Draft, solution: Mapping[Cell, int], sheet: RuleSheet | None) -> Draft:
    """The draft, which has one `solution`, without the questions about tints that the proof answers."""
    if sheet is None or not draft.all_told:
        return draft
    asked = {doubt.why: ways for doubt in draft.doubts if (ways := tuple(_ways(doubt.why)))}
    if not asked:
        return draft
    stated = {s.kind for s in sheet.statements if s.kind in KINDS and s.mark.shape in LOOKS and not s.negated}
    page = _Page(draft, solution, [KINDS[kind] for kind in sorted(stated or KINDS)], Effort(SECONDS))
    told = {why for why, ways in asked.items() if all(map(page.refutes, ways))}
    return replace(draft, doubts=tuple(doubt for doubt in draft.doubts if doubt.why not in told))


def _ways(why: str) -> Iterator[frozenset[Cell]]:
    """The cells that may all be otherwise than they are read, in each way that a question leaves open: any of a few, or
    what has one faint tint as a whole, and each part of it that hangs together."""
    if told := _ALL.fullmatch(why):
        cells = _parsed(told[1])
        yield from {frozenset(cells), *map(frozenset, areas(cells))}
    elif told := _EACH.fullmatch(why):
        cells = _parsed(next(filter(None, told.groups())))
        for count in range(1, len(cells) + 1) if len(cells) <= MOST else ():
            yield from map(frozenset, combinations(cells, count))


def _parsed(names: str) -> list[Cell]:
    return [Cell.parse(name) for name in names.split(", ")]


@dataclass(frozen=True, slots=True)
class _Page:
    """A page with one solution, and the kinds that tints on it may be."""

    draft: Draft
    solution: Mapping[Cell, int]
    kinds: Sequence[TintKind]
    effort: Effort

    def refutes(self, others: Collection[Cell]) -> bool:
        """Whether some cells, taken for tinted where they are bare and the other way round, are not printed so, as any
        kind of tint."""
        return all(self._refutes(others, kind) for kind in self.kinds)

    def _refutes(self, others: Collection[Cell], kind: TintKind) -> bool:
        stated = enumerate(only_constraint(item.value) for item in self.draft.items)
        own = {index: one for index, one in stated if isinstance(one, kind)}
        before = {cell for one in own.values() for cell in one.cells}
        after = before.symmetric_difference(others)
        known = {frozenset(one.cells) for one in own.values()}
        if kind is ExtraRegion and known != {frozenset(one.cells) for one in _made(kind, before)}:
            return False  # regions that touch are told apart by more than where they end
        made = list(_made(kind, after))
        new = [one for one in made if frozenset(one.cells) not in known]
        if before <= after:
            return any(map(self._breaks, new)) or all(map(self._says_nothing, new))
        first, *rest = sorted(own)
        instead: dict[int, Value] = {first: tuple(made), **dict.fromkeys(rest, ())}
        return self.effort.left > 0 and proves(self.draft, instead, self.effort, impossible=0.0) == 0.0

    def _breaks(self, one: Constraint) -> bool:
        """Whether the solution breaks what would be printed; one of more cells than there are digits none obeys."""
        setting = Setting(self.draft.grid, (*self.draft.constraints, one))
        return bool(one.broken(setting, self.solution))

    def _says_nothing(self, one: Constraint) -> bool:
        """Whether nobody prints it: a scrap, or no more than a row, column or box."""
        if not isinstance(one, ExtraRegion):
            return False
        boxes = boxes_of(self.draft)
        lines = ({cell.row for cell in one.cells}, {cell.column for cell in one.cells})
        is_line = len(one.cells) == len(self.draft.grid.digits) and any(len(line) == 1 for line in lines)
        return is_line or set(one.cells) in boxes or is_scrap(one, self.draft, boxes)


def _made(kind: TintKind, cells: Collection[Cell]) -> Iterator[ExtraRegion | Even | Odd]:
    """What tinted cells state: of regions each that hangs together."""
    if kind is ExtraRegion:
        yield from (ExtraRegion(cells=area) for area in areas(sorted(cells)))
    elif cells:
        yield kind(cells=tuple(sorted(cells)))
