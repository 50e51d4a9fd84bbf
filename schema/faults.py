"""What pydantic finds wrong with a document, in our words, each with its JSON Pointer."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from schema.pointers import Problem, pointer

_WORDS = {
    "extra_forbidden": "unknown key",
    "int_type": "a whole number is needed",
    "int_from_float": "a whole number is needed",
    "float_type": "a number is needed",
    "bool_type": "true or false is needed",
    "string_type": "a text is needed",
    "tuple_type": "a list is needed",
    "list_type": "a list is needed",
    "dict_type": "an object is needed",
    "model_type": "an object is needed",
    "model_attributes_type": "an object is needed",
}
_LONGEST_SHOWN = 60
"""Characters of a wrong value that a message quotes."""


def faults_of(error: ValidationError) -> list[Problem]:
    """All problems of a document that failed validation, in its order."""
    return [_problem(detail) for detail in error.errors(include_url=False)]


def _problem(detail: ErrorDetails) -> Problem:
    path = _in_document(detail)
    kind = detail["type"]
    if kind == "missing":
        return Problem(pointer(path[:-1]), f"the key {path[-1]!r} is missing")
    if kind == "union_tag_not_found":
        return Problem(pointer(path), "the key 'kind' is missing")
    if kind == "union_tag_invalid":
        return Problem(pointer((*path, "kind")), f"unknown kind {_shown(detail['ctx']['tag'])}")
    if kind == "value_error":
        return Problem(pointer(path), str(detail["ctx"]["error"]))
    why = _WORDS.get(kind) or _own_words(detail)
    if kind.endswith("_type"):
        why = f"{why}, not {_shown(detail['input'])}"
    return Problem(pointer(path), why)


def _own_words(detail: ErrorDetails) -> str:
    context, words = detail.get("ctx", {}), detail["msg"]
    limits = {
        "greater_than_equal": f"must be at least {context.get('ge')}",
        "greater_than": f"must be more than {context.get('gt')}",
        "less_than_equal": f"must be at most {context.get('le')}",
        "literal_error": f"must be {context.get('expected')}",
        "too_short": f"needs {context.get('min_length')} or more entries, and has {context.get('actual_length')}",
        "too_long": f"may have {context.get('max_length')} entries at most, and has more",
    }
    given = f", not {_shown(detail['input'])}" if not isinstance(detail["input"], list | dict) else ""
    return limits.get(detail["type"], words[:1].lower() + words[1:]) + given


def _in_document(detail: ErrorDetails) -> tuple[int | str, ...]:
    """Pydantic's way to a fault without the two steps that are no part of the document: the kind that it took for a
    constraint, which follows the constraint's index, and `[key]` at the end of a key's own fault."""
    path = detail["loc"]
    if path[:1] == ("constraints",) and len(path) > 2:
        path = path[:2] + path[3:]
    if path[-1:] == ("[key]",) and detail["type"] not in ("extra_forbidden", "missing"):
        path = path[:-1]
    return path


def _shown(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= _LONGEST_SHOWN else f"{text[: _LONGEST_SHOWN - 3]}..."
