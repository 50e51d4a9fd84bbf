"""On which sides of the grid the numbers stand that a sentence speaks of, where that tells two kinds of them apart."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations

from recognise.rules.sheet import Statement

_WORDS = (
    ("top", r"above|at the head|(?:along|on|at|over|from) (?:the )?(?:upper|top)|over the grid"),
    ("bottom", r"below|beneath|underneath|under the grid|(?:along|on|at|from) (?:the )?(?:foot|lower|bottom)"),
    ("left", r"left"),
    ("right", r"right"),
)
_DIRECTION = re.compile(
    r"\b(?:(?:from )?(?:left|right|top|bottom|above|below) (?:to|or) (?:left|right|top|bottom|above|below)wards?"
    r"|(?:from )?(?:left|top|above|right|bottom|below) to (?:the )?(?:right|bottom|below|left|top|above)"
    r"|(?:is|are|digits?|numbers?|figures?) right|right (?:number|digit|order)|(?:is|are) left(?: out)?"
    r"|(?:up|down|right|left)wards?)\b"
)
"""Ways to read, and `right` and `left` that are no places."""
_LISTED = re.compile(r"\b(top|bottom|left|right)\b(?=(?: and| or|,| &|/) (?:the |at the |on the |to the )?)")


def sides_named(text: str) -> tuple[str, ...]:
    """The sides (`top`, `bottom`, `left`, `right`) that a text places something at."""
    plain = _DIRECTION.sub(" ", " ".join(text.lower().split()))
    listed = {match[1] for match in _LISTED.finditer(plain)}
    after = set(re.findall(r"(?:and|or|,|&|/) (?:the |at the |on the |to the )?(top|bottom|left|right)\b", plain))
    return tuple(side for side, words in _WORDS if side in listed | after or re.search(rf"\b(?:{words})\b", plain))


def with_sides(statements: Sequence[Statement], told: Mapping[str, str], kinds: frozenset[str]) -> list[Statement]:
    """The statements, those about numbers beside the grid (`kinds`) with the sides that their sentences name, where
    there are several kinds and each is placed at sides of its own: only then do the words tell them apart. `told` is
    the whole text that each statement comes from, by its sentence."""
    beside = [s for s in statements if s.kind in kinds and not s.negated]
    places = {s.kind: sides_named(told.get(s.sentence, s.sentence)) for s in beside}
    apart = all(a and b and not set(a) & set(b) for a, b in combinations(places.values(), 2))
    if len(beside) != len(places) or len(places) < 2 or not apart:
        return list(statements)
    return [
        replace(s, mark=replace(s.mark, sides=places[s.kind])) if s.kind in places and not s.negated else s
        for s in statements
    ]
