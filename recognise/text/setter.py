"""Lines that name who set a puzzle: `by Wader`, `Setter: The Glazier`, `A puzzle by M. Petrel`."""

from __future__ import annotations

import re

NAME_WORDS = 5
"""Words that a name has at most."""

_MADE = "set|composed|constructed|devised|created|made|designed|invented|compiled|written|contributed"
_WHO = "setter|author|composer|constructor|compiler|creator|designer|puzzle"
_NAMES = re.compile(
    rf"^\W*(?:(?:(?:a|an|this|today's)\s+)?(?:(?:puzzle|grid|sudoku)\s+)?(?:(?:{_MADE})\s+)?by\b|(?:{_WHO})\s*[:\u2013\u2014-])"
    r"\s*:?\s*(?P<name>\S.{0,60})$",
    re.I,
)


def named_setter(line: str) -> str | None:
    """The name, where the line names a setter and does nothing else; names start with a capital and hold no digit."""
    match = _NAMES.match(line.strip())
    if match is None:
        return None
    name = match["name"].strip(" .,")
    fits = name[:1].isupper() and not any(c.isdigit() for c in name) and len(name.split()) <= NAME_WORDS
    return name if fits else None


_LABEL = re.compile(rf"^\W*(?:(?:(?:{_MADE})\s+)?by|(?:{_WHO}))\s*[:\u2013\u2014-]?\W*$", re.I)


def names_nobody(line: str) -> bool:
    """Whether a line says that a setter's name follows, and the name stands apart from it: `Author:`."""
    return _LABEL.match(line.strip()) is not None
