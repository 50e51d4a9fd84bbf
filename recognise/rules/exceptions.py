"""What takes cells or marks out of a rule, or lets them break it: `every row but one`, `give or take one`.

A rule read without its exception is a wrong rule, and no kind has a field for one: a person must look at it.
"""

from __future__ import annotations

import re

_PLACE = r"(?:rows?|columns?|box(?:es)?|blocks?|squares?|regions?|cages?|lines?|dots?|clues?|thermometers?)"
_ALL = rf"\b(?:every|each|all|any)(?: of)?(?: the)? (?:\w+ )?{_PLACE},?"
_BUT = r"\b(?:but|save|bar|barring|except|excepting|excluding)(?: for| in)?"
_SOME = rf"(?:the )?(?:one|two|three|first|last|middle|central|centre|top|bottom|left|right|{_PLACE})\b"
_EQUAL = r"(?:equal|identical|same|like) (?:digits|numbers|figures)"
_MARK = rf"(?:{_PLACE}|arrows?|circles?|marks?|signs?)"
_ONE = rf"(?:one|two|three|an?)(?: of (?:them|these|those|the))?(?: (?:\w+ )?{_MARK})?"
_NUMBER = r"(?:\d|ones?|twos?|threes?|fours?|fives?|six(?:es)?|sevens?|eights?|nines?|odd|even)"
_EXCEPTION = re.compile(
    rf"{_ALL} {_BUT} {_SOME}"
    rf"|\b{_PLACE}\b[^.;:]{{0,60}}, ?{_BUT} (?:the )?{_PLACE} \d"
    r"|\b(?:except|excepting|barring)(?: for| those| where| when)? (?:in|on|at|within|inside|along)\b"
    r"|\bgive or take\b"
    rf"|\b{_ONE} (?:has|have) (?:lost|been (?:left out|lost|forgotten|omitted|moved|misplaced|swapped))\b"
    r"|\b(?:but|though|although|yet|except that) one of (?:them|these|those|the)\b"
    r"|\b(?:on|in|for) (?:just |only |exactly )?one of (?:them|these|those)(?=\W*$)"
    rf"|\b(?:twice|again|repeat(?:s|ed)?|recurs?|differ(?:ent)?),? {_BUT} (?:the |an? )?{_NUMBER}s?(?=\W*$)"
    r"|\bfrom (?:the|its|their) \w+ or (?:to|towards?) (?:it|them|the \w+)\b"
    rf"|(?<!\bno )\b(?:two|three|some) {_EQUAL} (?:may|can|could) (?!never|not)[^.;:]*\b{_PLACE}\b",
    re.IGNORECASE,
)


def makes_an_exception(sentence: str) -> bool:
    """Whether a sentence takes something out of what it says of all."""
    return _EXCEPTION.search(sentence) is not None


_HARDLY_ALL = re.compile(
    r"\b(?:almost|nearly|practically|virtually|usually|mostly|often|generally|sometimes|rarely|seldom|scarcely|unless)\b"
    r"|\b(?:all|each|every|any|no|none|nothing)(?: \w+)? (?:but|save|bar) (?:one|two|three|once|twice|the|an?)\b"
    r"|\b(?:all but|but one|but once|save one|save once|bar one)\b|\bexcept|\bexcluding\b"
    r"|\bother than\b|(?<!\d )(?<!more )(?<!two )(?<!three )(?<!four )(?<!five )(?<!six )\bapart from\b",
    re.IGNORECASE,
)


def may_fall_short(sentence: str) -> bool:
    """Whether a sentence has plain words by which it may not hold of all: whoever hears a rule in it may miss them."""
    return _HARDLY_ALL.search(sentence) is not None
