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


_THEY_MAY = re.compile(
    r"^\W*(?:they|these|the(?:se)? (?:digits|numbers|figures)|here (?:an?|the same) (?:digit|number|figure))"
    r"(?= (?:may|can|could|might)(?: well| also| even)? (?:repeat|be the same|be repeated|recur|come again|"
    r"(?:be met|appear|occur|stand|come) (?:more than once|twice|again))\b)",
    re.I,
)
_LINES = re.compile(
    rf"\b(?:on|along|under|over|of) (?:an?|the|each|every|any|all)(?: {_SHADE})? "
    r"(?P<mark>line|arrow|shaft|diagonal|path|ribbon|thread)s?\b",
    re.I,
)


def they_named(sentence: str, before: str) -> str:
    """The sentence with `they may repeat` put as the digits on the line, arrow or diagonal of which the sentence before
    speaks, where it speaks of no other."""
    marks = {found["mark"].lower() for found in _LINES.finditer(before)}
    if len(marks) != 1 or re.search(r"\b(?:cages?|regions?|areas?|rows?|columns?|cells?)\b", before, re.I):
        return sentence
    (mark,) = marks
    return _THEY_MAY.sub(f"The digits on the {mark}", sentence)


_OUTLINED = r"(?:outlined|framed|fenced(?:-off)?|bordered|dashed|dotted|ringed|enclosed|edged|encircled|walled)"
_AN_AREA = re.compile(
    rf"\b(?:an?|one)\b(?: (?:{_SHADE}|{_OUTLINED}|small|large|odd|strange|irregular))+ "
    r"(?!rows?\b|columns?\b|box\b|lines?\b)[a-z-]+"
    r"(?: (?:of|with) (?:six|seven|eight|nine|ten|\d{1,2}) (?:cells|squares))",
    re.I,
)
_IT_TOO = re.compile(
    r"^\W*(?:it|this|that)(?: too| also| as well| likewise)+,? (?:has|holds|contains|takes|must (?:have|hold|contain)) "
    r"(?=(?:every|each|all|the digits|the numbers)\b)",
    re.I,
)


def area_named(sentence: str, before: str) -> str:
    """`It too has every digit` put as what the additional region holds that the sentence before presents: read by
    itself it goes on about the rows."""
    return _IT_TOO.sub("The additional region holds ", sentence) if _AN_AREA.search(before) else sentence
