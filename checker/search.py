"""Runs of the solver, none of them believed blindly: every solution is checked again by the rules themselves, and
"there is none" is believed only when a second run, configured differently, says so too."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass, field
from typing import Literal

from ortools.sat.python import cp_model

from checker.board import CpBoard
from checker.items import Items
from schema.cells import Cell

Solution = dict[Cell, int]
NoSolution = Literal["none", "unknown"]

_SEED = 20251
_OTHER_SEED = 77
_QUICK_WORK = 0.2
"""Work, in the solver's units of about a second, after which a run without presolve gives up."""
_REPEATS = 200
"""A solution can come again with other helper variables; after so many times the collector gives up."""


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

    def part(self, most: float) -> Clock:
        """A clock that starts now, for at most so many seconds of what is left."""
        return Clock(min(self.left, most))


def find(items: Items, board: CpBoard, clock: Clock) -> Solution | NoSolution:
    """One solution of a board that holds `items` (and whatever was excluded since), checked by the rules themselves;
    `none` when two runs agree that there is none; `unknown` when time runs out. Raises CheckerFault."""
    found = _run(items, board, _quick(clock.left))
    if found == "unknown":
        found = _run(items, board, _thorough(clock.left))
    if found != "none":
        return found
    second = _run(items, board, _other(clock.left))
    if isinstance(second, dict):
        raise CheckerFault("one run of the solver found no solution, another found one")
    return second


def find_quickly(items: Items, board: CpBoard, clock: Clock, work: float = math.inf) -> Solution | NoSolution:
    """The same by a single run: `none` is a hint only, for searches that confirm what they end with. `work` limits the
    run too, in the solver's units of about a second: unlike time, it ends the run at the same point each time."""
    return _run(items, board, _thorough(clock.left, work))


def find_two(items: Items, clock: Clock) -> tuple[list[Solution], bool]:
    """Up to two different solutions, checked by the rules themselves, and whether it is settled that there are no
    others (two runs agree) or that there are two. Raises CheckerFault."""
    board = items.board()
    collector = _Collector(board, limit=2)
    solver = _quick(clock.left)
    solver.parameters.enumerate_all_solutions = True
    ended = solver.solve(board.model, collector) in (cp_model.OPTIMAL, cp_model.INFEASIBLE) and not collector.stopped
    solutions = [_checked(items, solution) for solution in collector.found.values()]
    while len(solutions) < 2:
        if solutions:
            board.exclude({cell: digit for cell, digit in solutions[-1].items() if cell not in items.givens})
        found = _run(items, board, _other(clock.left)) if ended else find(items, board, clock)
        if not isinstance(found, dict):
            return solutions, found == "none"
        if ended:
            raise CheckerFault("one run of the solver found no more solutions, another found one")
        solutions.append(found)
    return solutions, True


def _quick(seconds: float) -> cp_model.CpSolver:
    """Without presolve, which takes longer than the search of most puzzles, and gives up soon."""
    solver = _solver(seconds, _QUICK_WORK)
    solver.parameters.cp_model_presolve = False
    solver.parameters.symmetry_level = 0
    return solver


def _thorough(seconds: float, work: float = math.inf) -> cp_model.CpSolver:
    """With all of presolve."""
    return _solver(seconds, work)


def _other(seconds: float) -> cp_model.CpSolver:
    """With little presolve and another order of search: it confirms what the others found out."""
    solver = _solver(seconds, math.inf)
    solver.parameters.random_seed = _OTHER_SEED
    solver.parameters.max_presolve_iterations = 1
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.symmetry_level = 0
    return solver


def _solver(seconds: float, work: float) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = _SEED
    solver.parameters.linearization_level = 0  # linear relaxations cost more than they prune on these models
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.max_deterministic_time = work
    return solver


def _run(items: Items, board: CpBoard, solver: cp_model.CpSolver) -> Solution | NoSolution:
    if solver.parameters.max_time_in_seconds <= 0:
        return "unknown"
    status = solver.solve(board.model)
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        solution = {cell: int(solver.value(variable)) for cell, variable in board.cells.items()}
        return _checked(items, solution)
    if status == cp_model.INFEASIBLE:
        return "none"
    if status == cp_model.MODEL_INVALID:
        raise CheckerFault(f"the solver rejects the model: {board.model.validate()}")
    return "unknown"


def _checked(items: Items, solution: Solution) -> Solution:
    faults = items.faults(solution)
    if faults:
        raise CheckerFault(f"the solver's solution breaks {faults[0].item}: {faults[0].why}")
    return solution


# OR-Tools has no types, hence the ignored error below.
class _Collector(cp_model.CpSolverSolutionCallback):  # type: ignore[misc]
    """Keeps different solutions, and stops the search once it has enough."""

    def __init__(self, board: CpBoard, limit: int, repeats: float = _REPEATS) -> None:
        super().__init__()
        self._cells = board.cells
        self._limit = limit
        self._most_repeats = repeats
        self.found: dict[tuple[int, ...], Solution] = {}
        self.repeats = 0
        self.stopped = False

    def on_solution_callback(self) -> None:
        """Called by the solver; the same digits can come again with other helper variables."""
        solution = {cell: int(self.value(variable)) for cell, variable in self._cells.items()}
        key = tuple(solution.values())
        self.repeats += key in self.found
        self.found[key] = solution
        if len(self.found) >= self._limit or self.repeats >= self._most_repeats:
            self.stopped = True
            self.stop_search()


def find_all(items: Items, limit: int, clock: Clock) -> tuple[list[Solution], bool]:
    """Up to `limit` different solutions, each checked by the rules themselves, and whether the solver says that there
    are no more. Raises CheckerFault."""
    board = items.board()
    collector = _Collector(board, limit, repeats=math.inf)
    solver = _thorough(clock.left)
    solver.parameters.enumerate_all_solutions = True
    ended = solver.solve(board.model, collector) in (cp_model.OPTIMAL, cp_model.INFEASIBLE) and not collector.stopped
    return [_checked(items, solution) for solution in collector.found.values()], ended
