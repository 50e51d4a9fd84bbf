"""Patterns of the clues that stand outside the grid."""

from __future__ import annotations

import re
from itertools import pairwise

from recognise.rules.pattern import Concepts, Fields, Pattern, named, values

_PLACE = (
    "STYLE COLOUR TIP EQUAL OUTSIDE CLUE TOTALWORD SMALLNUM EDGE SIDE END ROW COLUMN LINE CORRESPONDING SHADED START "
    "FORWARD"
)


def ends_named(concepts: Concepts) -> list[tuple[str, str]]:
    """The two digits that bound a sandwich, as figures and as `low` and `high`, each pair in the order in which the
    clause names them; empty where it names none or more than two."""
    pairs = [(v.partition(",")[0], v.partition(",")[2]) for v in values(concepts, "ENDS")]
    pairs += [(v.partition("-")[0], v.partition("-")[2]) for v in values(concepts, "RANGE")]
    numbers = values(concepts, "NUM")
    if len(set(numbers)) > 2 or (len(set(numbers)) == 1 and not any(numbers[0] in pair for pair in pairs)):
        return []
    if len(set(numbers)) == 2:
        first, second = dict.fromkeys(numbers)
        pairs.append((first, second))
    named_ends = [c for c in concepts if c in _NAMED_ENDS]
    if set(named_ends) == set(_NAMED_ENDS):
        first, second = dict.fromkeys(_NAMED_ENDS[c] for c in named_ends)
        pairs.append((first, second))
    figures = {tuple(sorted(p)) for p in pairs if not _by_name(p)}
    return pairs if len(figures) <= 1 else []


_NAMED_ENDS = {"LOWEST": "low", "HIGHEST": "high"}


def _by_name(pair: tuple[str, str]) -> bool:
    return set(pair) == set(_NAMED_ENDS.values())


def _bounds(pairs: list[tuple[str, str]]) -> Fields | None:
    """`ends` where the clause gives figures that can be lowest and highest digit of a grid."""
    figures = next((pair for pair in pairs if not _by_name(pair)), None)
    if figures is None:
        return {} if pairs else None
    low, high = sorted(map(int, figures))
    return {"ends": (low, high)} if low in (0, 1) and high > low + 1 else None


_BEYOND = re.compile(r"(?<!\S)OUTSIDE (?:DIGIT )?(?:ENDS=|NUM=|RANGE=|LOWEST|HIGHEST)")
"""The digits outside the 1 and the 9, and not between them."""


def straight(concepts: Concepts) -> Fields | None:
    """A way forward from one digit to the other without a word of the edge may be a wrapped sandwich or not."""
    either = ("OR", "SUM") in pairwise(c for c in concepts if c != "ALL")
    one_way = "FORWARD" in concepts and {"FROM", "START", "AFTER", "FROMTIP"} & set(concepts)
    return None if one_way or either or _BEYOND.search(" ".join(concepts)) else _bounds(ends_named(concepts))


def _forward(pair: tuple[str, str]) -> bool:
    return pair[0] == "low" if _by_name(pair) else int(pair[0]) < int(pair[1])


def _denies(concepts: Concepts) -> bool:
    """Whether a `not` stands where it does not say that the highest digit is not reached yet."""
    return any(a == "NEG" and b not in ("UNTIL", "HOLD", "FOLLOW") for a, b in pairwise((*concepts, "")))


def wrapped(concepts: Concepts) -> Fields | None:
    """Only the way forward from the lowest to the highest digit is the contract's wrapped sandwich."""
    if _BEYOND.search(" ".join(concepts)):
        return None
    if ("ALL", "COUNT") in pairwise(concepts) or {"BACKWARD", "BOTHWAYS"} & set(concepts) or _denies(concepts):
        # `both counted`: the sum takes in the digits at its ends, which is another rule.
        return None
    pairs = ends_named(concepts)
    bounds = _bounds(pairs)
    return None if bounds is None or not all(map(_forward, pairs)) else {"wrap": True, **bounds}


_BREAD = (
    _PLACE
    + (
        " AFTER PREVIOUS ADJACENT CORNER GRID APPLY BETWEEN ENDS SANDWICHNAME EXCLUDED NUM RANGE LOWEST HIGHEST READ "
        "SUM"
    )
    + " FORWARD MOVE SEE"
)

