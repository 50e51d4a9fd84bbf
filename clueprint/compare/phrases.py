"""How a constraint of the proof differs from the source's, in a proof-reader's words. Fields decide what is said, not
kinds."""

from __future__ import annotations

from typing import Any

from schema.cells import Cell
from schema.kinds.arrow import Arrow
from schema.kinds.base import Constraint
from schema.naming import name_of
from schema.paths import path_of
from schema.words import listed, with_article

_PLACE = ("kind", "path", "cells", "circle", "shaft", "side", "index", "start", "greater", "less")
"""Fields that say where a constraint stands."""


def changed(expected: Constraint, found: Constraint) -> str:
    """How a constraint of the proof differs from its counterpart in the source."""
    if expected.kind != found.kind:
        return f"the proof has {with_article(name_of(found))}, the source {with_article(name_of(expected))}"
    said = [words for words in (_path(expected, found), _cells(expected, found)) if words]
    said += [words for name in type(expected).model_fields if (words := _field(name, expected, found))]
    return "; ".join(said) or f"the {name_of(expected)} is another on the proof"


def _path(expected: Constraint, found: Constraint) -> str:
    ours, theirs = (_course(c) for c in (expected, found))
    if ours == theirs or not ours:
        return ""
    name = expected.name
    if theirs == ours[::-1]:
        return f"the {name} runs from {theirs[0]} to {theirs[-1]}, in the source from {ours[0]} to {ours[-1]}"
    if theirs[0] != ours[0] and _turns(expected) and (theirs[-1] == ours[0] or theirs[0] == ours[-1]):
        theirs = theirs[::-1]
    if theirs[0] == ours[0] and theirs[-1] != ours[-1]:
        return f"the {name} from {ours[0]} ends in {theirs[-1]}, in the source in {ours[-1]}"
    if theirs[-1] == ours[-1] and theirs[0] != ours[0]:
        return f"the {name} to {ours[-1]} begins in {theirs[0]}, in the source in {ours[0]}"
    if theirs[0] == ours[0]:
        way = " ".join(map(str, theirs))
        return f"the {name} from {ours[0]} to {ours[-1]} goes {way}, in the source {' '.join(map(str, ours))}"
    return f"the {name} runs from {theirs[0]} to {theirs[-1]}, in the source from {ours[0]} to {ours[-1]}"


def _course(constraint: Constraint) -> tuple[Cell, ...]:
    return constraint.shaft if isinstance(constraint, Arrow) else path_of(constraint)


def _turns(constraint: Constraint) -> bool:
    """Whether the kind is the same from both ends."""
    path = path_of(constraint)
    return bool(path) and constraint.model_copy(update={"path": path[::-1]}).identity() == constraint.identity()


def _cells(expected: Constraint, found: Constraint) -> str:
    ours, theirs = (set(getattr(c, "cells", ()) or ()) for c in (expected, found))
    if ours == theirs:
        return ""
    more, less = sorted(theirs - ours), sorted(ours - theirs)
    said = []
    if more:
        said.append(f"covers {listed(more)}, which it does not in the source")
    if less:
        said.append(f"leaves out {listed(less)}")
    return f"the {name_of(expected)} {' and '.join(said)}"


def _field(name: str, expected: Constraint, found: Constraint) -> str:
    ours, theirs = getattr(expected, name), getattr(found, name)
    if name in ("kind", "path", "shaft", "cells") or ours == theirs:
        return ""
    if name == "value":
        what = name_of(expected.model_copy(update={"value": None}))
        return f"the {what} is {_shown(theirs)} on the proof, {_shown(ours)} in the source"
    if name in _PLACE:
        return f"the {name_of(expected)} stands at {_shown(theirs)} on the proof"
    return f"{name} of the {name_of(expected)} is {_shown(theirs)} on the proof, {_shown(ours)} in the source"


def _shown(value: Any) -> str:
    if value is None:
        return "without a number"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return listed(value)
    return str(value)
