"""What digits do, in whole fields of verbs and turns put as the plain words that the lexicon has: how they add up, how
far apart they are, whether they may come again.

Works on a sentence after the turns of phrase that other tables know, so that it meets only what those have left.
"""

from __future__ import annotations

from recognise.rules.patterns import patterns_of, pieces_of
from recognise.rules.substitution import in_any_case, substituted

_PIECES = pieces_of("doings.txt")
LOWER, HIGHER = _PIECES["LOWER"], _PIECES["HIGHER"]
"""Words for the one digit of two and for the other."""
_RELATIONS = in_any_case(patterns_of("doings.txt"))


def with_doings_plain(sentence: str) -> str:
    """The sentence with what digits do put in plain words."""
    return substituted(sentence, _RELATIONS)
