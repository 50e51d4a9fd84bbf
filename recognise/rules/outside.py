"""Patterns of the clues that stand outside the grid."""

from __future__ import annotations

from itertools import pairwise

from recognise.rules.pattern import Concepts, Fields, Pattern, named, values

_PLACE = "TIP EQUAL OUTSIDE CLUE TOTALWORD SMALLNUM EDGE SIDE END ROW COLUMN LINE CORRESPONDING SHADED START FORWARD"


def _ends(concepts: Concepts) -> tuple[str, str] | None:
    """The two digits that bound a sandwich as written, lowest first; None where they are not lowest and highest."""
    pairs = [tuple(v.split(",")) for v in values(concepts, "ENDS")]
    pairs += [tuple(v.split("-")) for v in values(concepts, "RANGE")]
    numbers = values(concepts, "NUM")
    if numbers[1:] and numbers[0] != numbers[1]:
        numbers = numbers[:2]
    if numbers and not (len(set(numbers)) == 1 and any(numbers[0] in pair for pair in pairs)):
        pairs.append((numbers[0], numbers[-1]) if len(set(numbers)) == 2 else ("", ""))
    if "LOWEST" in concepts and "HIGHEST" in concepts:
        pairs.append(("low", "high"))
    pairs = [pair for pair in pairs if pair != ("low", "high")] or pairs
    if not pairs or len({tuple(sorted(p)) for p in pairs}) != 1 or "" in pairs[0]:
        return None
    return pairs[0][0], pairs[0][1]


def _bounds(pair: tuple[str, str]) -> Fields | None:
    if pair == ("low", "high"):
        return {}
    low, high = sorted(map(int, pair))
    return {"ends": (low, high)} if low in (0, 1) and high > low + 1 else None


def _straight(concepts: Concepts) -> Fields | None:
    pair = _ends(concepts)
    return None if pair is None else _bounds(pair)


def _wrapped(concepts: Concepts) -> Fields | None:
    """Only the way forward from the lowest to the highest digit is the contract's wrapped sandwich."""
    if ("ALL", "COUNT") in pairwise(concepts):
        # `both counted`: the sum takes in the digits at its ends, which is another rule.
        return None
    pair = _ends(concepts)
    if pair is None or (pair != ("low", "high") and int(pair[0]) > int(pair[1])):
        return None
    if pair == ("low", "high") and concepts.index("LOWEST") > concepts.index("HIGHEST"):
        return None
    bounds = _bounds(pair)
    return None if bounds is None else {"wrap": True, **bounds}


_BREAD = _PLACE + " BETWEEN ENDS SANDWICHNAME EXCLUDED NUM RANGE LOWEST HIGHEST READ SUM FORWARD MOVE"

SANDWICHES = (
    Pattern("sandwich", "OUTSIDE|CLUE|TOTALWORD|SANDWICHNAME|END BETWEEN ENDS SUM|TOTALWORD", _BREAD, settle=_straight),
    Pattern("sandwich", "OUTSIDE|CLUE ENDS|LOWEST|NUM|RANGE SUM|TOTALWORD EXCLUDED", _BREAD, settle=_straight),
    Pattern(
        "sandwich",
        "WRAP SUM|TOTALWORD NUM|ENDS|LOWEST|RANGE FORWARD|LEFTTORIGHT",
        _BREAD + " WRAP COUNT UNTIL LAST FIRST FIRSTOF NEXTONE PREVIOUS FOLLOW OUT",
        settle=_wrapped,
    ),
    Pattern("sandwich", "EXCLUDED NUM|ENDS|RANGE", "NUM BETWEEN ENDS OUTSIDE", gloss=True),
    Pattern("sandwich", "SANDWICHNAME", "", gloss=True),
)


_SKYLINE = _PLACE + (
    " TOWER HEIGHT SEE HIDE BEHIND BOX TALLER SHORTER GREATER LESS COUNT MANY HIGHEST PREVIOUS "
    "POINT REGION ALLDIGITS EQUAL OTHER NEG BETWEEN EXACTLY"
)


def _first_digits(concepts: Concepts) -> Fields | None:
    """The first X digits, X being the first: X has to be named as the first digit."""
    if {"LAST", "NEG", "EXCLUDED", "BACKWARD", "PRODUCT"} & {named(c) for c in concepts}:
        return None
    return {} if sum(c in ("FIRST", "ADJACENT") for c in concepts) >= 2 or "XSUMNAME" in concepts else None


_FIRST = (
    _PLACE
    + " XSUMNAME FIRST LETTER COUNT MANY INCLUDED SEE FROM SUM TOTALWORD SOME EQUAL OUT HIGHEST ITSELF FORWARD ADJACENT"
)

TOWERS_AND_SUMS = (
    Pattern("skyscraper", "TOWER|BOX|REGION SEE COUNT|CLUE|OUTSIDE|MANY", _SKYLINE.replace(" NEG", ""), cost=0.9),
    Pattern("skyscraper", "SEE|COUNT|MANY OUTSIDE|CLUE GREATER|TALLER|LESS PREVIOUS", _SKYLINE.replace(" NEG", "")),
    Pattern("skyscraper", "TOWER|HIDE HIDE|HEIGHT|TALLER|SHORTER|SEE", _SKYLINE, gloss=True),
    Pattern("skyscraper", "TOWER", "TOWER RULE CLUE DIGIT", gloss=True),
    Pattern("x-sum", "SUM|TOTALWORD FIRST LETTER|MANY|COUNT|SOME", _FIRST, settle=_first_digits),
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
