"""A reading in the making: what each item on the page is taken for, how sure, what else it could be."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

from ingest.page import Point
from recognise.evidence import Slip, Words
from recognise.rules import Statement
from schema.cells import Cell
from schema.grid import Grid
from schema.kinds.base import Constraint
from schema.marks import Seen

HowRead = Literal["vector", "ocr", "shape", "text", "house-style", "inferred"]
Polygon = tuple[Point, ...]
"""Corners in cells of the grid (recognise/evidence.py)."""


@dataclass(frozen=True, slots=True)
class Given:
    """A digit printed in a cell."""

    cell: Cell
    digit: int


Value = Given | tuple[Constraint, ...]
"""What one mark on the page states: a given, or the constraints that it stands for (a branched tube states several)."""


def only_constraint(value: Value) -> Constraint | None:
    """The only constraint that a mark states; None where it states a given, several or nothing."""
    return None if isinstance(value, Given) or len(value) != 1 else value[0]


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another thing that a mark may be; an empty tuple stands for nothing at all."""

    value: Value
    confidence: float


@dataclass(frozen=True, slots=True)
class Item:
    """One mark on the page and what it is taken for. `where` is None for a rule that has no mark of its own (rows,
    columns, a rule that the text alone states)."""

    value: Value
    where: Polygon | None
    confidence: float
    how: HowRead
    alternatives: tuple[Alternative, ...] = ()
    claims: tuple[Polygon, ...] | None = None
    """Polygons that cover all ink of the mark, where `where` does not say it exactly enough; none for a mark that is
    ground and no ink."""
    extent: float | None = None
    """How likely it is on just these cells, whatever it means; None where that was not told apart from `confidence`."""
    slips: tuple[Slip, ...] = ()
    """Where it may go otherwise than read."""
    escape: float | None = None
    """How much of the doubt about its cells the proof of this puzzle lets through; None while that is not known."""
    kind_escape: float | None = None
    """The same for the doubt about which kind of line it is, or about the number of a mark."""
    nothing: float = 0.0
    """How likely what is read as its number is no character at all."""

    @property
    def claimed(self) -> tuple[Polygon, ...]:
        """Where ink is explained by this item."""
        if self.claims is not None:
            return self.claims
        return () if self.where is None else (self.where,)


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something that a person must look at: the item (by its place in `Draft.items`) or a place on the page. `meaning`
    says that it is not in doubt what stands there, only what it means: who knows the puzzle knows the answer; `stray`
    that there is ink which belongs to nothing. `also` are other items of which the same is asked."""

    why: str
    item: int | None = None
    where: Polygon | None = None
    meaning: bool = False
    stray: bool = False
    also: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """What all marks of one look may mean: `name` in the trade's words, and the constraints of each item."""

    name: str
    values: tuple[tuple[Constraint, ...], ...]


@dataclass(frozen=True, slots=True)
class Undecided:
    """Marks that look alike and of which nothing says what they mean: `items` are their places in `Draft.items`, where
    they stand as unread marks; `looks` says what they look like; `readings` are all that the trade uses them for."""

    looks: str
    items: tuple[int, ...]
    readings: tuple[Reading, ...]
    asked: str = ""
    """What a person is asked, where it is not what the marks mean but how they run."""
    all_said: bool = False
    """Whether every sentence is understood: only a puzzle that is open without them needs such marks then."""

    @property
    def question(self) -> str:
        """What a person is asked about them."""
        if self.asked:
            return self.asked
        names = ", ".join(reading.name for reading in self.readings)
        return f"no rule on the page says what this means: {self.looks}; it may be {names}"


@dataclass(frozen=True, slots=True)
class Draft:
    """A puzzle as read so far."""

    grid: Grid
    items: tuple[Item, ...]
    words: Words
    doubts: tuple[Doubt, ...] = field(default=())
    undecided: tuple[Undecided, ...] = field(default=())
    settled: tuple[tuple[Seen, Statement], ...] = field(default=())
    """Each mark whose meaning a sentence of the rules gives, with what that sentence states."""
    lost: tuple[str, ...] = ()
    """The sentences of the rules that are not understood."""

    def doubting(self, *doubts: Doubt) -> Draft:
        """The same draft with more doubts."""
        return replace(self, doubts=self.doubts + doubts)

    @property
    def all_told(self) -> bool:
        """Whether rules are printed, and all that is printed near the grid was read and understood: the page has no
        kind of mark but those that it was read with."""
        return bool(self.words.rules_text) and not self.words.unread and not self.lost

    @property
    def givens(self) -> dict[Cell, int]:
        """The givens as read."""
        return {i.value.cell: i.value.digit for i in self.items if isinstance(i.value, Given)}

    @property
    def constraints(self) -> tuple[Constraint, ...]:
        """The constraints as read, in the order of the items."""
        return tuple(c for i in self.items if not isinstance(i.value, Given) for c in i.value)


def box_polygon(box: tuple[float, float, float, float]) -> Polygon:
    """The four corners of a box, clockwise from its top left."""
    x0, y0, x1, y1 = box
    return (x0, y0), (x1, y0), (x1, y1), (x0, y1)
