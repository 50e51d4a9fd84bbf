"""What every constraint kind is made of, and the two things a kind talks to: a `Board` and a `Pen`."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, ClassVar, Protocol, TypeVar

from pydantic import BaseModel, ConfigDict

from schema.cells import Cell
from schema.grid import Grid
from schema.marks import Family, Seen

Digits = Mapping[Cell, int]
"""A filled grid, whole or in part: the digit of each filled cell."""

Point = tuple[float, float]
"""(x, y) in cells from the grid's top left corner, x rightwards, y downwards; r1c1 covers [0, 1] x [0, 1]."""

K = TypeVar("K", bound="Constraint")

Amount = Any
"""A solver's linear expression; +, -, and * by an int work on it, comparing two gives a Relation."""
Flag = Any
"""A solver's 0/1 variable; usable as an Amount."""
Relation = Any
"""What comparing two Amounts gives; handed to `Board.require`."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What a rule may refer to besides its own fields: the grid, and the other constraints of the puzzle."""

    grid: Grid
    constraints: tuple[Constraint, ...] = ()

    def of_kind(self, kind: type[K]) -> tuple[K, ...]:
        """The constraints of one kind, in the order of the file."""
        return tuple(c for c in self.constraints if isinstance(c, kind))

    def holds_each_once(self, cells: Iterable[Cell]) -> bool:
        """Whether some rule alone says that these cells, together, hold every digit once."""
        wanted = frozenset(cells)
        return any(wanted in c.wholes(self.grid) for c in self.constraints)


class Board(Protocol):
    """Where a kind puts what a solver must obey. The checker implements it; kinds never see the solver."""

    grid: Grid
    setting: Setting
    """The puzzle that the rules come from; `setting.grid` is `grid`."""

    def digit(self, cell: Cell) -> Amount:
        """The digit in a cell."""

    def holds(self, cell: Cell, digit: int) -> Flag:
        """1 exactly when the cell holds that digit; a constant 0 for a digit that the grid does not have."""

    def different(self, cells: Sequence[Cell]) -> None:
        """No two of the cells hold the same digit."""

    def table(self, amounts: Sequence[Amount], rows: Iterable[Sequence[int]]) -> None:
        """The amounts, in order, take the values of one of the rows."""

    def forbid(self, amounts: Sequence[Amount], rows: Sequence[Sequence[int]]) -> None:
        """The amounts, in order, take the values of none of the rows."""

    def require(self, relation: Relation, only_if: Sequence[Flag] = ()) -> None:
        """The relation holds (whenever every flag in `only_if` is 1)."""

    def flag(self) -> Flag:
        """A fresh 0/1 variable."""

    def negated(self, flag: Flag) -> Flag:
        """1 exactly when `flag` is 0."""

    def amount(self, low: int, high: int) -> Amount:
        """A fresh integer from low to high."""

    def any_of(self, flags: Sequence[Flag]) -> None:
        """At least one flag is 1."""

    def exactly_one(self, flags: Sequence[Flag]) -> None:
        """Exactly one flag is 1."""

    def maximum(self, target: Amount, amounts: Sequence[Amount]) -> None:
        """`target` is the largest of the amounts."""

    def product(self, target: Amount, amounts: Sequence[Amount]) -> None:
        """`target` is the product of the amounts."""


@dataclass(frozen=True, slots=True)
class Look:
    """How a mark is drawn: lengths in cells, colours as `#rrggbb`. Kinds give the default, the printer varies it."""

    colour: str = "#000000"
    fill: str | None = None
    width: float = 0.05
    size: float = 0.3
    dash: tuple[float, float] | None = None
    shape: str = ""
    """A variant of the shape that the kind offers in `shapes`, such as `outline`; empty for the first."""
    ring: int = 1
    """For a clue outside the grid: the ring of the margin that it stands in, 1 next to the grid."""


