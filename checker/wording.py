"""Items in words, for people who look at a conflict."""

from __future__ import annotations

from checker.items import Items
from schema.cells import Cell
from schema.kinds.base import Constraint
from schema.naming import stated_by

_MANY = 10
"""So many cells are not listed one by one."""


def describe(items: Items, pointer: str) -> str:
    """What an item says: `the given 5 in r1c2`, `thermometer from r7c1 to r5c2: r7c1, r6c1, r5c2`, `sandwich clue 22
    left of row 2`."""
    constraint = items.constraints.get(pointer)
    if constraint is None:
        cell = Cell.parse(pointer.rpartition("/")[2])
        return f"the given {items.grid.label(items.givens[cell])} in {cell}"
    words = stated_by(constraint)
    unnamed = [str(cell) for cell in _drawn_on(constraint, items) if str(cell) not in words]
    return f"{words}: {', '.join(map(str, _drawn_on(constraint, items)))}" if unnamed else words


def _drawn_on(constraint: Constraint, items: Items) -> tuple[Cell, ...]:
    """The cells of a mark on the grid; none for a clue beside it, and for a rule of the whole grid."""
    cells = () if hasattr(constraint, "side") else constraint.cells_of(items.grid)
    return cells if len(cells) <= _MANY else ()
