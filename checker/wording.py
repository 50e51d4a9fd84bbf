"""Items in words, for people who look at a conflict."""

from __future__ import annotations

from checker.items import Items
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint

_MANY = 10
"""So many cells are not listed one by one."""


def describe(items: Items, pointer: str) -> str:
    """What an item says: `the given 5 in r1c2`, `thermometer r7c1, r6c1, r5c2`, `sandwich 22, left, 2`."""
    constraint = items.constraints.get(pointer)
    if constraint is None:
        cell = Cell.parse(pointer.rpartition("/")[2])
        return f"the given {items.grid.label(items.givens[cell])} in {cell}"
    return _described(constraint, items.grid)


def _described(constraint: Constraint, grid: Grid) -> str:
    clue_name = getattr(constraint, "clue_name", None)
    if isinstance(clue_name, str):
        return f"{constraint.name}, {clue_name}"
    stated = {name: value for name, value in constraint if name != "kind" and name in constraint.model_fields_set}
    words = [constraint.name]
    words += [f"{name} {value}" for name, value in stated.items() if isinstance(value, int | str)]
    cells = constraint.cells_of(grid)
    if len(cells) <= _MANY:
        words.append(", ".join(map(str, cells)))
    return " ".join(words)
