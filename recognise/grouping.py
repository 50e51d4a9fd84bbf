"""Things put together one by one: strokes of one colour, characters of one number, cells that touch."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from schema.cells import Cell

T = TypeVar("T")


def grouped(things: Iterable[T], fits: Callable[[Sequence[T], T], bool]) -> list[list[T]]:
    """Each thing in the first group, as it is by then, that it fits into, or else in a group of its own; in their
    order."""
    groups: list[list[T]] = []
    for thing in things:
        group = next((group for group in groups if fits(group, thing)), None)
        if group is None:
            groups.append([thing])
        else:
            group.append(thing)
    return groups


def chained(things: Sequence[T], near: Callable[[T, T], bool]) -> list[list[T]]:
    """Things that hang together, each `near` to one other at least of its group; groups and things in their order."""
    groups: list[list[int]] = []
    for place, thing in enumerate(things):
        touched = [group for group in groups if any(near(things[other], thing) for other in group)]
        groups = [group for group in groups if group not in touched]
        groups.append([*(other for group in touched for other in group), place])
    return [[things[place] for place in sorted(group)] for group in sorted(groups, key=min)]


def areas(
    cells: Iterable[Cell], alike: Callable[[Cell, Cell], bool] = lambda one, other: True
) -> list[tuple[Cell, ...]]:
    """Cells that hang together by their sides, where two that touch are `alike`."""
    rest = set(cells)
    found = []
    while rest:
        area, frontier = set[Cell](), {rest.pop()}
        while frontier:
            area |= frontier
            frontier = {cell for cell in rest if any(cell.beside(other) and alike(cell, other) for other in frontier)}
            rest -= frontier
        found.append(tuple(sorted(area)))
    return sorted(found)
