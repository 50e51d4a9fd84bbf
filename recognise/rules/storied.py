"""Marks and rules as short, friendly pages tell them, put as plain rules do: worms with a round head, hungry beaks,
cages by other names, a letter of its own for the first digit, and what is said of places without a mark.
"""

from __future__ import annotations

from recognise.rules.patterns import patterns_of
from recognise.rules.substitution import in_any_case, substituted

_STORIED = in_any_case(patterns_of("storied.txt"))


def storied(sentence: str) -> str:
    """The sentence with what it tells of marks put in plain words."""
    return substituted(sentence, _STORIED)
