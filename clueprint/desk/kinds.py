"""What the page is told of each constraint kind, so that it can offer a form for any: all of it comes from the kinds'
own models, and a new kind needs no line here."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

from schema.kinds import KINDS
from schema.kinds.base import Constraint

_QUOTED = re.compile(r"`([^`]*)`")
_SCALARS = {"integer": "number", "boolean": "switch", "string": "text"}
_LISTS = {"cell": "cells", "cells": "groups", "number": "numbers"}
"""The form of a list by the form of its entries."""


@cache
def kinds_view() -> list[dict[str, Any]]:
    """Every kind in the order of the contract: its tag, name and meaning, whether it has a mark on the page, and its
    fields."""
    return [_kind(kind) for kind in KINDS]


def _kind(kind: type[Constraint]) -> dict[str, Any]:
    schema = kind.model_json_schema()
    required = schema.get("required", ())
    return {
        "kind": kind.model_fields["kind"].default,
        "name": kind.name,
        "says": _QUOTED.sub(r"“\1”", " ".join(schema["description"].split())),
        "drawn": kind.marks != ("rule",),
        "fields": [
            # A list called `cells` is a set of cells, every other one an order of them (see Constraint.identity).
            {"name": name, "required": name in required, "ordered": name != "cells", **_field(part)}
            for name, part in schema["properties"].items()
            if name != "kind"
        ],
    }


def _field(part: dict[str, Any]) -> dict[str, Any]:
    """A field's `form` (`cell`, `cells`, `groups`, `number`, `numbers`, `switch`, `choice` or `text`), its limits,
    options and default."""
    kept = {name: part[key] for key, name in _KEPT.items() if part.get(key) is not None}
    return {"form": _form(part), **kept, **_limits(_itself(part))}


_KEPT = {"default": "default", "enum": "options", "minItems": "least", "maxItems": "most"}


def _limits(part: dict[str, Any]) -> dict[str, Any]:
    return {name: part[key] for key, name in (("minimum", "least"), ("maximum", "most")) if key in part}


def _itself(part: dict[str, Any]) -> dict[str, Any]:
    """What may also be left out, as what it is when it is there."""
    ways: list[dict[str, Any]] = [way for way in part.get("anyOf", ()) if way.get("type") != "null"]
    return ways[0] if len(ways) == 1 else part


def _form(part: dict[str, Any]) -> str:
    part = _itself(part)
    if part.get("type") == "array":
        return _LISTS[_form(part["items"])]
    if "pattern" in part:
        return "cell"
    return "choice" if "enum" in part else _SCALARS[part["type"]]
