"""Which totals a number of cells can still reach: what makes a partly filled grid hopeless or not."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Digits


@lru_cache(maxsize=4096)
def sums_of(count: int, choices: tuple[int, ...], distinct: bool) -> frozenset[int]:
    """Every sum of `count` digits out of `choices`; `distinct`: none of them taken twice."""
    if not distinct:
        sums = {0}
        for _ in range(count):
            sums = {total + choice for total in sums for choice in choices}
        return frozenset(sums)
    by_count: list[set[int]] = [{0}] + [set() for _ in range(count)]
    for choice in choices:
        for taken in range(count, 0, -1):
            by_count[taken] |= {total + choice for total in by_count[taken - 1]}
    return frozenset(by_count[count])


def sums_left(grid: Grid, cells: Iterable[Cell], digits: Digits, distinct: bool = False) -> frozenset[int]:
    """Every sum that the cells can still come to. `distinct`: no digit twice among them, which is not checked for the
    filled ones."""
    cells = tuple(cells)
    held = [digits[cell] for cell in cells if cell in digits]
    choices = tuple(d for d in grid.digits if not (distinct and d in held))
    return frozenset(sum(held) + rest for rest in sums_of(len(cells) - len(held), choices, distinct))
