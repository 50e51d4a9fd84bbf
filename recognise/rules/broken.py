"""Lists of rows, columns and boxes that OCR broke in two: `1 to 9 in every row. Every column and every 3x3 box.`"""

from __future__ import annotations

import re

_UNIT = r"(?:(?:no|none|every|each|all|any|the|in|of|and|or|nor|nine|big|bold|small|3 ?[x×] ?3|2 ?[x×] ?3) )*"
_NOUN = r"(?:rows?|columns?|box(?:es)?|blocks?|squares?|regions?)"
_LIST = rf"{_UNIT}{_NOUN}(?:,? {_UNIT}{_NOUN})*"
_ENDS_AT_A_UNIT = re.compile(r"\b(?:rows?|columns?)\s*[.;]\s*$", re.I)
_ONLY_UNITS = re.compile(rf"\W*{_LIST}\s*[.;]?\W*", re.I)
_BEGINS_WITH_UNITS = re.compile(rf"\W*{_LIST}\b", re.I)


def goes_on(before: str, piece: str) -> bool:
    """Whether a piece of text goes on with the list of units that the one before it ends with: one of the two has to
    be nothing but such a list, and so no sentence."""
    if _ENDS_AT_A_UNIT.search(before) is None or _BEGINS_WITH_UNITS.match(piece) is None:
        return False
    return _ONLY_UNITS.fullmatch(piece) is not None or _ONLY_UNITS.fullmatch(before) is not None


def joined(before: str, piece: str) -> str:
    """The two as one sentence."""
    return f"{before.rstrip().rstrip('.;')}, {piece}"
