"""What OCR broke in two: lists of rows, columns and boxes (`1 to 9 in every row. Every column and every 3x3 box.`), and
sentences of which the page's lines were taken for paragraphs (`Orthogonal neighbours are` and `never consecutive`)."""

from __future__ import annotations

import re

_UNIT = r"(?:(?:no|none|every|each|all|any|the|in|of|and|or|nor|nine|big|bold|small|3 ?[x×] ?3|2 ?[x×] ?3) )*"
_NOUN = r"(?:rows?|columns?|box(?:es)?|blocks?|squares?|regions?)"
_LIST = rf"{_UNIT}{_NOUN}(?:,? {_UNIT}{_NOUN})*"
_ENDS_AT_A_UNIT = re.compile(r"\b(?:rows?|columns?)\s*[.;]\s*$", re.I)
_ONLY_UNITS = re.compile(rf"\W*{_LIST}\s*[.;]?\W*", re.I)
_BEGINS_WITH_UNITS = re.compile(rf"\W*{_LIST}\b", re.I)


_OPEN = re.compile(
    r"\b(?:are|is|means?|the|an?|of|to|and|or|in|on|by|with|that|which|must|may|from|between|each|every|both|its|their|"
    r"not|no|never|has|have|holds?|contains?|shows?|gives?|sums?)\s*$",
    re.I,
)
"""A word that ends no sentence."""
_ENDS_IN_A_WORD = re.compile(r"[A-Za-z]{2}\s*$")
_BEGINS_LOW = re.compile(r"\s*(?:\d|[a-z])")
_BEGINS_WITHIN = re.compile(r"\s*(?:in|on|of|at|by|never|not|must|and|or|which|are|is|with|from|to|between)\b")

_SPECK = re.compile(r"[a-z]{2}\.\s*$")
_BEGINS_WITH_A_VERB = re.compile(
    r"\s*(?:equals?|is|are|adds?|sums?|totals?|must|may|cannot|holds?|contains?|differs?|rises?|increases?|gives?)\b"
)


def goes_on(before: str, piece: str, listed: bool) -> bool:
    """Whether a piece of text goes on with what the one before it has begun: the one ends or the other begins as no
    sentence does, or one of the two is nothing but a part of a list of units. A `listed` piece stands alone."""
    if not listed and _OPEN.search(before) and _BEGINS_LOW.match(piece):
        return True
    if not listed and _ENDS_IN_A_WORD.search(before) and _BEGINS_WITHIN.match(piece):
        return True
    if not listed and _SPECK.search(before) and _BEGINS_WITH_A_VERB.match(piece):
        return True
    if _ENDS_AT_A_UNIT.search(before) is None or _BEGINS_WITH_UNITS.match(piece) is None:
        return False
    return _ONLY_UNITS.fullmatch(piece) is not None or _ONLY_UNITS.fullmatch(before) is not None


def joined(before: str, piece: str) -> str:
    """The two as one sentence."""
    if _ENDS_IN_A_WORD.search(before):
        return f"{before.rstrip()} {piece.lstrip()}"
    if _BEGINS_WITH_A_VERB.match(piece):  # its stop was a speck
        return f"{before.rstrip().rstrip('.')} {piece.lstrip()}"
    return f"{before.rstrip().rstrip('.;')}, {piece}"
