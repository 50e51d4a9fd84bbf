"""Tables of patterns and what is put in their place."""

from __future__ import annotations

import re
from collections.abc import Iterable

Table = tuple[tuple[re.Pattern[str], str], ...]

DIGIT = r"(?:digits?|numbers?|figures?|values?)"
"""What a digit is called."""
DIGITS = r"(?:digits?|numbers?|figures?|values?|numerals?|entries|entry|symbols?|characters?)"
"""The same with what it is called now and then."""
MARK = (
    r"(?:dots?|discs?|circles?|rings?|bars?|beads?|blobs?|spots?|marks?|signs?|symbols?|letters?|diamonds?|lozenges?|"
    r"crosses|cross|strokes?|bubbles?|points?|balls?|bullets?|pearls?|markers?|[XV]s?)"
)
"""What a mark between cells is called."""
CELL = r"(?:cells?|squares?|fields?|spaces?)"
"""What a cell is called."""
COLOUR = r"(?:red|blue|green|yellow|orange|purple|pink|brown|gr[ea]y|black|white)"
"""The plain words for colours."""


def in_any_case(pairs: Iterable[tuple[str, str]]) -> Table:
    """A table of patterns that match small letters and capitals alike."""
    return tuple((re.compile(pattern, re.I), replacement) for pattern, replacement in pairs)


def substituted(sentence: str, table: Table) -> str:
    """The sentence with every pattern replaced at all places, first one first."""
    for pattern, replacement in table:
        sentence = pattern.sub(replacement, sentence)
    return sentence
