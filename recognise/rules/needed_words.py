"""The words that each pattern of the tables cannot do without, as `literals.py` finds them, kept in
`needed_words.json`: to find them takes longer than to read a page.

A pattern that the file does not have is looked at anew, so that a stale file costs time and nothing else.
`python -m recognise.rules.needed_words` writes it from all tables.
"""

from __future__ import annotations

import importlib
import json
import pkgutil
from collections.abc import Iterator, Mapping
from functools import lru_cache
from hashlib import blake2b
from pathlib import Path
from typing import TYPE_CHECKING

from recognise.rules.literals import needed

if TYPE_CHECKING:
    from recognise.rules.substitution import Rule

FILE = Path(__file__).with_name("needed_words.json")


Pieces = tuple[tuple[str, ...], ...]
"""Of each of which a text has a word."""


def words_of(pattern: str, flags: int) -> Pieces:
    """What `literals.needed` says of a pattern."""
    known = kept().get(key(pattern, flags))
    return needed(pattern, flags) if known is None else known


@lru_cache(maxsize=1)
def kept() -> Mapping[str, Pieces]:
    """The words in the file, by the `key` of their pattern."""
    found: dict[str, list[list[str]]] = json.loads(FILE.read_text(encoding="utf-8")) if FILE.exists() else {}
    return {name: tuple(map(tuple, pieces)) for name, pieces in found.items()}


def key(pattern: str, flags: int) -> str:
    """A pattern in short."""
    return blake2b(f"{flags} {pattern}".encode(), digest_size=8).hexdigest()


def rules() -> Iterator[Rule]:
    """Every rule of every table beside this module."""
    from recognise.rules.substitution import Rule  # noqa: PLC0415 - which asks for words when it is loaded

    for module in pkgutil.iter_modules([str(FILE.parent)]):
        for value in vars(importlib.import_module(f"recognise.rules.{module.name}")).values():
            if isinstance(value, tuple):
                yield from (rule for rule in value if isinstance(rule, Rule))


def main() -> None:
    """Write the file anew, a line for each pattern."""
    words = {key(rule.pattern, rule.flags): needed(rule.pattern, rule.flags) for rule in rules()}
    lines = (f'"{name}": {json.dumps(words[name], ensure_ascii=False)}' for name in sorted(words))
    FILE.write_text("{\n" + ",\n".join(lines) + "\n}\n", encoding="utf-8")


if __name__ == "__main__":
    main()
