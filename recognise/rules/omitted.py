"""Whether all marks are there or some are left out, in whole fields of words, put as the two sentences that say so.

Works on a sentence after the turns of phrase that `complete.py` knows.
"""

from __future__ import annotations

from recognise.rules.patterns import patterns_of
from recognise.rules.substitution import in_any_case, substituted

_ALL_OR_NOT = in_any_case(patterns_of("omitted.txt"))


def with_omissions_told(sentence: str) -> str:
    """The sentence with what it says of marks that are left out, or of all of them, put plainly."""
    return substituted(sentence, _ALL_OR_NOT)