@dataclass(frozen=True, slots=True)
class Paint:
    """Stroke and fill of a primitive; None leaves one out. `width` and `dash` in cells."""

    stroke: str | None = "#000000"
    fill: str | None = None
    width: float = 0.02
    dash: tuple[float, float] | None = None
    round: bool = True


class Pen(Protocol):
    """Draws a few primitives in cell coordinates. `layer` orders them and names the ink layer in training
    masks: `tint` < `line` (tubes, lines, arrows) < `grid` < `mark` (cages, dots, signs) < `glyph`."""

    grid: Grid

    def line(self, points: Sequence[Point], paint: Paint, layer: str, closed: bool = False) -> None:
        """A polyline, or a polygon when closed."""

    def circle(self, centre: Point, radius: float, paint: Paint, layer: str) -> None:
        """A circle."""

    def text(self, at: Point, text: str, size: float, layer: str, colour: str = "#000000", weight: str = "") -> None:
        """Text centred at a point; `size` is the font size in cells. `weight` is '' or 'bold'."""


@dataclass(frozen=True, slots=True)
class Sample:
    """A small puzzle's worth of one kind for tests and documentation: a grid, the constraint, grids that obey
    and that break it (rows of digits, 0 for empty); `extra` are other rules that it refers to."""

    grid: Grid
    constraint: Constraint
    obeyed: tuple[tuple[int, ...], ...]
    broken: tuple[tuple[int, ...], ...]
    extra: tuple[Constraint, ...] = field(default=())


class Constraint(BaseModel):
    """One rule of a puzzle, told apart by `kind`. A subclass is one kind, in one module."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    kind: str
    name: ClassVar[str]
    """What the trade calls it, for sentences that people read."""
    once: ClassVar[bool] = False
    """Whether a puzzle states this kind at most once."""
    understood: ClassVar[bool] = True
    """False for what stands in for a rule that nobody knows: no proof takes account of it."""
    look: ClassVar[Look] = Look()
    shapes: ClassVar[tuple[str, ...]] = ()
    marks: ClassVar[tuple[Family, ...]] = ()
    """The marks by which print shows this kind, the commonest first; `rule` for one that has no mark."""
    unmistakable: ClassVar[tuple[Family, ...]] = ()
    """Of `marks`, those that the trade uses for this kind alone, so that they speak for themselves without a rule."""

    def problems(self, setting: Setting) -> Iterable[tuple[str, str]]:
        """(JSON Pointer below this constraint, why) for everything that does not fit the puzzle."""
        return ()

    def identity(self) -> Hashable:
        """Equal for two constraints that say the same, such as two lists of the same set of cells."""
        return tuple(frozenset(value) if name == "cells" else value for name, value in self)

    def wholes(self, grid: Grid) -> Iterable[frozenset[Cell]]:
        """The sets of cells of which this constraint says that they hold every digit once."""
        return ()

    def cells_of(self, grid: Grid) -> tuple[Cell, ...]:
        """The cells that this constraint speaks of."""
        raise NotImplementedError

    def broken(self, setting: Setting, digits: Digits) -> list[str]:
        """Why a filled grid breaks this rule, in words with the arithmetic; empty when it does not.

        A partly filled grid breaks it only when no completion of this rule alone is left: each empty cell may
        hold any digit of the grid. Kinds that read a whole row or column also count on its holding every digit
        once, where another rule of the puzzle says so."""
        raise NotImplementedError

    def post(self, board: Board) -> None:
        """Put the rule to a solver."""
        raise NotImplementedError

    def draw(self, pen: Pen, look: Look) -> None:
        """Draw the mark; kinds with no mark draw nothing."""

    @classmethod
    def from_mark(cls, seen: Seen, fields: Mapping[str, Any]) -> tuple[Constraint, ...]:
        """The constraints that a mark on paper states, `fields` being what the rules text says of this kind. Raises
        ValueError, in words, when the mark cannot be this kind."""
        return (cls(**fields),)

    @classmethod
    def sample(cls) -> Sample:
        """A worked sample of this kind."""
        raise NotImplementedError
