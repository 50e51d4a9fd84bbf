"""House styles: what the marks of one publication mean, stated once, in a TOML file, by the person who knows it.

    [[mark]]
    looks = "green line"
    means = "gap-line"
    gap = 5

`looks` says what the mark looks like in a few of our words, `means` which kind of the puzzle file it is, and further
keys are fields of that kind. What the rules on a page say has the word over it."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Annotated, Any

from pydantic import TypeAdapter, ValidationError
from pydantic.fields import FieldInfo

from clueprint.errors import ClueprintError
from recognise.interpret.hints import FAMILIES, PLACES
from recognise.rules import MarkHint, Statement
from schema.kinds import KINDS, kind_named
from schema.kinds.base import Constraint
from schema.marks import Family, Seen

COLOURS = (
    "grey", "white", "black", "blue", "green", "red", "purple", "pink", "magenta", "orange", "yellow", "brown", "cyan",
    "teal",
)  # fmt: skip
STYLES = ("dashed", "dotted", "thick", "thin")
SMALL_WORDS = ("a", "an", "the", "with", "on", "of")
SHOWN = frozenset(
    {"kind", "cells", "path", "circle", "shaft", "side", "index", "start", "direction", "digits", "greater", "less"}
)
"""Fields that the mark itself shows, and no house style can state."""


def load_house_style(path: Path) -> tuple[Statement, ...]:
    """What a house style file states. Raises ClueprintError, which names the key that is wrong."""
    try:
        document = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as fault:
        raise ClueprintError(f"{path}: it cannot be read ({fault.strerror})", "name a house style file") from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as fault:
        raise ClueprintError(f"{path}: it is no TOML file ({fault})", "correct it there") from None
    return tuple(_Reader(path).statements(document))


class _Reader:
    def __init__(self, path: Path) -> None:
        self._path = path

    def _wrong(self, key: str, why: str, remedy: str = "correct it there") -> ClueprintError:
        return ClueprintError(f"{self._path}: {key}: {why}", remedy)

    def statements(self, document: Mapping[str, Any]) -> Iterator[Statement]:
        for key in document:
            if key not in ("publication", "mark"):
                raise self._wrong(key, "unknown key", "a house style has `publication` and tables `[[mark]]`")
        if not isinstance(document.get("publication", ""), str):
            raise self._wrong("publication", "it is no text")
        marks = document.get("mark", [])
        if not isinstance(marks, list) or not all(isinstance(mark, dict) for mark in marks):
            raise self._wrong("mark", "it is no list of tables", "begin each with [[mark]]")
        seen: dict[MarkHint, str] = {}
        for number, mark in enumerate(marks, start=1):
            statement = self._statement(f"mark {number}", mark)
            if statement.mark in seen and seen[statement.mark] != statement.kind:
                raise self._wrong(f"mark {number}, looks", f"{mark['looks']!r} is given another meaning above")
            seen[statement.mark] = statement.kind
            yield statement

    def _statement(self, at: str, mark: Mapping[str, Any]) -> Statement:
        for key in ("looks", "means"):
            if not isinstance(mark.get(key), str):
                raise self._wrong(f"{at}, {key}", "it is missing" if key not in mark else "it is no text")
        looks, means = str(mark["looks"]), str(mark["means"])
        hint = self._hint(f"{at}, looks", looks)
        try:
            kind = kind_named(means)
        except KeyError:
            names = ", ".join(k.model_fields["kind"].default for k in KINDS if set(k.marks) - {"rule"})
            raise self._wrong(f"{at}, means", f"there is no kind {means!r}", f"name one of: {names}") from None
        if not _families(hint) & set(kind.marks):
            raise self._wrong(f"{at}, means", f"no {kind.name} is printed as a {looks!r}")
        fields = {key: value for key, value in mark.items() if key not in ("looks", "means")}
        for key, value in fields.items():
            self._check(at, kind, key, value)
        return Statement(means, fields, hint, f"house style: {looks}")

    def _hint(self, at: str, looks: str) -> MarkHint:
        found: dict[str, str] = {}
        words = [word for word in looks.lower().split() if word not in SMALL_WORDS]
        for word in words:
            part = _part(word, words)
            if part is None:
                known = ", ".join((*FAMILIES, *PLACES, *STYLES, *COLOURS))
                raise self._wrong(at, f"{word!r} is no word for what a mark looks like", f"use: {known}")
            if part in found:
                raise self._wrong(at, f"{word!r} and {found[part]!r} cannot both be said of one mark")
            found[part] = word
        if not {"shape", "place"} & set(found):
            raise self._wrong(at, f"{looks!r} names no shape", f"use one of: {', '.join(FAMILIES)}")
        shape, colour, place, letter, style = (
            found.get(p, "") for p in ("shape", "colour", "place", "letter", "style")
        )
        return MarkHint(shape, colour, place, letter.upper(), style)

    def _check(self, at: str, kind: type[Constraint], key: str, value: object) -> None:
        field = kind.model_fields.get(key)
        if field is None or key in SHOWN:
            known = ", ".join(name for name in kind.model_fields if name not in SHOWN) or "none"
            raise self._wrong(f"{at}, {key}", f"{kind.name} has no such field to state", f"its fields are: {known}")
        try:
            _adapter(field).validate_python(value, strict=True)
        except ValidationError as fault:
            raise self._wrong(f"{at}, {key}", fault.errors()[0]["msg"].lower()) from None


def _adapter(field: FieldInfo) -> TypeAdapter[Any]:
    kind: Any = field.annotation
    for constraint in field.metadata:
        kind = Annotated[kind, constraint]
    return TypeAdapter(kind)


def _part(word: str, words: Iterable[str]) -> str | None:
    """Which part of a hint a word states."""
    if len(word) == 1 and word.isalpha() and "letter" in words:
        return "letter"
    for part, known in (("shape", FAMILIES), ("place", PLACES), ("colour", COLOURS), ("style", STYLES)):
        if word in known:
            return part
    return None


def _families(hint: MarkHint) -> set[Family]:
    """The families of marks that a hint may speak of."""
    found = set(FAMILIES.get(hint.shape) or (family for families in FAMILIES.values() for family in families))
    return found & set(PLACES[hint.place]) if hint.place else found


# ------------------------------------------------------------------------------------------------ drafts

_WORDS = {
    "tube": "tube", "ringed-line": "line ends", "line": "line", "arrow": "arrow", "cage": "cage",
    "corner": "number corner", "area": "tint", "outside": "number outside", "outside-diagonal": "arrow outside",
    "diagonal": "diagonal",
}  # fmt: skip
_COLOURED = ("line", "ringed-line", "area", "cell", "edge")
"""Families that publications tell apart by colour."""

Meanings = dict[str, dict[str, set[str]]]
"""Looks to the lines of TOML that state a meaning, each with the pages that say so."""


def collect(found: Meanings, settled: Iterable[tuple[Seen, Statement]], page: str) -> None:
    """Add what the rules of one page say of its marks."""
    for seen, statement in settled:
        kind = kind_named(statement.kind)
        lines = [f"means = {json.dumps(statement.kind)}"]
        for key, value in statement.fields.items():
            field = kind.model_fields.get(key)
            if field is not None and key not in SHOWN and value != "printed":
                lines.append(f"{key} = {json.dumps(value)}")
        found.setdefault(looks_words(seen), {}).setdefault("\n".join(lines), set()).add(page)


def looks_words(seen: Seen) -> str:
    """What a mark looks like, in the words that `looks` is written in."""
    words = _WORDS.get(seen.family, seen.shape)
    if seen.family == "edge":
        words = f"letter {seen.text.upper()}" if seen.shape == "letter" else f"{seen.shape} edge"
    style = seen.shape if seen.family in ("line", "ringed-line") and seen.shape in STYLES else ""
    plain = seen.shape in ("letter", "number", "sign") or seen.family not in _COLOURED
    return " ".join(filter(None, (style, "" if plain else seen.colour, words)))


def drafted(found: Meanings) -> str:
    """A house style file; looks that pages give several meanings are left to the person, as comments."""
    parts = ["# What the marks of this publication mean, drafted from pages that print their rules. Look it through."]
    for looks, meanings in sorted(found.items()):
        if len(meanings) == 1:
            parts.append(f"[[mark]]\nlooks = {json.dumps(looks)}\n{next(iter(meanings))}")
            continue
        parts.append(f"# {looks}: its pages give it several meanings; keep one, or say more of its looks.")
        for lines, pages in sorted(meanings.items()):
            parts.append(_commented(f"{', '.join(sorted(pages))}\n[[mark]]\nlooks = {json.dumps(looks)}\n{lines}"))
    return "\n\n".join(parts) + "\n"


def _commented(text: str) -> str:
    return "\n".join(f"# {line}" for line in text.splitlines())
