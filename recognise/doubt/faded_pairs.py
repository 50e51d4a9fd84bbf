"""Questions about dots, signs and characters between cells, left out as hardly printed, which the proof answers.

A printed puzzle has one solution: where it has none with such a mark, as whatever the rules say of marks between cells,
none is printed there. A mark that only adds to what is stated leaves the solution that is known, or none. Where the
rules say that all such pairs are marked, it also takes back that this pair is none, and the puzzle is proved anew."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations, product

from checker.prove import is_unique
from checker.search import Effort
from recognise.doubt.instead import ONE
from recognise.doubt.puzzle import as_puzzle
from recognise.draft import Draft, Item
from recognise.marks.cell_questions import HARDLY
from recognise.rules import RuleSheet, Statement
from schema.cells import Cell
from schema.kinds import kind_named
from schema.kinds.all_marked import AllMarked
from schema.kinds.base import Constraint, Setting
from schema.kinds.consecutive_pair import ConsecutivePair
from schema.kinds.ratio_pair import RatioPair
from schema.kinds.sum_pair import SumPair

SECONDS = 4.0
"""Of work, for all such questions of a page."""
MOST = 3
"""Marks of one question of which each may be printed or not, where that must be proved."""

Pair = tuple[Cell, Cell]
_PAIR = r"r\d+c\d+ and r\d+c\d+"
_FADED = re.compile(rf"what looks like signs, dots or characters between ({_PAIR}(?:, {_PAIR})*) {HARDLY}")


def without_faded_pairs(draft: Draft, solution: Mapping[Cell, int], sheet: RuleSheet | None) -> Draft:
    """The draft, which has one `solution`, without the questions about marks between cells that are hardly printed and
    with which the puzzle has none."""
    if sheet is None or not draft.all_told:
        return draft
    stated = [s for s in sheet.statements if kind_named(s.kind).marks[:1] == ("edge",) and not s.negated]
    effort = Effort(SECONDS)

    def is_refuted(why: str) -> bool:
        told = _FADED.fullmatch(why)
        meanings = [_meanings(pair, stated) for pair in _pairs(told[1])] if told else []
        if not meanings or not all(meanings):
            return False
        if any(isinstance(constraint, AllMarked) for constraint in draft.constraints):
            return len(meanings) <= MOST and not any(_may_be_printed(draft, some, effort) for some in _some(meanings))
        setting = Setting(draft.grid, draft.constraints)
        return all(meaning.broken(setting, solution) for of_one in meanings for meaning in of_one)

    return replace(draft, doubts=tuple(doubt for doubt in draft.doubts if not is_refuted(doubt.why)))


def _pairs(names: str) -> Iterator[Pair]:
    for pair in names.split(", "):
        one, other = pair.split(" and ")
        yield Cell.parse(one), Cell.parse(other)


def _meanings(pair: Pair, stated: Sequence[Statement]) -> list[Constraint]:
    """All that a mark between two cells may say; nothing where that is more than can be named: a number that is printed
    in the mark, or which of two cells is the greater one."""
    found: list[Constraint] = []
    for statement in stated:
        ratio, value = statement.fields.get("ratio", 2), statement.fields.get("value")
        if statement.kind == "consecutive-pair":
            found.append(ConsecutivePair(cells=pair))
        elif statement.kind == "ratio-pair" and isinstance(ratio, int):
            found.append(RatioPair(cells=pair, ratio=ratio))
        elif statement.kind == "sum-pair" and isinstance(value, int):
            found.append(SumPair(cells=pair, value=value))
        else:
            return []
    return found


def _some(meanings: Sequence[Sequence[Constraint]]) -> Iterator[tuple[Constraint, ...]]:
    """One mark or several of those in question, with what each may mean."""
    for count in range(1, len(meanings) + 1):
        for some in combinations(meanings, count):
            yield from product(*some)


def _may_be_printed(draft: Draft, more: Sequence[Constraint], effort: Effort) -> bool:
    """Whether the puzzle has one solution with some marks more, or that cannot be told."""
    items = tuple(Item((constraint,), None, 1.0, "shape") for constraint in more)
    puzzle = as_puzzle(replace(draft, items=(*draft.items, *items)))
    if puzzle.problems():
        return False
    return not effort.left or is_unique(puzzle, effort.part(ONE)) is not False
