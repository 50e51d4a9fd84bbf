"""The stiff English of translations and school sheets, put plainly.

Works on a sentence as printed, before the other turns of phrase of `homely.py`.
"""

from __future__ import annotations

from recognise.rules.patterns import patterns_of
from recognise.rules.substitution import in_any_case, substituted

_STIFF = in_any_case(patterns_of("stiff.txt"))


def unstiffened(sentence: str) -> str:
    """The sentence with these turns of phrase put plainly."""
    return substituted(sentence, _STIFF)
