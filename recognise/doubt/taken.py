"""Questions about marks that are not quite what the rules name, which the proof of the page answers.

Marks in another colour are taken for those that the rules speak of, for print fades and light has a colour, and letters
among numbers for numerals. A printed puzzle has one solution: where it has one with that, and none without these marks
or with anything else that the trade says of such marks, they were printed so. So it is with numerals that the puzzle
can do without, where their digits come to that sum oftener than chance would have it. A sign that reads as a numeral as
well is none where the puzzle has no single solution with that sum in its place."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import permutations

from checker.search import Effort
from recognise.doubt.puzzle import as_puzzle
from recognise.doubt.sentences import may_be_otherwise, other_meanings
from recognise.draft import Doubt, Draft, only_constraint
from recognise.interpret.edges import READ_INSTEAD
from recognise.interpret.meaning import AS_NUMERAL
from recognise.interpret.undecided import NO_SUCH_COLOUR
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint
from schema.kinds.greater import Greater
from schema.kinds.sum_pair import SumPair
from schema.numerals import roman
from schema.puzzle import Puzzle

SECONDS = 4.0
"""Of work, for all such questions of a page."""
CHANCE = 0.002
"""How likely pairs of any digits come to the sums of marks that mean something else: three X, or three V, do so in
fewer than 2 of 1,000 solutions."""


def without_taken(draft: Draft, solution: Mapping[Cell, int]) -> Draft:
    """The draft, which has one `solution`, without the questions about colours and numerals that the proof answers."""
    asked: dict[tuple[str, str], list[tuple[Doubt, Constraint]]] = defaultdict(list)
    for doubt in draft.doubts:
        stated = None if doubt.item is None else only_constraint(draft.items[doubt.item].value)
        if stated is not None and doubt.why.endswith((NO_SUCH_COLOUR, AS_NUMERAL)):
            asked[stated.kind, doubt.why].append((doubt, stated))
    effort, puzzle = Effort(SECONDS), as_puzzle(draft)
    answered = [doubt for doubt in draft.doubts if _is_no_numeral(draft, doubt, puzzle, effort)]
    for (_, why), group in asked.items():
        own = tuple(stated for _, stated in group)
        nothing = () if why.endswith(AS_NUMERAL) and _are_no_chance(own, draft.grid, solution) else ((),)
        if not may_be_otherwise(puzzle, own, (*nothing, *other_meanings(own)), effort):
            answered += [doubt for doubt, _ in group]
    return replace(draft, doubts=tuple(doubt for doubt in draft.doubts if doubt not in answered))


def _are_no_chance(own: Sequence[Constraint], grid: Grid, solution: Mapping[Cell, int]) -> bool:
    """Whether all digits of a `solution` come to the sums of some pairs, and those of any pairs would hardly do so."""
    sums = [one for one in own if isinstance(one, SumPair)]
    if len(sums) < len(own) or any(sum(solution[cell] for cell in one.cells) != one.value for one in sums):
        return False
    pairs = [a + b for a, b in permutations(grid.digits, 2)]
    return math.prod(pairs.count(one.value) / len(pairs) for one in sums) <= CHANCE


def _is_no_numeral(draft: Draft, doubt: Doubt, puzzle: Puzzle, effort: Effort) -> bool:
    """Whether a question is whether a sign is a numeral, and the sum that this states leaves no single solution."""
    sign = None if doubt.item is None else only_constraint(draft.items[doubt.item].value)
    if not isinstance(sign, Greater) or not doubt.why.endswith(READ_INSTEAD):
        return False
    number = roman(doubt.why.removesuffix(READ_INSTEAD).strip("“” "))
    if number is None:
        return False
    sum_of_both = SumPair(cells=(min(sign.greater, sign.less), max(sign.greater, sign.less)), value=number)
    return not may_be_otherwise(puzzle, (sign,), [(sum_of_both,)], effort)
