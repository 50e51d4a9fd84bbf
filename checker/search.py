"""Runs of the solver, none of them believed blindly: every solution is checked again by the rules themselves, and
"there is none" is believed only when a second run, configured differently, says so too."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass, field, replace
from typing import Literal

from checker.board import CpBoard
from checker.items import Items
from checker.solver import Answer, EachSolution, Run
from schema.cells import Cell

Solution = dict[Cell, int]
NoSolution = Literal["none", "unknown"]

_COMMON = {"linearization_level": 0, "symmetry_level": 0, "use_sat_inprocessing": False}
"""For all runs: linear relaxations, symmetries and inprocessing cost more than they save on these models."""
_LITTLE_PRESOLVE = {"max_presolve_iterations": 1, "cp_model_probing_level": 0, "cp_model_use_sat_presolve": False}
_THOROUGH = Run(_COMMON | _LITTLE_PRESOLVE | {"random_seed": 20251})
"""With so much of presolve as pays on hard puzzles; with none at all, OR-Tools 9.15 ends the process by a failed check
of its own where several tables leave a cell no digit."""
_QUICK = replace(_THOROUGH, work=0.2)
"""Gives up soon."""
_OTHER = Run(_COMMON | {"random_seed": 77})
"""With all of presolve, which writes the model anew, and another order of search: it confirms what the others found."""
_REPEATS = 200
"""A solution can come again with other helper variables; after so many times the collector gives up."""
_RUN, _SECONDS_OF_WORK = 0.006, 2.0
"""Seconds that a run takes with the model that is built for it, and a unit of the solver's work, as measured; nearly
all runs of a page are short."""
_BUSIEST = 20.0
"""So many times longer than on an idle machine takes the same work at most."""


class CheckerFault(Exception):
    """The checker caught itself: two runs disagree, or a solution breaks a rule. Nothing may be concluded."""


@dataclass(slots=True)
class Clock:
    """Time that may be spent, in seconds from when the clock was made."""

    limit: float
    started: float = field(default_factory=time.monotonic)

    @property
    def spent(self) -> float:
        """Seconds since the clock was made."""
        return time.monotonic() - self.started

    @property
    def left(self) -> float:
        """Seconds left, never less than 0."""
        return max(0.0, self.limit - self.spent)

    @property
    def longest(self) -> float:
        """Seconds after which a run of the solver is stopped."""
        return self.left

    @property
    def work(self) -> float:
        """What a run of the solver may do, in its own units."""
        return math.inf

    def restart(self) -> None:
        """Count from now on."""
        self.started = time.monotonic()

    def stop(self) -> None:
        """Nobody waits any more: no further run of the solver begins. May be called from another thread."""
        self.limit = 0.0

    def part(self, most: float) -> Clock:
        """A clock that starts now, for at most so many seconds of what is left."""
        return Clock(min(self.left, most))

    def take(self, work: float) -> None:
        """A run of the solver did so much, in its own units."""


@dataclass(slots=True)
class Effort(Clock):
    """Work that may be done, in about seconds: counted by runs of the solver and their steps, so that it ends at the
    same point each time, however busy the machine is. A part takes from its `whole` too."""

    done: float = 0.0
    whole: Effort | None = None

    @property
    def spent(self) -> float:
        """About so many seconds of work, on an idle machine."""
        return self.done

    @property
    def longest(self) -> float:
        """Seconds after which a run of the solver is stopped: on a machine so busy that it must not wait for it."""
        return _BUSIEST * self.left

    @property
    def work(self) -> float:
        """What a run of the solver may do, in its own units."""
        return self.left / _SECONDS_OF_WORK

    def part(self, most: float) -> Effort:
        """At most so much of what is left."""
        return Effort(min(self.left, most), whole=self)

    def take(self, work: float) -> None:
        """A run of the solver did so much, in its own units."""
        self.done += _RUN + work * _SECONDS_OF_WORK
        if self.whole is not None:
            self.whole.take(work)


def find(items: Items, board: CpBoard, clock: Clock) -> Solution | NoSolution:
    """One solution of a board that holds `items` (and whatever was excluded since), checked by the rules themselves;
    `none` when two runs agree that there is none; `unknown` when time runs out. Raises CheckerFault."""
    found = _run(items, board, _QUICK, clock)
    if found == "unknown":
        found = _run(items, board, _THOROUGH, clock)
    if found != "none":
        return found
    second = _run(items, board, _OTHER, clock)
    if isinstance(second, dict):
        raise CheckerFault("one run of the solver found no solution, another found one")
    return second


def find_quickly(items: Items, board: CpBoard, clock: Clock, work: float = math.inf) -> Solution | NoSolution:
    """The same by a single run: `none` is a hint only, for searches that confirm what they end with. `work` limits the
    run too, in the solver's units of about a second: unlike time, it ends the run at the same point each time."""
    return _run(items, board, replace(_THOROUGH, work=work), clock)


