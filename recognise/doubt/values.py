"""How much of the doubt about a number (the total of a cage, a clue beside the grid) the proof of this very page lets
through: where with its other readings the puzzle has no single solution, it can not have been printed so."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from itertools import combinations_with_replacement
from math import prod

from checker.search import Effort
from recognise.doubt.policy import CLUE
from recognise.draft import Alternative, Draft, Item, Value, only_constraint
from schema.grid import Grid
from schema.kinds._outside import OutsideClue
from schema.kinds.base import Constraint
from schema.kinds.cage import Cage
from schema.kinds.corner_digits import CornerDigits
from schema.kinds.diagonal_sum import DiagonalSum
from schema.kinds.greater import Greater
from schema.kinds.sum_line import SumLine
from schema.kinds.sum_pair import SumPair

REFUTED = 0.05 * CLUE
"""What is left of the average where every other number is refuted: something else on the page, read wrong as well, may
have misled the proofs."""
BY_CHANCE = 0.1
"""How often a stroke that is no number reads as the very number that the solution has there: of the numbers a 1 is read
oftenest so, and one of nine digits it may be."""
MANY = 500
"""Numbers that are tried at most: all sums, and the products of five digits, which are 441."""


def escape_of_number(
    item: Item, proves: Callable[[Value], float], others: Iterator[Value] | None = None, effort: Effort | None = None
) -> float | None:
    """The part of the doubt about an item's number that a proof lets through; None where its other readings differ in
    more, or where there is nothing to try. `proves` says how far the puzzle has one solution when the item states
    something else. Of the doubt that no reading stands for (a number that nobody thought of) the proof lets through
    what it does on the average, but where it refutes all that the item could state instead: `others`, tried while some
    `effort` is left. What is no number at all reads as any: seldom as the one that the solution has."""
    named = [other for other in item.alternatives if _differs_in_number(item.value, other)]
    doubt = 1 - item.confidence - (0.0 if item.extent is None else 1 - item.extent)
    if len(named) < len(item.alternatives) or doubt <= 0 or (not named and others is None):
        return None
    likely = sum(other.confidence for other in named)
    through = sum(other.confidence * proves(other.value) for other in named)
    rest = max(0.0, doubt - likely)
    passed = rest * CLUE
    if rest and not through and others is not None and _refutes_all(others, proves, effort):
        nothing = min(rest, max(0.0, item.nothing - sum(map(_of_no_number, named))))
        passed = min(passed, nothing * BY_CHANCE + (rest - nothing) * REFUTED)
    return (through + passed) / (likely + rest)


def _of_no_number(other: Alternative) -> float:
    """How likely another reading of a mark is, if it states the mark without a number."""
    return other.confidence if getattr(only_constraint(other.value), "value", None) is None else 0.0


def _refutes_all(others: Iterator[Value], proves: Callable[[Value], float], effort: Effort | None) -> bool:
    return all((effort is None or effort.left > 0) and not proves(other) for other in others)


def other_numbers(item: Item, draft: Draft) -> Iterator[Value] | None:
    """All that a mark could state with another number; a cage also with another operation of the page's cages: that
    both are misread is far less likely. None where that is too much to try, or where it is not known how much of the
    doubt is about the number."""
    stated = only_constraint(item.value)
    if stated is None or getattr(stated, "value", None) is None:
        return None
    if item.extent is None and not isinstance(stated, OutsideClue):
        return None
    changed: list[dict[str, object]] = [
        {"value": number} for number in _numbers(stated, draft.grid) if number != getattr(stated, "value", None)
    ]
    if isinstance(stated, Cage):
        changed += [{"operation": name} for name in _operations(draft) if name != stated.operation]
    return ((stated.model_copy(update=update),) for update in changed) if 0 < len(changed) <= MANY else None


def _operations(draft: Draft) -> set[str]:
    """The operations of a page's cages that have a total."""
    return {cage.operation for cage in cages_of(draft) if cage.value is not None}


def cages_of(draft: Draft) -> Iterator[Cage]:
    """The cages of a page, in the order of its items."""
    stated = (only_constraint(item.value) for item in draft.items)
    return (cage for cage in stated if isinstance(cage, Cage))


def _numbers(stated: Constraint, grid: Grid) -> Collection[int]:
    """What the digits of a mark can come to; nothing for a mark whose numbers are not told here."""
    low, high = min(grid.digits), max(grid.digits)
    if isinstance(stated, OutsideClue):
        return range(sum(grid.digits) + 1)
    if isinstance(stated, SumPair | DiagonalSum | SumLine):
        return range(high * len(stated.cells_of(grid)) + 1)
    if not isinstance(stated, Cage):
        return ()
    if stated.operation == "sum":
        return range(low * len(stated.cells), high * len(stated.cells) + 1)
    if stated.operation == "product":
        return {prod(digits) for digits in combinations_with_replacement(grid.digits, len(stated.cells))}
    return range(high + 1)


def _differs_in_number(value: Value, other: Alternative) -> bool:
    """Whether another reading of a mark with a number says the same with another one; of a cage also with another
    operation, or with no number at all; of digits on a corner that they are others; of the sum of two cells also that
    it is no numeral but the sign of the greater one."""
    one, another = only_constraint(value), only_constraint(other.value)
    if isinstance(one, CornerDigits) and isinstance(another, CornerDigits):
        return one.cells == another.cells
    if isinstance(one, SumPair) and isinstance(another, Greater):
        return set(one.cells) == {another.greater, another.less}
    if one is None or another is None or not isinstance(getattr(one, "value", None), int):
        return False
    if isinstance(another, Cage):
        return one.model_copy(update={"value": another.value, "operation": another.operation}) == another
    number = getattr(another, "value", None)
    return isinstance(number, int) and one.model_copy(update={"value": number}) == another
