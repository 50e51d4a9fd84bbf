"""Numerals between cells of which worn print has lost a stroke or more."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import SequenceMatcher

from recognise.rules import Statement
from schema.numerals import numeral

ALIKE, FAR_MORE = 0.5, 0.15
"""Of the letters of two texts those that they share, at least; and how much more that is than of any other numeral."""


def nearest_numeral(text: str, statements: Iterable[Statement]) -> str | None:
    """The one numeral of those for which the rules state sums that a text of several letters is most like; None where
    it is like none of them, or as like another."""
    stated = {s.fields.get("value") for s in statements if s.kind == "sum-pair" and not s.negated}
    numerals = [numeral(value) for value in stated if isinstance(value, int) and 0 < value < 40]
    likeness = sorted(((SequenceMatcher(None, text.upper(), each).ratio(), each) for each in numerals), reverse=True)
    if len(text) < 2 or len(likeness) < 2 or likeness[0][0] < max(ALIKE, likeness[1][0] + FAR_MORE):
        return None
    return likeness[0][1]
