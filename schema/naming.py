"""A constraint in words, as a person points at it. Fields decide what is said, not kinds."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from schema.cells import Cell
from schema.kinds.base import Constraint
from schema.words import listed

_NAMED = 4
"""So many cells are named; of more, the first and their number."""
_SIDES = {"top": "above column", "bottom": "below column", "left": "left of row", "right": "right of row"}


def name_of(constraint: Constraint) -> str:
    """Which item it is: `thermometer from r7c1 to r5c2`, `cage 12 at r1c1 and r1c2`, `x-sum clue 5 left of row 2`."""
    side = getattr(constraint, "side", None)
    parts = [constraint.name, "clue" if side else "", _number(constraint), _spot(constraint)]
    return " ".join(filter(None, parts))


def stated_by(constraint: Constraint) -> str:
    """All that it states but for its single cells: its name, and in brackets what else its fields say, such as
    `cage 6 at r1c1 and r1c2 (product, repeats)`."""
    told = [words for name in sorted(constraint.model_fields_set) if (words := _setting(name, constraint))]
    return f"{name_of(constraint)} ({', '.join(told)})" if told else name_of(constraint)


def cells_words(cells: Sequence[Cell]) -> str:
    """`in r1c1`, `at r1c1, r1c2 and r2c1`, `at r1c1 (7 cells)`."""
    ordered = sorted(cells)
    if len(ordered) == 1:
        return f"in {ordered[0]}"
    return f"at {listed(ordered)}" if len(ordered) <= _NAMED else f"at {ordered[0]} ({len(ordered)} cells)"


def _number(constraint: Constraint) -> str:
    """The number or the digits printed with it."""
    value = getattr(constraint, "value", None)
    digits: Sequence[int] = getattr(constraint, "digits", ())
    return ", ".join(map(str, digits)) if value is None else str(value)


def _spot(constraint: Constraint) -> str:
    """Where its mark stands: by the first of these fields that it has."""
    fields: dict[str, Any] = dict(constraint)
    return next((told(fields) for name, told in _SPOTS.items() if fields.get(name)), "")


def _cells_spot(fields: dict[str, Any]) -> str:
    """Nothing for a list of lists: boxes stand nowhere in particular."""
    return cells_words(fields["cells"]) if isinstance(fields["cells"][0], Cell) else ""


_SPOTS: dict[str, Callable[[dict[str, Any]], str]] = {
    "side": lambda fields: f"{_SIDES[fields['side']]} {fields['index']}",
    "path": lambda fields: f"from {fields['path'][0]} to {fields['path'][-1]}",
    "circle": lambda fields: f"from {listed(fields['circle'])} to {fields['shaft'][-1]}",
    "greater": lambda fields: f"sign between {fields['greater']} and {fields['less']}",
    "start": lambda fields: f"at {fields['start']} ({fields['direction']})",
    "cells": _cells_spot,
    "direction": lambda fields: f"({fields['direction']})",
}


def _setting(name: str, constraint: Constraint) -> str:
    """A field that says how the rule goes, not where or which number; nothing for its usual value."""
    value = getattr(constraint, name)
    if name in ("kind", "value", "digits", "side", "index", "direction", "shape"):
        return ""
    if value == type(constraint).model_fields[name].default or not isinstance(value, bool | int | str):
        return ""
    if isinstance(value, bool):
        return name if value else f"not {name}"
    return value if isinstance(value, str) else f"{name} {value}"
