"""Rows, columns and boxes in one run of clauses, however it says that each holds every digit once.

`None of the digits may be missing from any row, column or box`, `in no row, no column and no box is one doubled`: what
is denied has to be something bad (twice, again, missing), and what is not denied something good (once, all, different).
"""

from __future__ import annotations

from recognise.rules.lexicon import bag
from recognise.rules.pattern import NEUTRAL, Concepts, named
from recognise.rules.sheet import Statement

_UNITS = bag("ROW COLUMN BOX REGION")
_GOOD = bag("ONCE ALLDIGITS NOREPEAT RANGE LETTERS DIFFER")
_BAD = bag("TWICE REPEAT UNMARKED MISSING")
_DENIES = bag("NEG FORBIDDEN")
_OUTLINE = bag("SIZE BOUNDED STYLE IRREGULAR SQUARE")
_ALLOWED = (
    (NEUTRAL - bag("SOME POSSIBLE SELF"))
    | _UNITS
    | _GOOD
    | _BAD
    | _DENIES
    | _OUTLINE
    | bag("EQUAL FLAVOUR LETTERWORD EXACTLY ONLY INSTEAD")
)


def base(concepts: Concepts) -> list[Statement] | None:
    """Rows, columns and the boxes or regions named with them; None where anything else is spoken of."""
    names = [named(c) for c in concepts]
    told = frozenset(names)
    if not {"ROW", "COLUMN"} <= told or told - _ALLOWED or not _holds(names):
        return None
    shapes = bool(told & {"REGION", "IRREGULAR", "BOUNDED"}) and "BOX" not in told
    if ("INSTEAD" in told and not shapes) or ("SQUARE" in told and not told & {"SIZE", "BOUNDED"}):
        return None
    found = [Statement("rows"), Statement("columns")]
    if shapes or "BOX" in told or "SQUARE" in told:
        found.append(Statement("boxes", {"irregular": True} if "IRREGULAR" in told else {}))
    return found


def _holds(names: list[str]) -> bool:
    """Whether what is said comes to every digit once: something bad denied once, or something good not denied."""
    told = frozenset(names)
    denied = [at for at, name in enumerate(names) if name in _DENIES]
    if not denied:
        may = "MAY" in told and not told & {"ONCE", "NOREPEAT", "ONLY"}
        return bool(told & _GOOD) and not told & _BAD and not may and "EQUAL" not in told
    if not told & _BAD or any(names[at + 1 : at + 2] == ["ALL"] for at in denied):
        return False
    return len({_denied(names, at) for at in denied}) == 1


def _denied(names: list[str], at: int) -> str:
    """What a denial comes to first: a unit or a digit that has something bad, or that itself."""
    return next(("bad" if n in _BAD else "thing" for n in names[at + 1 :] if n in _BAD | _UNITS | {"DIGIT"}), "")
