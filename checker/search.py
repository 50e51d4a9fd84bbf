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
_SECOND_SEED = 77


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
    first = _run(items, board, _first_way(clock.left))
    if first != "none":
        return first
    second = _run(items, board, _second_way(clock.left))
    if isinstance(second, dict):
        raise CheckerFault("one run of the solver found no solution, another found one")
    return second


def find_quickly(items: Items, board: CpBoard, clock: Clock, work: float = math.inf) -> Solution | NoSolution:
    """The same by a single run: `none` is a hint only, for searches that confirm what they end with. `work` limits the
    run too, in the solver's units of about a second: unlike time, it ends the run at the same point each time."""
    solver = _first_way(clock.left)
    solver.parameters.max_deterministic_time = work
    return _run(items, board, solver)


def _first_way(seconds: float) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = _SEED
    solver.parameters.linearization_level = 0  # linear relaxations cost more than they prune on these models
    solver.parameters.max_time_in_seconds = seconds
    return solver


def _second_way(seconds: float) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = _SECOND_SEED
    solver.parameters.cp_model_presolve = False  # presolve rewrites the model: the likeliest place for a fault
    solver.parameters.symmetry_level = 0
    solver.parameters.linearization_level = 0
    solver.parameters.max_time_in_seconds = seconds
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

    def __init__(self, board: CpBoard, limit: int) -> None:
        super().__init__()
        self._cells = board.cells
        self._limit = limit
        self.found: dict[tuple[int, ...], Solution] = {}

    def on_solution_callback(self) -> None:
        """Called by the solver; the same digits can come again with other helper variables."""
        solution = {cell: int(self.value(variable)) for cell, variable in self._cells.items()}
        self.found[tuple(solution.values())] = solution
        if len(self.found) >= self._limit:
            self.stop_search()


def find_all(items: Items, limit: int, clock: Clock) -> tuple[list[Solution], bool]:
    """Up to `limit` different solutions, each checked by the rules themselves, and whether the solver says that there
    are no more. Raises CheckerFault."""
    board = items.board()
    collector = _Collector(board, limit)
    solver = _first_way(clock.left)
    solver.parameters.enumerate_all_solutions = True
    status = solver.solve(board.model, collector)
    complete = status in (cp_model.OPTIMAL, cp_model.INFEASIBLE) and len(collector.found) < limit
    return [_checked(items, solution) for solution in collector.found.values()], complete
