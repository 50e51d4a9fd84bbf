"""What the sign beside a cage number means, told sign by sign: `if it says 6+ they add up to 6, with 6x multiply`.

Where each sign is told by the operation that it stands for, the sign in print says which one a cage has.
"""

from __future__ import annotations

import re

_SIGN = re.compile(r"(?<![\w+×÷/])\d{1,3} ?(?P<sign>[+×x*÷/:−–-])(?![\w+×÷/]| ?\d)")
_TOLD = {
    "+": re.compile(r"\b(?:add\w*|sum\w*|total\w*|plus)\b", re.I),
    "×": re.compile(r"\b(?:multipl\w*|product|times)\b", re.I),
    "-": re.compile(r"\b(?:subtract\w*|minus|differ\w*|take|taken|taking)\b", re.I),
    "÷": re.compile(r"\b(?:divid\w*|division|quotient)\b", re.I),
}
_SAME = {"x": "×", "*": "×", "/": "÷", ":": "÷", "−": "-", "–": "-"}
_FEWEST = 2


def with_signs_told(sentence: str) -> str:
    """The sentence with signs that are told one by one put as the sign that tells; any other sentence as it is."""
    found = list(_SIGN.finditer(sentence))
    if len({_plain(sign) for sign in found}) < _FEWEST:
        return sentence
    ends = [*(sign.start() for sign in found[1:]), len(sentence)]
    if not all(_is_told(_plain(sign), sentence[sign.end() : end]) for sign, end in zip(found, ends, strict=True)):
        return sentence
    return "The operation sign in each cage tells how its digits make the number."


def _plain(sign: re.Match[str]) -> str:
    return _SAME.get(sign["sign"], sign["sign"])


def _is_told(sign: str, words: str) -> bool:
    return [other for other, told in _TOLD.items() if told.search(words)] == [sign]
