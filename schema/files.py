"""Puzzle files: read whole with all their problems at once, written whole or not at all."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, TypeVar

from pydantic import TypeAdapter, ValidationError

from schema.cells import Cell
from schema.faults import faults_of
from schema.grid import Grid
from schema.kinds.base import Constraint
from schema.pointers import Problem
from schema.puzzle import AnyConstraint, Puzzle, misfits
from schema.strict_json import MOST_BYTES, BadJson, decode
from schema.whole import write_whole

T = TypeVar("T")

PUZZLE_SUFFIX = ".puzzle.json"
READING_SUFFIX = ".reading.json"

_ONE_LINE = 100
"""Lists and objects that fit in so many characters stand on one line."""


class BadFile(Exception):
    """A file that cannot be read as what it should be: all its problems, each with its place in the file."""

    exit_status = 2

    def __init__(self, path: Path, problems: list[Problem], what: str = "puzzle file") -> None:
        super().__init__(path, problems, what)
        self.path = path
        self.problems = problems
        self.what = what

    def __str__(self) -> str:
        more = len(self.problems) - 1
        rest = f" (and {more} more problem{'s' if more > 1 else ''})" if more else ""
        return f"{self.path}: no {self.what}: {self.problems[0]}{rest}"


def load_puzzle(path: Path) -> Puzzle:
    """The puzzle in a file. Raises BadFile, which holds every problem of a file that is none."""
    return read_checked(path, puzzle_from)


def puzzle_from(data: bytes) -> Puzzle:
    """The puzzle in the bytes of a puzzle file. Raises BadDocument."""
    document = decoded(data)
    # In code a puzzle's format goes without saying, in a file it must stand.
    problems = [] if "format" in document else [Problem("", "the key 'format' is missing")]
    try:
        puzzle = Puzzle.model_validate_json(data)
    except ValidationError as error:
        problems += [*faults_of(error), *_misfits_of_sound_parts(document)]
    else:
        problems += puzzle.problems()
    if problems:
        raise BadDocument(_in_order(document, problems))
    return puzzle


def save_puzzle(puzzle: Puzzle, path: Path) -> None:
    """Writes a puzzle file. Raises BadFile for a puzzle whose parts do not fit together, and OSError."""
    if problems := puzzle.problems():
        raise BadFile(path, problems)
    write_whole(path, puzzle_text(puzzle).encode("utf-8"))


def puzzle_text(puzzle: Puzzle) -> str:
    """The puzzle file as text; equal puzzles give equal texts, and what is as by default is left out."""
    document: dict[str, Any] = {"format": puzzle.format}
    for name in ("title", "setter", "rules_text"):
        if (text := getattr(puzzle, name)) is not None:
            document[name] = text
    document["grid"] = puzzle.grid.model_dump(mode="json", exclude_defaults=True)
    document["givens"] = {str(cell): digit for cell, digit in sorted(puzzle.givens.items())}
    document["constraints"] = [constraint_document(constraint) for constraint in puzzle.constraints]
    return pretty(document) + "\n"


def constraint_document(constraint: Constraint) -> dict[str, Any]:
    """A constraint as it stands in a puzzle file."""
    return {"kind": constraint.kind, **constraint.model_dump(mode="json", exclude_defaults=True)}


class BadDocument(ValueError):
    """Bytes that are no document of the wanted form."""

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__("; ".join(map(str, problems)))
        self.problems = problems


def decoded(data: bytes) -> dict[str, Any]:
    """The JSON object in some bytes. Raises BadDocument."""
    try:
        document = decode(data)
    except BadJson as error:
        raise BadDocument(error.problems) from None
    if not isinstance(document, dict):
        raise BadDocument([Problem("", "an object is needed as the whole of the file")])
    return document


def read_checked(path: Path, parse: Callable[[bytes], T], what: str = "puzzle file") -> T:
    """What `parse` makes of a file's bytes; its BadDocument, and a file that cannot be opened, become a BadFile."""
    try:
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise BadFile(path, [Problem("", f"it cannot be opened ({why})")], what) from None
    try:
        return parse(data)
    except BadDocument as error:
        raise BadFile(path, error.problems, what) from None


def pretty(value: Any, indent: str = "") -> str:
    """JSON that people can read: what fits on a line stands on one."""
    flat = json.dumps(value, ensure_ascii=False)
    if not isinstance(value, dict | list) or not value or (indent and len(flat) + len(indent) <= _ONE_LINE):
        return flat
    inner = indent + "  "
    if isinstance(value, dict):
        items = [f"{json.dumps(k, ensure_ascii=False)}: {pretty(v, inner)}" for k, v in value.items()]
        opening, closing = "{", "}"
    else:
        items = [pretty(item, inner) for item in value]
        opening, closing = "[", "]"
    lines = f",\n{inner}".join(items)
    return f"{opening}\n{inner}{lines}\n{indent}{closing}"


def _misfits_of_sound_parts(document: dict[str, Any]) -> list[Problem]:
    """What does not fit together among the parts of a broken document that can be read on their own."""
    grid = _part(Grid, document.get("grid"))
    if grid is None:
        return []
    givens, listed = document.get("givens"), document.get("constraints")
    read = {
        index: constraint
        for index, part in enumerate(listed if isinstance(listed, list) else [])
        if (constraint := _part(AnyConstraint, part)) is not None
    }
    return misfits(grid, dict(_sound_givens(givens if isinstance(givens, dict) else {})), read)


def _sound_givens(givens: dict[str, Any]) -> Iterator[tuple[Cell, int]]:
    for name, digit in givens.items():
        try:
            cell = Cell.parse(name)
        except ValueError:
            continue
        if type(digit) is int:
            yield cell, digit


def _part(kind: Any, value: Any) -> Any:
    try:
        return TypeAdapter(kind).validate_json(json.dumps(value))
    except ValidationError:
        return None


def _in_order(document: dict[str, Any], problems: list[Problem]) -> list[Problem]:
    """Problems without repeats, in the order of the document's parts: constraints by number, keys as they stand."""
    keys = list(document)

    def place(problem: Problem) -> tuple[int, tuple[tuple[int, str], ...]]:
        first, *rest = problem.at.split("/")[1:] or [""]
        where = keys.index(first) if first in keys else -1
        return where, tuple((int(step), "") if step.isdigit() else (-1, step) for step in rest)

    return sorted(dict.fromkeys(problems), key=place)
