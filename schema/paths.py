"""The way of a line through its cells, for who asks for it of any constraint."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from schema.cells import Cell
from schema.kinds._lines import Line
from schema.kinds.base import Constraint

Step = frozenset[Cell]
"""The two cells that a line joins next to each other: the same from either end."""


def path_of(constraint: Constraint | None) -> tuple[Cell, ...]:
    """The cells of a line in order; none for what is no line along one path."""
    return constraint.path if isinstance(constraint, Line) else ()


def steps_of(path: Sequence[Cell]) -> frozenset[Step]:
    """The steps of a path."""
    return frozenset(frozenset(step) for step in pairwise(path))
