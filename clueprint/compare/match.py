"""Which constraint of the proof is which of the source: those that say the same first, then by likeness."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint
from schema.paths import path_of

EXACT = 1.0
SAME_PLACE = 0.8
"""A clue at the same place with another number."""
LEAST = 0.15
"""Two marks of one kind that share a smaller part of their cells are two marks: the two long diagonals share 1 in 17,
two dots that share a cell 1 in 3."""
OTHER_KIND = 0.5
"""Marks of two kinds are taken for one that was drawn otherwise where they share at least so much of their cells."""
_ANCHORS = (("side", "index"), ("start",))
"""Fields that say where a clue beside the grid stands."""


@dataclass(frozen=True, slots=True)
class Pair:
    """A constraint of the source (by its place in the list) with its counterpart; None on one side for none."""

    expected: int | None
    found: int | None
    exact: bool = False


def paired(grid: Grid, expected: Sequence[Constraint], found: Sequence[Constraint]) -> list[Pair]:
    """Each constraint of both lists once: in the order of `expected`, then what is extra. The order of the lists does
    not matter, nor does the end from which a path is listed where the kind does not ask."""
    left, right = list(range(len(expected))), list(range(len(found)))
    pairs: list[Pair] = []

    def take(i: int, j: int, exact: bool = False) -> None:
        pairs.append(Pair(i, j, exact))
        left.remove(i)
        right.remove(j)

    for i in tuple(left):
        j = next((j for j in right if says_the_same(expected[i], found[j])), None)
        if j is not None:
            take(i, j, exact=True)
    for measure, least in ((likeness, LEAST), (likeness_across, OTHER_KIND)):
        for i, j in _best_first(grid, expected, found, left, right, measure, least):
            if i in left and j in right:
                take(i, j)
    pairs += [Pair(i, None) for i in left]
    pairs.sort(key=lambda pair: pair.expected if pair.expected is not None else -1)
    return pairs + [Pair(None, j) for j in right]


Measure = Callable[[Grid, Constraint, Constraint], float]


def _best_first(
    grid: Grid,
    expected: Sequence[Constraint],
    found: Sequence[Constraint],
    left: Sequence[int],
    right: Sequence[int],
    measure: Measure,
    least: float,
) -> list[tuple[int, int]]:
    alike = [(measure(grid, expected[i], found[j]), i, j) for i in left for j in right]
    return [(i, j) for like, i, j in sorted(alike, key=lambda one: (-one[0], one[1], one[2])) if like >= least]


def says_the_same(one: Constraint, other: Constraint) -> bool:
    """Whether two constraints are one and the same."""
    return one.kind == other.kind and one.identity() == other.identity()


def likeness(grid: Grid, one: Constraint, other: Constraint) -> float:
    """How like two constraints of one kind are, 0 to 1."""
    if one.kind != other.kind:
        return 0.0
    if one.identity() == other.identity():
        return EXACT
    return _by_place(grid, one, other)


def likeness_across(grid: Grid, one: Constraint, other: Constraint) -> float:
    """How like two constraints of different kinds are as marks on paper, 0 to 1."""
    if not set(one.marks) & set(other.marks) - {"rule"}:
        return 0.0
    return _by_place(grid, one, other)


def _by_place(grid: Grid, one: Constraint, other: Constraint) -> float:
    for anchor in _ANCHORS:
        ours, theirs = (tuple(getattr(c, name, None) for name in anchor) for c in (one, other))
        if None not in ours or None not in theirs:
            return SAME_PLACE if ours == theirs else 0.0
    return SAME_PLACE * _shared(cells_on(grid, one), cells_on(grid, other)) + _order(one, other)


def _order(one: Constraint, other: Constraint) -> float:
    """A little more for paths that share an end: of two thermometers from one bulb the nearer counts."""
    ours, theirs = path_of(one), path_of(other)
    return 0.05 * (ours[:1] == theirs[:1]) + 0.05 * (ours[-1:] == theirs[-1:]) if ours and theirs else 0.0


def cells_on(grid: Grid, constraint: Constraint) -> frozenset[Cell]:
    """The cells that a constraint's mark stands on; none for rules of the whole grid."""
    try:
        return frozenset(constraint.cells_of(grid))
    except NotImplementedError:
        return frozenset()


def _shared(ours: frozenset[Cell], theirs: frozenset[Cell]) -> float:
    return len(ours & theirs) / len(ours | theirs) if ours and theirs else 0.0


def spread(constraint: Constraint) -> list[Constraint]:
    """A constraint as one for each mark: what speaks of several cells, each marked by itself (such as even cells), says
    the same cell by cell."""
    cells: tuple[Cell, ...] = getattr(constraint, "cells", ())
    if constraint.marks[:1] != ("cell",) or len(cells) < 2:
        return [constraint]
    return [constraint.model_copy(update={"cells": (cell,)}) for cell in cells]
