"""The same puzzle printed twice: told by what it is, whatever its title, its rules text and the order of its parts."""

from __future__ import annotations

import hashlib
import json
from typing import Any

from schema.files import constraint_document
from schema.puzzle import Puzzle


def likeness(puzzle: Puzzle) -> str:
    """A SHA-256 that is the same for puzzles with the same grid, givens and constraints. Paths count in either
    direction: a line that was read from its other end does not make another puzzle of it."""
    constraints = sorted(_canonical(constraint_document(constraint)) for constraint in puzzle.constraints)
    givens = {str(cell): digit for cell, digit in puzzle.givens.items()}
    grid = puzzle.grid.model_dump(mode="json", exclude_defaults=True)
    return hashlib.sha256(_text([grid, givens, constraints]).encode("utf-8")).hexdigest()


def _canonical(constraint: dict[str, Any]) -> str:
    if "path" in constraint:
        path = constraint["path"]
        constraint = {**constraint, "path": min(path, path[::-1])}
    if "cells" in constraint:
        constraint = {**constraint, "cells": _as_set(constraint["cells"])}
    return _text(constraint)


def _as_set(cells: list[Any]) -> list[Any]:
    return sorted(_as_set(part) if isinstance(part, list) else part for part in cells)


def _text(value: Any) -> str:
    return json.dumps(value, sort_keys=True, separators=(",", ":"))