def find_two(items: Items, clock: Clock) -> tuple[list[Solution], bool]:
    """Up to two different solutions, checked by the rules themselves, and whether it is settled that there are no
    others (two runs agree) or that there are two. Raises CheckerFault."""
    return find_some(items, 2, clock)


def find_some(items: Items, limit: int, clock: Clock) -> tuple[list[Solution], bool]:
    """The same of up to `limit` solutions."""
    board = items.board()
    solutions, ended = _collected(items, board, _QUICK, clock, limit, repeats=_REPEATS)
    new = solutions
    while len(solutions) < limit:
        for solution in new:
            board.exclude({cell: digit for cell, digit in solution.items() if cell not in items.givens})
        found = _run(items, board, _OTHER, clock) if ended else find(items, board, clock)
        if not isinstance(found, dict):
            return solutions, found == "none"
        if ended:
            raise CheckerFault("one run of the solver found no more solutions, another found one")
        new = [found]
        solutions = [*solutions, found]
    return solutions, True


def find_all(items: Items, limit: int, clock: Clock) -> tuple[list[Solution], bool]:
    """Up to `limit` different solutions, each checked by the rules themselves, and whether the solver says that there
    are no more. Raises CheckerFault."""
    return _collected(items, items.board(), _THOROUGH, clock, limit, repeats=math.inf)


def _run(items: Items, board: CpBoard, run: Run, clock: Clock) -> Solution | NoSolution:
    answer = _answered(board, run, clock)
    if answer.status == "invalid":
        raise CheckerFault("the solver rejects the model")
    if answer.status == "solved":
        solution = {cell: answer.values[variable.index] for cell, variable in board.cells.items()}
        return _checked(items, solution)
    return answer.status


def _answered(board: CpBoard, run: Run, clock: Clock, callback: EachSolution | None = None) -> Answer:
    answer = run(board.model, clock.longest, callback, clock.work)
    clock.take(answer.work)
    return answer


def _collected(
    items: Items, board: CpBoard, run: Run, clock: Clock, limit: int, repeats: float
) -> tuple[list[Solution], bool]:
    """Up to `limit` different solutions, and whether the solver says that there are no more. The same digits can come
    again with other helper variables; after so many `repeats` the run ends."""
    found: set[tuple[int, ...]] = set()
    again = 0

    def take(digits: tuple[int, ...]) -> bool:
        nonlocal again
        again += digits in found
        found.add(digits)
        return going_on()

    def going_on() -> bool:
        return len(found) < limit and again < repeats

    answer = _answered(board, run, clock, EachSolution(board.cells.values(), take))
    if answer.status == "invalid":
        raise CheckerFault("the solver rejects the model")
    solutions = [_checked(items, dict(zip(board.cells, digits, strict=True))) for digits in found]
    # A run that was not stopped and is not `unknown` has seen all there is, be it nothing.
    return solutions, going_on() and answer.status != "unknown"


def _checked(items: Items, solution: Solution) -> Solution:
    faults = items.faults(solution)
    if faults:
        raise CheckerFault(f"the solver's solution breaks {faults[0].item}: {faults[0].why}")
    return solution
