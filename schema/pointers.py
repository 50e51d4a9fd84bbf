"""JSON Pointers (RFC 6901) into a puzzle file, and problems that they place."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from schema.cells import Cell


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """What is wrong with a file: where, as a JSON Pointer (empty for the file as a whole), and why."""

    at: str
    why: str

    def __str__(self) -> str:
        return f"{self.at}: {self.why}" if self.at else self.why


def pointer(parts: Iterable[object]) -> str:
    """The JSON Pointer that goes down these keys and indices."""
    return "".join("/" + str(part).replace("~", "~0").replace("/", "~1") for part in parts)


def given_pointer(cell: Cell) -> str:
    """Where a given stands in the puzzle file."""
    return pointer(("givens", cell))


def constraint_pointer(index: int) -> str:
    """Where a constraint stands in the puzzle file; indices count from 0."""
    return pointer(("constraints", index))
