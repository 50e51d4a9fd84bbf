"""What a person can do to a puzzle and its reading: each change gives a new state, the old one stays for undo."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import cv2
import numpy as np
from pydantic import TypeAdapter, ValidationError

from schema.cells import Cell
from schema.kinds.base import Constraint
from schema.pointers import constraint_pointer, given_pointer
from schema.puzzle import AnyConstraint, Puzzle
from schema.reading import Item, Point, Polygon, Query, Reading

_CONSTRAINT: TypeAdapter[Constraint] = TypeAdapter(AnyConstraint)


class Refused(ValueError):
    """A change that would leave no sound puzzle; says why."""


@dataclass(frozen=True, slots=True)
class State:
    """A puzzle and its reading at one moment. `answered` are the items that the person has looked at or changed."""

    puzzle: Puzzle
    reading: Reading
    answered: frozenset[str] = frozenset()


def accept(state: State, query: int) -> State:
    """What a query asks about is right as it stands."""
    if not 0 <= query < len(state.reading.queries):
        raise Refused("there is no such query")
    asked = state.reading.queries[query]
    if asked.item is not None:
        return _answer(state, asked.item)
    queries = tuple(q for number, q in enumerate(state.reading.queries) if number != query)
    return _with(state, queries=queries)


def put_given(state: State, cell: Cell, digit: int | None) -> State:
    """Change or add the given of a cell; None takes it away."""
    pointer, givens = given_pointer(cell), dict(state.puzzle.givens)
    if digit is None:
        if givens.pop(cell, None) is None:
            raise Refused(f"there is no given in {cell}")
        state = _dropped(state, pointer)
    else:
        givens[cell] = digit
        if not any(item.item == pointer for item in state.reading.items):
            added = Item(item=pointer, where=cell_polygon(state, cell), confidence=1.0, how="inferred")
            state = _with(state, items=(*state.reading.items, added))
        state = _answer(state, pointer, how="inferred")
    return _sound(replace(state, puzzle=_puzzle(state.puzzle, givens=givens)))


def change(state: State, pointer: str, documents: Sequence[dict[str, Any]]) -> State:
    """Put other constraints in the place of one, as they stand in a puzzle file; none takes it away."""
    return _put(state, _index(state, pointer), tuple(map(_constraint, documents)))


def choose(state: State, pointer: str, alternative: int) -> State:
    """Take another reading of an item."""
    item = next((item for item in state.reading.items if item.item == pointer), None)
    if item is None or not 0 <= alternative < len(item.alternatives):
        raise Refused("there is no such alternative")
    value = item.alternatives[alternative].value
    if isinstance(value, int):
        return put_given(state, _cell(pointer), value)
    if pointer.startswith("/givens/"):
        state = put_given(state, _cell(pointer), None)
        puzzle = _puzzle(state.puzzle, constraints=(*state.puzzle.constraints, *value))
        return _sound(replace(state, puzzle=puzzle))
    return _put(state, _index(state, pointer), value)


def delete(state: State, pointer: str) -> State:
    """Take an item away."""
    if pointer.startswith("/givens/"):
        return put_given(state, _cell(pointer), None)
    return _put(state, _index(state, pointer), ())


def cell_polygon(state: State, cell: Cell) -> Polygon:
    """About where a cell stands on the page, by the corners of its grid."""
    grid = state.puzzle.grid
    outline = np.array([(0, 0), (grid.columns, 0), (grid.columns, grid.rows), (0, grid.rows)], np.float32)
    to_page = cv2.getPerspectiveTransform(outline, np.array(state.reading.corners, np.float32))
    x, y = cell.column - 1, cell.row - 1
    square = np.array([[(x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)]], np.float32)
    corners = cv2.perspectiveTransform(square, to_page)[0]
    points: tuple[Point, ...] = tuple((float(px), float(py)) for px, py in corners)
    return points


def _put(state: State, index: int, constraints: tuple[Constraint, ...]) -> State:
    before = state.puzzle.constraints
    puzzle = _puzzle(state.puzzle, constraints=(*before[:index], *constraints, *before[index + 1 :]))
    pointer, shift = constraint_pointer(index), len(constraints) - 1
    items: list[Item] = []
    for item in state.reading.items:
        if item.item == pointer:
            names = [constraint_pointer(index + number) for number in range(len(constraints))]
            items += [_certain(item, name, "inferred") for name in names]
        else:
            items.append(item.model_copy(update={"item": _shifted(item.item, index, shift)}))
    queries = [
        query if query.item is None else query.model_copy(update={"item": _shifted(query.item, index, shift)})
        for query in state.reading.queries
        if query.item is None or not _is_of(query.item, pointer)
    ]
    answered = {_shifted(name, index, shift) for name in state.answered - {pointer}}
    answered |= {constraint_pointer(index + number) for number in range(len(constraints))}
    state = _with(State(puzzle, state.reading, frozenset(answered)), items=tuple(items), queries=tuple(queries))
    return _sound(state)


def _shifted(pointer: str, index: int, shift: int) -> str:
    """A pointer after the constraint at `index` was replaced by `shift` more."""
    parts = pointer.split("/")
    if len(parts) > 2 and parts[1] == "constraints" and int(parts[2]) > index:
        parts[2] = str(int(parts[2]) + shift)
    return "/".join(parts)


def _is_of(pointer: str, item: str) -> bool:
    return pointer == item or pointer.startswith(item + "/")


def _answer(state: State, pointer: str, how: str | None = None) -> State:
    """The person has looked at an item: it is certain, and no query any more."""
    items = tuple(
        _certain(item, item.item, how or item.how) if _is_of(pointer, item.item) else item
        for item in state.reading.items
    )
    queries = tuple(query for query in state.reading.queries if query.item is None or not _is_of(query.item, pointer))
    return _with(replace(state, answered=state.answered | {pointer}), items=items, queries=queries)


def _dropped(state: State, pointer: str) -> State:
    items = tuple(item for item in state.reading.items if item.item != pointer)
    queries = tuple(query for query in state.reading.queries if query.item is None or not _is_of(query.item, pointer))
    return _with(replace(state, answered=state.answered - {pointer}), items=items, queries=queries)


def _certain(item: Item, pointer: str, how: str) -> Item:
    return item.model_copy(update={"item": pointer, "confidence": 1.0, "how": how})


def _with(state: State, *, items: tuple[Item, ...] | None = None, queries: tuple[Query, ...] | None = None) -> State:
    changes: dict[str, Any] = {} if items is None else {"items": items}
    changes |= {} if queries is None else {"queries": queries}
    return replace(state, reading=state.reading.model_copy(update=changes))


def _puzzle(puzzle: Puzzle, **changes: Any) -> Puzzle:
    # Made anew, not copied: what it has worked out from its parts must not stay.
    parts = {name: getattr(puzzle, name) for name in Puzzle.model_fields}
    return Puzzle(**{**parts, **changes})


def _sound(state: State) -> State:
    problems = state.puzzle.problems()
    if problems:
        raise Refused(str(problems[0]))
    return state


def _index(state: State, pointer: str) -> int:
    head, _, number = pointer.rpartition("/")
    if head != "/constraints" or not number.isdigit() or int(number) >= len(state.puzzle.constraints):
        raise Refused(f"there is no item {pointer}")
    return int(number)


def cell_named(name: str) -> Cell:
    """A cell by its name. Raises Refused."""
    try:
        return Cell.parse(name)
    except ValueError as fault:
        raise Refused(str(fault)) from None


def _cell(pointer: str) -> Cell:
    return cell_named(pointer.rpartition("/")[2])


def _constraint(document: dict[str, Any]) -> Constraint:
    try:
        return _CONSTRAINT.validate_json(json.dumps(document))
    except ValidationError as fault:
        first = fault.errors()[0]
        place = "/".join(str(part) for part in first["loc"][1:])
        raise Refused(f"{place}: {first['msg']}" if place else first["msg"]) from None
