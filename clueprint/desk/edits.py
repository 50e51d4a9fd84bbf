"""What a person can do to a puzzle and its reading: each change gives a new state, the old one stays for undo."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from pydantic import ValidationError

from clueprint.desk.places import cell_polygon, mark_polygon
from schema.cells import Cell
from schema.faults import faults_of
from schema.kinds import kind_named
from schema.kinds.base import Constraint
from schema.naming import name_of
from schema.pointers import Problem, constraint_pointer, given_pointer
from schema.puzzle import Puzzle
from schema.reading import Item, Query, Reading

_TOLD = 3
"""So many problems of a change are told at once."""
_POINTER = re.compile(r"/constraints/(\d+)")


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
            added = Item(
                item=pointer, where=cell_polygon(state.puzzle, state.reading, cell), confidence=1.0, how="inferred"
            )
            state = _with(state, items=(*state.reading.items, added))
        state = _answer(state, pointer, how="inferred")
    return _sound(replace(state, puzzle=_puzzle(state.puzzle, givens=givens)))


def add(state: State, documents: Sequence[dict[str, Any]]) -> State:
    """Constraints that were overlooked, as they stand in a puzzle file."""
    return _add(state, tuple(map(_constraint, documents)))


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
        return _add(put_given(state, _cell(pointer), None), value)
    return _put(state, _index(state, pointer), value)


def delete(state: State, pointer: str) -> State:
    """Take an item away."""
    if pointer.startswith("/givens/"):
        return put_given(state, _cell(pointer), None)
    return _put(state, _index(state, pointer), ())


def _add(state: State, constraints: tuple[Constraint, ...]) -> State:
    before = state.puzzle.constraints
    puzzle = _puzzle(state.puzzle, constraints=(*before, *constraints))
    names = [constraint_pointer(len(before) + number) for number in range(len(constraints))]
    state = _sound(replace(state, puzzle=puzzle, answered=state.answered.union(names)))
    return _placed(state, names)


def _put(state: State, index: int, constraints: tuple[Constraint, ...]) -> State:
    before = state.puzzle.constraints
    puzzle = _puzzle(state.puzzle, constraints=(*before[:index], *constraints, *before[index + 1 :]))
    pointer, shift = constraint_pointer(index), len(constraints) - 1
    names = [constraint_pointer(index + number) for number in range(len(constraints))]
    items: list[Item] = []
    for item in state.reading.items:
        if item.item == pointer:
            items += [_certain(item, name, "inferred") for name in names]
        else:
            items.append(item.model_copy(update={"item": _shifted(item.item, index, shift)}))
    queries = [
        query if query.item is None else query.model_copy(update={"item": _shifted(query.item, index, shift)})
        for query in state.reading.queries
        if query.item is None or not _is_of(query.item, pointer)
    ]
    answered = {_shifted(name, index, shift) for name in state.answered - {pointer}}
    changed = State(puzzle, state.reading, frozenset(answered.union(names)))
    changed = _sound(_with(changed, items=tuple(items), queries=tuple(queries)))
    cells = before[index].cells_of(puzzle.grid)
    moved = [name for name, c in zip(names, constraints, strict=True) if c.cells_of(puzzle.grid) != cells]
    return _placed(changed, names, moved)


def _placed(state: State, pointers: Sequence[str], moved: Sequence[str] = ()) -> State:
    """Each mark of these stands somewhere on the page, and a rule without a mark nowhere; what `moved` stands no longer
    where it was read."""
    drawn = [p for p in pointers if state.puzzle.constraints[_index(state, p)].marks != ("rule",)]
    kept = [item for item in state.reading.items if item.item not in pointers]
    items = {item.item: item for item in state.reading.items if item.item in drawn and item.item not in moved}
    for pointer in drawn:
        if pointer not in items:
            where = mark_polygon(state.puzzle, state.reading, pointer)
            items[pointer] = Item(item=pointer, where=where, confidence=1.0, how="inferred")
    return _with(state, items=(*kept, *items.values()))


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
        raise Refused("; ".join(dict.fromkeys(_in_words(state.puzzle, problem) for problem in problems[:_TOLD])))
    return state


def _in_words(puzzle: Puzzle, problem: Problem) -> str:
    """A problem with the item that it is about by its name: a person sees no pointers."""
    _, part, *rest = problem.at.split("/") if problem.at else ("", "")
    why = _POINTER.sub(lambda found: name_of(puzzle.constraints[int(found[1])]), problem.why)
    return f"{name_of(puzzle.constraints[int(rest[0])])}: {why}" if part == "constraints" else why


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
    name = document.get("kind")
    try:
        kind = kind_named(name) if isinstance(name, str) else None
    except KeyError:
        kind = None
    if kind is None:
        raise Refused(f"there is no kind {name!r}")
    try:
        return kind.model_validate_json(json.dumps(document))
    except ValidationError as fault:
        problems = [(problem.at.strip("/").replace("/", " "), problem.why) for problem in faults_of(fault)]
        raise Refused("; ".join(f"{at}: {why}" if at else why for at, why in problems[:_TOLD])) from None
