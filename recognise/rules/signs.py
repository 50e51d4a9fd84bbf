"""What the sign beside a cage number means, told sign by sign: `if it says 6+ they add up to 6, with 6x multiply`.

Where each sign is told by the operation that it stands for, the sign in print says which one a cage has.
"""

from __future__ import annotations

import re

_SIGN = re.compile(r"(?<![\w+×÷/])\d{1,3} ?(?P<sign>[+×x*÷/:−–-])(?![\w+×÷/]| ?\d)")
_LESS, _MORE = r"(?:smaller|lesser|lower)", r"(?:larger|greater|bigger|higher)"
_TOLD = {
    "+": re.compile(r"\b(?:add\w*|sum\w*|total\w*|plus)\b", re.I),
    "×": re.compile(r"\b(?:multipl\w*|product|times)\b", re.I),
    "-": re.compile(rf"\b(?:subtract\w*|minus|differ\w*|take|taken|taking|{_LESS} from (?:the )?{_MORE})\b", re.I),
    "÷": re.compile(rf"\b(?:divid\w*|division|quotient|{_MORE} by (?:the )?{_LESS})\b", re.I),
}
_SAME = {"x": "×", "*": "×", "/": "÷", ":": "÷", "−": "-", "–": "-"}
_FEWEST = 2
_MOST = 3
"""Operations that a list names where it is the signs that are told: no rule of another kind has so many."""
_HOW = re.compile(
    r"\b(?:how|way|result|target|outcome|answer|total|operat\w+|sign|symbol)\b[^.;]*?(?::|\bof\b|\bby\b|\()", re.I
)
"""A number and how it comes about, before the list of ways."""


def with_signs_told(sentence: str) -> str:
    """The sentence with signs that are told one by one put as the sign that tells; any other sentence as it is."""
    if _is_list_of_operations(sentence):
        return _BY_ITS_SIGN
    found = list(_SIGN.finditer(sentence))
    if len({_plain(sign) for sign in found}) < _FEWEST:
        return sentence
    ends = [*(sign.start() for sign in found[1:]), len(sentence)]
    if not all(_is_told(_plain(sign), sentence[sign.end() : end]) for sign, end in zip(found, ends, strict=True)):
        return sentence
    return _BY_ITS_SIGN


_BY_ITS_SIGN = "The operation sign in each cage tells how its digits make the number."


def _is_list_of_operations(sentence: str) -> bool:
    """Whether a number and how it comes about are followed by a list of operations, each by its sign or in brackets:
    `a total and how it was reached: + added up, × multiplied, − the smaller from the larger`. OCR may have misread the
    signs; the words tell."""
    how = None if _OTHERWHERE.search(sentence) else _HOW.search(sentence)
    told = how is not None and sum(bool(words.search(sentence, how.end() - 1)) for words in _TOLD.values())
    return bool(told and told >= _MOST and _BARE_SIGN.search(sentence, how.end() - 1 if how else 0))


_OTHERWHERE = re.compile(r"\b(?:rows?|columns?|between (?:the |two )?(?:cells|squares|digits))\b", re.I)
_BARE_SIGN = re.compile(r"(?:^|[\s(:,;])[+×x*÷/:−–—=«-](?=[\s):,;]|$)")


def _plain(sign: re.Match[str]) -> str:
    return _SAME.get(sign["sign"], sign["sign"])


def _is_told(sign: str, words: str) -> bool:
    return [other for other, told in _TOLD.items() if told.search(words)] == [sign]
