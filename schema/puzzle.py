"""The puzzle: what the setter meant. How it stands in a file is the business of `schema.files`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Annotated, Literal, Union

from pydantic import BaseModel, ConfigDict, Field

from schema.cells import Cell
from schema.grid import Grid
from schema.kinds import KINDS
from schema.kinds.base import Constraint, Setting
from schema.pointers import Problem, constraint_pointer, given_pointer

if TYPE_CHECKING:
    AnyConstraint = Constraint
else:
    AnyConstraint = Annotated[Union[KINDS], Field(discriminator="kind")]  # noqa: UP007 - made of the tuple


class Puzzle(BaseModel):
    """A grid, its givens and its constraints. The model has the right shape; whether its parts fit together is told by
    `problems()`, which is empty for every puzzle that comes from a file."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    format: Literal["clueprint/1"] = "clueprint/1"
    title: str | None = None
    setter: str | None = None
    rules_text: str | None = None
    grid: Grid
    givens: dict[Cell, int]
    constraints: tuple[AnyConstraint, ...]

    @cached_property
    def setting(self) -> Setting:
        """What the constraints may ask for."""
        return Setting(self.grid, self.constraints)

    def problems(self) -> list[Problem]:
        """Everything that does not fit together, each with its place."""
        return misfits(self.grid, self.givens, dict(enumerate(self.constraints)))


def misfits(grid: Grid, givens: Mapping[Cell, int], constraints: Mapping[int, Constraint]) -> list[Problem]:
    """What does not fit together in a puzzle of these parts; constraints by their index in the file, so that parts of
    a file can be judged while others cannot be read."""
    found = [Problem(f"/grid{at}", why) for at, why in grid.problems()]
    for cell, digit in givens.items():
        if cell not in grid:
            size = f"{grid.rows} rows and {grid.columns} columns"
            found.append(Problem(given_pointer(cell), f"{cell} is not on the grid of {size}"))
        if digit not in grid.digits:
            found.append(Problem(given_pointer(cell), f"{digit} is not one of the grid's digits"))
    setting = Setting(grid, tuple(constraints.values()))
    for index, constraint in constraints.items():
        found += [Problem(constraint_pointer(index) + at, why) for at, why in constraint.problems(setting)]
    found += _stated_twice(constraints)
    return found


def _stated_twice(constraints: Mapping[int, Constraint]) -> Iterator[Problem]:
    first: dict[object, int] = {}
    for index, constraint in constraints.items():
        kind = type(constraint)
        before = first.setdefault((kind, constraint.identity()), index)
        if before != index:
            yield Problem(constraint_pointer(index), f"says the same as {constraint_pointer(before)}")
            continue
        before = first.setdefault(kind, index)
        if kind.once and before != index:
            yield Problem(constraint_pointer(index), f"a puzzle has {kind.name} once; see {constraint_pointer(before)}")
