"""Words that stand for a mark named in the sentence before: `On orange ones, neighbours differ by 4`."""

from __future__ import annotations

import re

from recognise.rules.substitution import COLOUR

_MARK = (
    r"(?:lines?|dots?|discs?|circles?|rings?|bars?|diamonds?|squares?|arrows?|cages?|thermometers?|paths?|ribbons?|"
    r"threads?|spots?|beads?|blobs?|areas?|regions?|cells?|numbers?|clues?)"
)
_SHADE = rf"(?:(?:light|dark|pale|bright|deep) )?(?:{COLOUR[3:-1]}|violet|teal|turquoise|cyan|gold(?:en)?|beige|lilac)"
_ONES = re.compile(
    rf"\b(?P<who>(?:on|along|in|by|with|the|an?|each|every|all)(?: the| an?)? |^\W*(?:and |but )?)(?P<look>{_SHADE}|"
    rf"dashed|dotted|hollow|solid|thin|thick|filled|open|plain) (?P<one>ones?)\b",
    re.I,
)
_NAMED = re.compile(
    rf"\b(?:{_SHADE}|dashed|dotted|hollow|solid|thin|thick|filled|open|plain) (?P<mark>{_MARK})\b", re.I
)


def ones_named(sentence: str, before: str) -> str:
    """The sentence with `orange ones` put as the mark that the sentence before names by another look, where that names
    marks of one sort only."""
    marks = {found["mark"].lower().removesuffix("s") for found in _NAMED.finditer(before)}
    if len(marks) != 1 or _NAMED.search(sentence):
        return sentence
    (mark,) = marks
    return _ONES.sub(lambda one: f"{one['who']}{one['look']} {mark}{'s' if one['one'].endswith('s') else ''}", sentence)
