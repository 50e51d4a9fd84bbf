"""Turns of phrase of ordinary rules texts put in the plain words that the lexicon has, before they are looked up."""

from __future__ import annotations

from recognise.rules.patterns import patterns_of
from recognise.rules.substitution import in_any_case, substituted

_PLAINER = in_any_case(patterns_of("plainer.txt"))


def in_plain_words(sentence: str) -> str:
    """The sentence with each of these turns of phrase put plainly."""
    sentence = sentence.replace("’", "'")
    return substituted(sentence, _PLAINER)
