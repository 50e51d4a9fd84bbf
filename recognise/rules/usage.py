"""Words that mean what stands around them lets them mean, each put in the plain word for it: `come back` of digits is
to repeat, `neighbours when you count` are consecutive, `seen when all before it are lower` is what towers do."""

from __future__ import annotations

from recognise.rules.patterns import patterns_of
from recognise.rules.substitution import in_any_case, substituted

_USAGE = in_any_case(patterns_of("usage.txt"))


def by_usage(sentence: str) -> str:
    """The sentence with these words put as what they mean there."""
    return substituted(sentence.replace("’", "'"), _USAGE)
