"""The proof of a puzzle: how many grids obey all of its rules together, and what follows from that."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Literal

from checker.conflict import conflict_among, smallest_conflict
from checker.forced import unforced
from checker.items import Items
from checker.search import CheckerFault, Clock, Effort, Solution, find_all, find_some, find_two
from checker.wording import describe
from schema.cells import Cell
from schema.puzzle import Puzzle

Outcome = Literal["one", "several", "none", "unknown"]
TIME_LIMIT = 30.0
"""Seconds that a proof may take unless the caller says otherwise."""
_OUT_OF_TIME = "time ran out"


@dataclass(frozen=True, slots=True)
class Suspect:
    """An item of a conflict: a JSON Pointer into the puzzle file, and what the item says, in words."""

    item: str
    why: str


@dataclass(frozen=True, slots=True)
class Proof:
    """What is known of the solutions of a puzzle.

    `one`: `solution` is the only one. `several`: `differ` holds the cells that are not forced, all of them when
    `complete`. `none`: `conflict` holds items that cannot all be right, of which none could be left out when
    `complete`. `unknown`: time ran out, or the checker caught itself in a fault; `note` says which."""

    outcome: Outcome
    seconds: float
    solution: Solution | None = None
    differ: tuple[Cell, ...] = ()
    conflict: tuple[Suspect, ...] = ()
    complete: bool = True
    note: str = ""


def prove(puzzle: Puzzle, time_limit: float | Clock = TIME_LIMIT) -> Proof:
    """Prove how many solutions a valid puzzle has, within `time_limit` seconds, so much work, or until a clock is
    stopped. Never raises for a valid puzzle: what cannot be trusted is `unknown`."""
    clock = _clock(time_limit)
    try:
        return _proved(Items.of(puzzle), clock)
    except CheckerFault as fault:
        return Proof("unknown", clock.spent, note=f"the checker does not trust its own result: {fault}")


def is_unique(puzzle: Puzzle, time_limit: float | Effort = TIME_LIMIT) -> bool | None:
    """Whether a valid puzzle has exactly one solution; None when that could not be settled in time."""
    count = solution_count(puzzle, time_limit)
    return None if count is None else count == 1


def solution_count(puzzle: Puzzle, time_limit: float | Effort = TIME_LIMIT) -> int | None:
    """How many solutions a valid puzzle has, 2 standing for more than one; None when that could not be settled in time.
    Cheaper than `prove`, because it does not ask where solutions differ or what is in conflict."""
    try:
        solutions, settled = find_two(Items.of(puzzle), _clock(time_limit))
    except CheckerFault:
        return None
    return len(solutions) if settled else None


def some_solutions(puzzle: Puzzle, limit: int, time_limit: float | Effort = TIME_LIMIT) -> tuple[list[Solution], bool]:
    """Up to `limit` different solutions of a valid puzzle, and whether it is settled that there are no others; none at
    all where the checker does not trust its own result."""
    try:
        solutions, settled = find_some(Items.of(puzzle), limit, _clock(time_limit))
    except CheckerFault:
        return [], False
    return solutions, settled and len(solutions) < limit


def conflicting(puzzle: Puzzle, among: Collection[str], time_limit: float | Effort = TIME_LIMIT) -> tuple[str, ...]:
    """Those of the items `among` (JSON Pointers) of a valid puzzle without a solution that cannot all be right while
    the others stay as they are; empty when the others alone have no solution, or where the checker does not trust its
    own result."""
    try:
        return conflict_among(Items.of(puzzle), among, _clock(time_limit))
    except CheckerFault:
        return ()


def solve_many(puzzle: Puzzle, limit: int, time_limit: float = TIME_LIMIT) -> tuple[list[Solution], bool]:
    """Up to `limit` different solutions of a valid puzzle, each checked by the rules themselves, and whether the solver
    says that there are no others. Raises CheckerFault."""
    return find_all(Items.of(puzzle), limit, Clock(time_limit))


def _clock(limit: float | Clock) -> Clock:
    return limit if isinstance(limit, Clock) else Clock(limit)


def _proved(items: Items, clock: Clock) -> Proof:
    solutions, settled = find_two(items, clock)
    if not settled:
        return Proof("unknown", clock.spent, note=_OUT_OF_TIME)
    if not solutions:
        conflict = smallest_conflict(items, clock)
        suspects = tuple(Suspect(pointer, describe(items, pointer)) for pointer in conflict.pointers)
        return Proof("none", clock.spent, conflict=suspects, complete=conflict.minimal)
    if len(solutions) == 1:
        return Proof("one", clock.spent, solution=solutions[0])
    found = unforced(items, solutions, clock)
    return Proof("several", clock.spent, differ=found.cells, complete=found.complete)
