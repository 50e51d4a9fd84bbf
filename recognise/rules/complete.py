"""Whether marks stand wherever they could, in the words of ordinary pages, put as the two sentences that say so."""

from __future__ import annotations

from recognise.rules.patterns import patterns_of
from recognise.rules.substitution import in_any_case, substituted

_COMPLETE = in_any_case(patterns_of("complete.txt"))


def told_whether_complete(sentence: str) -> str:
    """The sentence with what it says of all marks, or of those that are left out, put plainly."""
    return substituted(sentence.replace("’", "'"), _COMPLETE)
