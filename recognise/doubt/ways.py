"""What the proof lets through on this very page: where a mark might go another way, that way is proved too.

A printed puzzle has one solution. A line that may be a cell shorter, or go on into one more, or a set of cells of
which one may not belong to it, can only have been printed so where the puzzle has one solution with that as well: else
the way as read is the only one left. So it is with a given that may be another digit, or none: a blurred 6 is no 5
where with a 5 the puzzle has no single solution. `recognise.doubt.policy` has the average over many puzzles; here it
is known."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType

from checker.prove import is_unique
from checker.search import Effort
from recognise.doubt.by_chance import Solution, chance_of_one_more
from recognise.doubt.directions import escape_of_direction
from recognise.doubt.instead import ONE, Instead, with_values
from recognise.doubt.kinds import escape_of_kind
from recognise.doubt.policy import CLUE, EXTENT, GIVEN, RISK, passing, risk
from recognise.doubt.puzzle import as_puzzle
from recognise.doubt.values import REFUTED, escape_of_number, other_numbers
from recognise.draft import Draft, Given, Item, Value, only_constraint
from recognise.evidence import Slip
from schema.cells import Cell
from schema.kinds.arrow import Arrow
from schema.kinds.base import Constraint
from schema.kinds.gap_line import GapLine

SECONDS = 4.0
"""Of work, for all ways of a page."""
LEAST = 1e-6
"""A way less likely than this is not worth a proof."""
SLIGHT = RISK / 100
"""A number whose doubt adds no more than this to the risk is not worth one of each other number."""

UNNAMED = 0.15
"""The part of a given's doubt that stands for what the reader did not think of: of 13 givens misread on 300 worn pages
(1000 to 1299 of `fixtures.training.glyph_reliability`, 4,777 givens) 2 were something that it does not name."""
LIKELIER = 0.5
"""A given that is likelier than all else it may be."""

Stated = tuple[Constraint, ...]
NOT_TOLD: Solution = MappingProxyType({})


def weighed(draft: Draft, solution: Solution = NOT_TOLD) -> Draft:
    """The draft, which has one `solution`, with how much of each item's doubt the proof lets through: looked at from
    the most doubtful item down, until the rest is under the risk of a clean reading."""
    effort = Effort(SECONDS)
    items = list(draft.items)
    if risk(items) >= RISK:
        items = [_with_escape_of_direction(draft, index, effort) for index in range(len(items))]
    for index in sorted(range(len(items)), key=lambda i: -passing(items[i])):
        if risk(items) < RISK or not effort.left:
            break
        proves = Instead(draft, index, effort)
        if items[index].slips:
            # A number at its start says which kind a line is: then only the number is in doubt.
            told = escape_of_number(items[index], proves, other_numbers(items[index], draft), effort)
            of_kind = escape_of_kind(draft, index, proves) if told is None else told
            items[index] = replace(
                items[index], escape=_escape(draft, index, proves, effort, solution), kind_escape=of_kind
            )
        elif isinstance(items[index].value, Given):
            items[index] = replace(items[index], escape=_escape_of_given(draft, index, proves))
        else:
            items[index] = _with_escape_of_number(draft, items[index], proves, effort)
    return replace(draft, items=tuple(items))


def _with_escape_of_direction(draft: Draft, index: int, effort: Effort) -> Item:
    escape = escape_of_direction(draft, index, Instead(draft, index, effort))
    return draft.items[index] if escape is None else replace(draft.items[index], escape=escape)


def _with_escape_of_number(draft: Draft, item: Item, proves: Callable[[Value], float], effort: Effort) -> Item:
    if item.extent is not None and (item.extent - item.confidence) * CLUE < SLIGHT:
        return item
    escape = escape_of_number(item, proves, other_numbers(item, draft), effort)
    return replace(item, escape=escape) if item.extent is None else replace(item, kind_escape=escape)


def _escape(draft: Draft, index: int, way: Instead, effort: Effort, solution: Solution) -> float:
    """The part of the doubt about where an item goes that a proof lets through."""
    item = draft.items[index]
    every = sum(slip.chance for slip in item.slips)
    through = 0.0
    for slip in item.slips:
        passed = _lets_through(draft, index, slip, way, effort) if slip.chance > LEAST else 1.0
        if passed and slip.drawn:
            passed *= chance_of_one_more(draft, index, other_way(item.value, slip), solution)
        through += slip.chance * passed
    return through / every if every else EXTENT


def _escape_of_given(draft: Draft, index: int, digit: Instead) -> float:
    """The part of the doubt about a given that a proof lets through: what its other readings, that leave one solution
    as well, have of it. A stain reads as any digit: seldom as the one that the solution has in its cell. Where nobody
    thought of another reading it is any other digit, or a stain."""
    item = draft.items[index]
    every = sum(other.confidence for other in item.alternatives)
    if not every and item.confidence < LIKELIER:
        return GIVEN
    if not every:
        stain = digit((), EXTENT) / len(draft.grid.digits)
        return min(GIVEN, max(REFUTED, (1 - UNNAMED) * _unnamed(draft, index, digit) + UNNAMED * stain))
    through = 0.0
    for other in item.alternatives:
        share = 1.0 if isinstance(other.value, Given) else 1 / len(draft.grid.digits)
        proved = digit(other.value, EXTENT) if other.confidence > LEAST else 1.0
        through += share * other.confidence * proved
    unnamed = min(GIVEN, _unnamed(draft, index, digit)) if item.confidence >= LIKELIER else GIVEN
    return (1 - UNNAMED) * through / every + UNNAMED * unnamed


def _unnamed(draft: Draft, index: int, proves: Instead) -> float:
    """The share of the digits that the reader does not think of with which the puzzle has one solution too."""
    item = draft.items[index]
    if not isinstance(item.value, Given):
        return GIVEN
    named = {item.value.digit, *(other.value.digit for other in item.alternatives if isinstance(other.value, Given))}
    others = [digit for digit in draft.grid.digits if digit not in named]
    passed = sum(proves(Given(item.value.cell, digit), EXTENT) for digit in others)
    return passed / len(others) if others else 0.0


def _lets_through(draft: Draft, index: int, slip: Slip, way: Instead, effort: Effort) -> float:
    """1 where the puzzle has one solution with this slip put right, 0 where it has not; between where that cannot be
    told."""
    into = second_ways_in(draft.items[index].value, slip)
    if into is not None:
        return max((way(other, EXTENT) for other in into), default=0.0)
    joins = slip.first == slip.second and not slip.drawn
    items = _joined(draft, index, slip.first) if joins else {index: other_way(draft.items[index].value, slip)}
    known = {place: value for place, value in items.items() if value is not None}
    if not known or len(known) < len(items):
        return EXTENT
    # An arrow that is none leaves its line, and nobody knows what that states.
    proved = proves(draft, known, effort) if joins else way(known[index], EXTENT)
    return min(proved, EXTENT if known.get(index) == () and not joins else 1.0)


def proves(draft: Draft, instead: Mapping[int, Value], effort: Effort, impossible: float = EXTENT) -> float:
    """1 where the puzzle has one solution when these items state something else, 0 where it has not; `impossible` where
    they do not go together. For one item that may state much else there is `Instead`."""
    puzzle = as_puzzle(with_values(draft, instead))
    if puzzle.problems():
        return impossible
    return 0.0 if is_unique(puzzle, effort.part(ONE)) is False else 1.0


def _joined(draft: Draft, index: int, cell: Cell) -> dict[int, Value | None]:
    """What two items state when the line of one goes on in that of the other, which ends in the same cell; nothing
    where they are not both a single path."""
    line = _only_path(draft.items[index].value)
    partners = [
        (place, path)
        for place, item in enumerate(draft.items)
        if place != index and (path := _only_path(item.value)) and cell in (path[0], path[-1])
    ]
    value = draft.items[index].value
    if not line or len(partners) != 1 or isinstance(value, Given):
        return {}
    place, path = partners[0]
    rest = path if path[0] == cell else path[::-1]
    whole = (*line, *rest[1:]) if line[-1] == cell else (*rest[::-1], *line[1:])
    return {index: (value[0].model_copy(update={"path": whole}),), place: ()}


def _only_path(value: Value) -> tuple[Cell, ...]:
    """The path of the only constraint that a mark states; empty where it states something else."""
    return tuple(getattr(only_constraint(value), "path", ()))


def other_way(value: Value, slip: Slip) -> Value | None:
    """What a mark states where a slip is put right: nothing for an arrow without its circle. None where nothing that is
    known is left."""
    if isinstance(value, Given):
        return None
    changed: list[Constraint] = []
    touched = False
    for constraint in value:
        parts = list(_put_right(constraint, slip))
        touched |= parts != [constraint]
        changed += parts
    none = touched and not changed and all(isinstance(constraint, Arrow) for constraint in value)
    return tuple(dict.fromkeys(changed)) if touched and (changed or none) else None


def _put_right(constraint: Constraint, slip: Slip) -> Iterator[Constraint]:
    one, other = slip.first, slip.second
    if one == other and not slip.drawn:
        yield constraint
        return
    if one == other:
        left = tuple(cell for cell in getattr(constraint, "cells", ()) if cell != one)
        if left:
            yield constraint.model_copy(update={"cells": left})
        return
    if isinstance(constraint, Arrow) and (ends := _from_circle(constraint, slip)):
        beyond = ends[1]
        if not slip.drawn:
            yield constraint
            yield constraint.model_copy(update={"shaft": (beyond,)})
        return
    name = "shaft" if hasattr(constraint, "shaft") else "path"
    path: tuple[Cell, ...] | None = getattr(constraint, name, None)
    if path is None:
        yield constraint
    elif slip.drawn:
        yield from (constraint.model_copy(update={name: part}) for part in _cut(path, one, other, name == "shaft"))
    elif isinstance(constraint, GapLine) and {one, other} == {path[0], path[-1]}:
        yield constraint.model_copy(update={name: (*path, path[0])})
    else:
        yield constraint.model_copy(update={name: _longer(path, one, other)})


def _from_circle(arrow: Arrow, slip: Slip) -> tuple[Cell, Cell] | None:
    """The cell of an arrow's circle and the other one of a slip that begins there: without its first step there is no
    arrow, and one step more out of a circle is that of a second arrow."""
    for inside, beyond in ((slip.first, slip.second), (slip.second, slip.first)):
        if inside in arrow.circle and beyond not in arrow.circle:
            known = beyond == arrow.shaft[0] if slip.drawn else beyond not in arrow.shaft
            return (inside, beyond) if known else None
    return None


def second_ways_in(value: Value, slip: Slip) -> list[Value] | None:
    """What an arrow may state where a step more joins its circle and a cell of its shaft: the shorter way between them,
    by itself or as a second arrow; nothing new where it only goes into another cell of the circle. None for any other
    slip."""
    arrow = only_constraint(value)
    if not isinstance(arrow, Arrow) or slip.drawn:
        return None
    for inside, beyond in ((slip.first, slip.second), (slip.second, slip.first)):
        if inside in arrow.circle and beyond in arrow.shaft:
            short = arrow.model_copy(update={"shaft": arrow.shaft[arrow.shaft.index(beyond) :]})
            return [] if short == arrow else [(short,), (arrow, short)]
    return None


def _cut(path: tuple[Cell, ...], one: Cell, other: Cell, is_shaft: bool) -> Iterator[tuple[Cell, ...]]:
    """The parts of a path that is not joined between two cells, of a shaft the one at the circle; a single cell is no
    line."""
    for place in range(len(path) - 1):
        if {path[place], path[place + 1]} == {one, other}:
            first, second = path[: place + 1], path[place + 1 :]
            yield from (first,) if is_shaft else (part for part in (first, second) if len(part) > 1)
            return
    yield path


def _longer(path: tuple[Cell, ...], one: Cell, other: Cell) -> tuple[Cell, ...]:
    """A path that goes on at the end that is one of two cells, the last before the first, into the other. No line runs
    into itself: where the other is one of its own cells it goes from there to this end, and the rest back."""
    if path[-1] in (one, other):
        beyond = other if path[-1] == one else one
        if beyond not in path:
            return *path, beyond
        at = path.index(beyond)
        return *path[: at + 1], *path[:at:-1]
    if path[0] in (one, other):
        return _longer(path[::-1], one, other)[::-1]
    return path
