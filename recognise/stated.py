"""What two readings of one puzzle state, beside each other."""

from __future__ import annotations

from schema.puzzle import Puzzle


def is_same(one: Puzzle | None, other: Puzzle | None) -> bool:
    """Whether two readings state the same givens and constraints, in whatever order."""
    if one is None or other is None or not _alike(one, other):
        return False
    return _stated(one) == _stated(other)


def says_more(one: Puzzle | None, other: Puzzle | None) -> bool:
    """Whether a reading states all that the other does, and understands marks that the other does not."""
    if one is None or other is None or not _alike(one, other):
        return False
    return _unread(one) < _unread(other) and _stated(other, understood=True) < _stated(one, understood=True)


def _alike(one: Puzzle, other: Puzzle) -> bool:
    return one.givens == other.givens and one.grid == other.grid


def _stated(puzzle: Puzzle, understood: bool = False) -> set[tuple[str, object]]:
    return {(c.kind, c.identity()) for c in puzzle.constraints if c.understood or not understood}


def _unread(puzzle: Puzzle) -> int:
    return sum(not c.understood for c in puzzle.constraints)
