"""Tables of patterns that stand in text files, where they can be read: `usage.txt`, `exhaustive.txt` and others.

In such a file, blank lines and lines that start with `#` left out, stand in any order:

    pattern            what is looked for, a regular expression
      -> words         what is put in its place (`\\1` what is kept), in quotes where blanks stand at its ends
    NAME = pattern     a piece, which any pattern of the file may have as <NAME>

A line that starts with a blank goes on with the one above: after a blank, or at once where a `|` stands at the break.
Brackets only group; what is kept is written `(=...)`. Pieces that several tables share come from `substitution.py`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

from recognise.rules.substitution import CELL, COLOUR, DIGIT, DIGITS, MARK

_SHARED = {"DIGIT": DIGIT, "DIGITS": DIGITS, "MARK": MARK, "CELL": CELL, "COLOUR": COLOUR}
_PIECE = re.compile(r"([A-Z_]+) = (.*)")
_NAMED = re.compile(r"<([A-Z_]+)>")
_ARROW = "-> "
_BRACKET = re.compile(r"\\.|\[\^?[^]]*\]|\((=|(?!\?))")
"""What is escaped and a set of characters, in which a bracket is none; and a bracket that groups."""


def patterns_of(name: str) -> tuple[tuple[str, str], ...]:
    """The patterns of a file beside this one, in order, as `re` writes them, each with what is put in its place."""
    pieces = pieces_of(name)
    pairs: list[tuple[str, str]] = []
    for line in _lines(name):
        if line.startswith(_ARROW):
            pairs[-1] = (pairs[-1][0], line.removeprefix(_ARROW).strip('"'))
        elif not _PIECE.fullmatch(line):
            pairs.append((_whole(line, pieces), ""))
    return tuple(pairs)


def pieces_of(name: str) -> dict[str, str]:
    """The pieces that a file of patterns names and those that several share, as `re` writes them."""
    named = [piece for line in _lines(name) if (piece := _PIECE.fullmatch(line))]
    pieces = _SHARED | {piece[1]: piece[2] for piece in named}
    return {piece: _whole(pattern, pieces) for piece, pattern in pieces.items()}


@lru_cache
def _lines(name: str) -> tuple[str, ...]:
    """The lines of a file, each with those that go on with it."""
    lines: list[str] = []
    for part in Path(__file__).with_name(name).read_text("utf-8").splitlines():
        told = part.strip()
        if part.startswith(" ") and not told.startswith(_ARROW):
            at_once = lines[-1].endswith("|") or told.startswith("|")
            lines[-1] += told if at_once else f" {told}"
        elif told and not told.startswith("#"):
            lines.append(told)
    return tuple(lines)


def _whole(pattern: str, pieces: Mapping[str, str]) -> str:
    """The pattern as `re` writes it, with pieces, and theirs, in their places."""
    while _NAMED.search(pattern):
        pattern = _NAMED.sub(lambda found: pieces[found[1]], pattern)
    return _BRACKET.sub(lambda found: {"=": "(", "": "(?:", None: found[0]}[found[1]], pattern)
