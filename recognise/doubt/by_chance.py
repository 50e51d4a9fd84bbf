"""How likely a solution obeys by chance what nobody printed.

Where a mark has a cell too many, and the puzzle has one solution with that as well as without, the solution obeys the
mark in that cell although it was made without it: with an even square out of a stain in four of nine cases, with a
palindrome a cell too long in one. So it is with several cells that belong to no mark, as those of a second arrow out of
a circle that has one. The proof lets no more through."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from recognise.draft import Draft, Value
from schema.cells import Cell
from schema.kinds.base import Constraint, Setting

Solution = Mapping[Cell, int]


def chance_of_one_more(draft: Draft, index: int, without: Value | None, solution: Solution) -> float:
    """How likely the solution obeys what an item states where it would be `without` some of its cells, whatever digit
    one of these held, that of them which tells least; 1 where it would have no cell less, or others."""
    read, less = _stated(draft.items[index].value), _stated(without)
    more = _cells(read, draft) - _cells(less, draft)
    if not solution or not more or _cells(less, draft) - _cells(read, draft):
        return 1.0
    setting = Setting(draft.grid, draft.constraints)

    def obeyed(cell: Cell) -> int:
        others = ({**solution, cell: digit} for digit in draft.grid.digits)
        return sum(not any(constraint.broken(setting, filled) for constraint in read) for filled in others)

    return max(map(obeyed, more)) / len(draft.grid.digits)


def _stated(value: Value | None) -> Sequence[Constraint]:
    return value if isinstance(value, tuple) else ()


def _cells(stated: Sequence[Constraint], draft: Draft) -> set[Cell]:
    return {cell for constraint in stated for cell in constraint.cells_of(draft.grid)}