SANDWICHES = (
    Pattern(
        "sandwich",
        "OUTSIDE|CLUE|TOTALWORD|SANDWICHNAME|END|EDGE BETWEEN ENDS SUM|TOTALWORD|SANDWICHNAME",
        _BREAD,
        settle=straight,
    ),
    Pattern("sandwich", "OUTSIDE|CLUE ENDS|LOWEST|NUM|RANGE SUM|TOTALWORD EXCLUDED", _BREAD, settle=straight),
    Pattern(
        "sandwich",
        "WRAP SUM|TOTALWORD NUM|ENDS|LOWEST|RANGE FORWARD|LEFTTORIGHT|AFTER",
        _BREAD
        + " WRAP CONTINUE OPPOSITE COUNT UNTIL LAST FIRST FIRSTOF NEXTONE FOLLOW OUT LEFTTORIGHT CLUE NEG BOTHWAYS"
        + " ONLY SEGMENT",
        settle=wrapped,
    ),
    Pattern("sandwich", "EXCLUDED NUM|ENDS|RANGE", "NUM BETWEEN ENDS OUTSIDE", gloss=True),
    Pattern("sandwich", "SANDWICHNAME", "", gloss=True),
    Pattern("sandwich", "SANDWICHNAME|SUM|CLUE|TOTALWORD NEG WRAP", "CLUE EDGE OUTSIDE", {"wrap": False}, gloss=True),
)


_SKYLINE = _PLACE + (
    " READ TOWER HEIGHT SEE HIDE BEHIND BOX TALLER SHORTER GREATER LESS COUNT MANY HIGHEST PREVIOUS "
    "POINT REGION ALLDIGITS EQUAL NEG BETWEEN EXACTLY ASLARGE LOWEST"
)


_FIRST_TELLS = re.compile(
    r"(?:FIRST|ADJACENT) (?:DIGIT |CLUE |TOWARDS |FROM |HOLD |OUTSIDE |SEE |LETTER=X |ROW |COLUMN |OR )*"
    r"MEAN (?:COUNT|MANY)"
)


def _first_digits(concepts: Concepts) -> Fields | None:
    """The first X digits, X being the first: X has to be named as the first digit."""
    if {"LAST", "NEG", "EXCLUDED", "BACKWARD", "PRODUCT"} & {named(c) for c in concepts}:
        return None
    if _FIRST_TELLS.search(" ".join(concepts)):
        return {}
    told = sum(c in ("FIRST", "ADJACENT") for c in concepts) >= 2
    return {} if told or "XSUMNAME" in concepts else None


_FIRST = (
    _PLACE
    + " POINT XSUMNAME FIRST LETTER COUNT MANY INCLUDED SEE FROM SUM TOTALWORD SOME EQUAL OUT HIGHEST ITSELF FORWARD"
    + " ADJACENT"
)

TOWERS_AND_SUMS = (
    Pattern("skyscraper", "TOWER|BOX|REGION SEE COUNT|CLUE|OUTSIDE|MANY|EDGE", _SKYLINE.replace(" NEG", ""), cost=0.9),
    Pattern("skyscraper", "SEE|COUNT|MANY OUTSIDE|CLUE GREATER|TALLER|LESS PREVIOUS", _SKYLINE.replace(" NEG", "")),
    Pattern("skyscraper", "SEE COUNT|MANY HIDE OUTSIDE|CLUE GREATER|LESS|TALLER|SHORTER", _SKYLINE.replace(" NEG", "")),
    Pattern("skyscraper", "TOWER|HIDE HIDE|HEIGHT|TALLER|SHORTER|SEE|ASLARGE", _SKYLINE, gloss=True),
    Pattern("skyscraper", "TOWER OUTSIDE", "TOWER RULE CLUE DIGIT OUTSIDE"),
    Pattern("skyscraper", "TOWER", "TOWER RULE CLUE DIGIT", gloss=True),
    Pattern("x-sum", "SUM|TOTALWORD FIRST LETTER|MANY|COUNT|SOME", _FIRST, settle=_first_digits),
    Pattern("x-sum", "SUM|TOTALWORD ADJACENT CLUE MANY|COUNT", _FIRST, settle=_first_digits),
    Pattern("x-sum", "XSUMNAME OUTSIDE", "CLUE"),
    Pattern("x-sum", "XSUMNAME", "", gloss=True),
)


def _along_diagonal(concepts: Concepts) -> Fields | None:
    return None if "NUM" in {named(c) for c in concepts} else {}


_SLANT = _PLACE + " DIAGONAL ADJACENT ARROW HEAD POINT LITTLEKILLER MAYREPEAT SUM INDICATED BY DIRECTION MOVE"

DIAGONAL_SUMS = (
    Pattern(
        "diagonal-sum",
        "DIAGONAL SUM|TOTALWORD OUTSIDE|ARROW|CLUE|LITTLEKILLER",
        _SLANT,
        settle=_along_diagonal,
        cost=0.9,
    ),
    Pattern("diagonal-sum", "DIAGONAL MAYREPEAT", _SLANT, gloss=True),
    Pattern("diagonal-sum", "ARROW DIAGONAL POINT|ALONG|OUTSIDE", _SLANT, gloss=True),
    Pattern("diagonal-sum", "LITTLEKILLER", "", gloss=True),
    Pattern("diagonal-sum", "OUTSIDE MAYREPEAT", _SLANT, gloss=True),
)
