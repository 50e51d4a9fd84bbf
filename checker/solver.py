"""OR-Tools CP-SAT: a model, and runs of the solver.

`ortools.sat.python.cp_model`, the documented face of CP-SAT, imports pandas, which takes longer than all the rest of
`clueprint check`. This module uses the compiled core below it. Its methods begin with an underscore and may change with
a release, hence the narrow range of versions in pyproject.toml; nothing else in the program touches them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from ortools.sat.python import cp_model_helper
from ortools.util.python import sorted_interval_list

core: Any = cp_model_helper
"""Untyped: the type stubs leave out the methods that we use."""
Domain: Any = sorted_interval_list.Domain
"""Which values a variable may take."""

Variable = Any
Expression = Any
"""A linear expression of variables, or a number."""
Literal01 = Any
"""A 0/1 variable or its negation."""
Status = Literal["solved", "none", "unknown", "invalid"]

_BOOLEAN = core.BoolArgumentConstraint
_LINEAR = core.LinearArgumentConstraint
_STATUS: dict[object, Status] = {
    core.CpSolverStatus.OPTIMAL: "solved",
    core.CpSolverStatus.FEASIBLE: "solved",
    core.CpSolverStatus.INFEASIBLE: "none",
    core.CpSolverStatus.UNKNOWN: "unknown",
    core.CpSolverStatus.MODEL_INVALID: "invalid",
}


class Model(core.CpBaseModel):  # type: ignore[misc]  # untyped, see above
    """A CP-SAT model that grows by its methods."""

    def __init__(self) -> None:
        super().__init__(None)

    @property
    def proto(self) -> Any:
        """The model as CP-SAT's own message, under the name that OR-Tools' own solver asks for."""
        return self.model_proto

    def variable(self, domain: Any) -> Variable:
        """A fresh integer out of a domain."""
        return core.IntVar(self.model_proto).with_domain(domain)

    def hint(self, variable: Variable, value: int) -> None:
        """A value to try first."""
        self.model_proto.solution_hint.vars.append(variable.index)
        self.model_proto.solution_hint.values.append(value)

    def hold(self, relation: Any) -> Any:
        """A linear relation holds."""
        return self._add_bounded_linear_expression(relation)

    def different(self, expressions: Iterable[Expression]) -> Any:
        """No two have the same value."""
        return self._add_all_different(*expressions)

    def table(self, expressions: Sequence[Expression], rows: Sequence[Sequence[int]], forbidden: bool = False) -> Any:
        """The expressions take the values of one of the rows; `forbidden`: of none of them."""
        return self._add_table(expressions, rows, forbidden)

    def any_of(self, literals: Iterable[Literal01]) -> Any:
        """At least one is 1; of no literals, the model has no solution."""
        return self._add_bool_argument_constraint(_BOOLEAN.bool_or, *literals)

    def exactly_one(self, literals: Iterable[Literal01]) -> Any:
        """Exactly one is 1."""
        return self._add_bool_argument_constraint(_BOOLEAN.exactly_one, *literals)

    def maximum(self, target: Expression, expressions: Iterable[Expression]) -> Any:
        """`target` is the largest."""
        return self._add_linear_argument_constraint(_LINEAR.max, target, *expressions)

    def product(self, target: Expression, expressions: Iterable[Expression]) -> Any:
        """`target` is the product."""
        return self._add_linear_argument_constraint(_LINEAR.prod, target, *expressions)


@dataclass(frozen=True, slots=True)
class Run:
    """One way to run the solver: `settings` are CP-SAT parameters, `work` a limit in its units of about a second, which
    unlike a limit of time ends a run at the same point each time."""

    settings: dict[str, Any]
    work: float = math.inf

    def __call__(
        self, model: Model, seconds: float, callback: EachSolution | None = None, work: float = math.inf
    ) -> Answer:
        """Run on a model, for so many seconds and so much work at most; `callback` is called with each solution, and
        then all are looked for."""
        if seconds <= 0:
            return Answer("unknown", ())
        parameters = core.SatParameters()
        parameters.num_workers = 1
        # It would take Ctrl-C for itself, and leave it without Python's handler afterwards.
        parameters.catch_sigint_signal = False
        parameters.max_time_in_seconds = seconds
        parameters.max_deterministic_time = min(self.work, work)
        parameters.enumerate_all_solutions = callback is not None
        for name, value in self.settings.items():
            setattr(parameters, name, value)
        wrapper = core.SolveWrapper()
        wrapper.set_parameters(parameters)
        if callback is not None:
            wrapper.add_solution_callback(callback)
        response = wrapper.solve(model.model_proto)
        if callback is not None:
            wrapper.clear_solution_callback(callback)
        # A copy: the values lie in the response's memory, which goes with it.
        return Answer(_STATUS[response.status], tuple(response.solution), response.deterministic_time)


@dataclass(frozen=True, slots=True)
class Answer:
    """How a run ended, the values of all variables by their index when it is `solved`, and the work done, in the
    solver's units."""

    status: Status
    values: tuple[int, ...]
    work: float = 0.0


class EachSolution(core.SolutionCallback):  # type: ignore[misc]  # untyped, see above
    """Hands the values of some variables to `take`, solution by solution, until that returns False."""

    def __init__(self, variables: Iterable[Variable], take: Callable[[tuple[int, ...]], bool]) -> None:
        super().__init__()
        self._indices = [variable.index for variable in variables]
        self._take = take

    def OnSolutionCallback(self) -> None:  # noqa: N802 - the solver calls it by this name
        """Called by the solver."""
        if not self._take(tuple(self.SolutionIntegerValue(index) for index in self._indices)):
            self.StopSearch()
