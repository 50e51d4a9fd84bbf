"""JSON as the standard (RFC 8259) has it and no more, from bytes that nobody vouches for."""

from __future__ import annotations

import json
import math
from collections import Counter
from collections.abc import Iterator
from typing import Any

from schema.pointers import Problem, pointer

MOST_BYTES = 8 * 2**20
"""Far above the largest puzzle (a 25x25 with every cell in several constraints is about 0.2 MB)."""
MOST_DEPTH = 64
"""Lists and objects within each other: far more than a puzzle or a reading has, far fewer than exhaust the stack."""
_LONGEST_NUMBER = 18
"""Digits of a whole number; longer ones do not fit 64 bits, and Python is slow to read very long ones."""
_LONGEST_SHOWN = 40
"""Digits of a number that a message quotes whole."""


class BadJson(ValueError):
    """The bytes are no JSON document that we take; `problems` says why and where."""

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__("; ".join(map(str, problems)))
        self.problems = problems


class _Object(dict[str, Any]):
    """An object that remembers which of its keys stood twice."""

    repeated: tuple[str, ...] = ()


class _Unfit(str):
    """Stands in the document for a number that JSON or we do not have."""

    __slots__ = ()


def decode(data: bytes) -> Any:
    """The document. Raises BadJson."""
    if len(data) > MOST_BYTES:
        raise BadJson([Problem("", f"the file is larger than {MOST_BYTES // 2**20} MiB")])
    text = _decoded(data)
    if not text.strip():
        raise BadJson([Problem("", "it is empty")])
    try:
        document = json.loads(
            text, object_pairs_hook=_object, parse_constant=_Unfit, parse_int=_whole, parse_float=_real
        )
    except RecursionError:
        raise BadJson([Problem("", f"it is nested more than {MOST_DEPTH} deep")]) from None
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise BadJson([Problem("", f"it is no JSON: {_lowered(error.msg)} at {place}")]) from None
    problems = list(_problems(document, (), 0))
    if problems:
        raise BadJson(problems)
    return document


def _decoded(data: bytes) -> str:
    if data.startswith((b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")):
        raise BadJson([Problem("", "it starts with a byte order mark; save it as UTF-8 without one")])
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise BadJson([Problem("", f"it is not UTF-8 (byte {error.start + 1}); save it as UTF-8")]) from None


def _object(pairs: list[tuple[str, Any]]) -> _Object:
    made = _Object(pairs)
    if len(made) < len(pairs):
        made.repeated = tuple(key for key, count in Counter(key for key, _ in pairs).items() if count > 1)
    return made


def _whole(text: str) -> int | _Unfit:
    return int(text) if len(text.lstrip("-")) <= _LONGEST_NUMBER else _Unfit(text)


def _real(text: str) -> float | _Unfit:
    number = float(text)
    return number if math.isfinite(number) else _Unfit(text)


def _problems(value: Any, path: tuple[object, ...], depth: int) -> Iterator[Problem]:
    if depth > MOST_DEPTH:
        yield Problem(pointer(path), f"it is nested more than {MOST_DEPTH} deep")
    elif isinstance(value, _Unfit):
        yield Problem(pointer(path), _why_unfit(value))
    elif isinstance(value, str):
        yield from _broken_text(value, path)
    elif isinstance(value, _Object):
        for key in value.repeated:
            yield Problem(pointer((*path, _shown(key))), "the key stands twice")
        for key, item in value.items():
            yield from _broken_text(key, path)
            yield from _problems(item, (*path, _shown(key)), depth + 1)
    elif isinstance(value, list):
        for index, item in enumerate(value):
            yield from _problems(item, (*path, index), depth + 1)


def _why_unfit(text: str) -> str:
    if text[-1:].isdigit():
        short = text if len(text) <= _LONGEST_SHOWN else f"{text[:12]}... ({len(text)} digits)"
        return f"{short} is too large a number"
    return f"{text} is no JSON number"


def _broken_text(text: str, path: tuple[object, ...]) -> Iterator[Problem]:
    if any("\ud800" <= character <= "\udfff" for character in text):
        yield Problem(pointer(path), "a text holds half a character (a lone surrogate)")


def _shown(key: str) -> str:
    """A key as it may stand in a message: without lone surrogates."""
    return key.encode("utf-8", "backslashreplace").decode("utf-8")


def _lowered(words: str) -> str:
    return words[:1].lower() + words[1:]
