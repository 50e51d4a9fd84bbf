"""How likely a solution obeys by chance what nobody printed.

Where a mark has a cell too many, and the puzzle has one solution with that as well as without, the solution obeys the
mark in that cell although it was made without it: with an even square out of a stain in four of nine cases, with a
palindrome a cell too long in one. The proof lets no more through."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from recognise.draft import Draft, Value
from schema.cells import Cell
from schema.kinds.base import Constraint, Setting

Solution = Mapping[Cell, int]


def chance_of_one_more(draft: Draft, index: int, without: Value | None, solution: Solution) -> float:
    """How likely the solution obeys what an item states where it would be `without` one of its cells, whatever digit
    that cell held; 1 where the two do not differ by just one cell."""
    read, less = _stated(draft.items[index].value), _stated(without)
    more = _cells(read, draft) - _cells(less, draft)
    if not solution or len(more) != 1 or _cells(less, draft) - _cells(read, draft):
        return 1.0
    (cell,) = more
    setting = Setting(draft.grid, draft.constraints)
    obeyed = sum(
        not any(constraint.broken(setting, {**solution, cell: digit}) for constraint in read)
        for digit in draft.grid.digits
    )
    return obeyed / len(draft.grid.digits)


def _stated(value: Value | None) -> Sequence[Constraint]:
    return value if isinstance(value, tuple) else ()


def _cells(stated: Sequence[Constraint], draft: Draft) -> set[Cell]:
    return {cell for constraint in stated for cell in constraint.cells_of(draft.grid)}
