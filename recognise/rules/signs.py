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
    "-": re.compile(
        rf"\b(?:subtract\w*|minus|differ\w*|take|taken|taking|"
        rf"{_LESS} from (?:the )?{_MORE}|{_MORE}(?: \w+)? (?:less|minus) (?:the )?{_LESS})\b",
        re.I,
    ),
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


_NAMED = re.compile(
    r"(?:^|(?<=[,;:(])|\band\b)\W*?(?:(?:with|for|at|by|in|where there is) )?(?:(?:an?|the) )?"
    r"(?:(?<![\w+×÷/])(?P<sign>[+×x*÷/−–-])|(?P<plus>plus)|(?P<minus>minus)|(?P<times>cross|times)|(?P<by>slash|stroke))"
    r"(?: sign)?(?=[ ,:])",
    re.I,
)
"""A sign by itself, or by its name, where what it means follows."""
_SIGNS = {"plus": "+", "minus": "-", "times": "×", "by": "÷"}
_ONLY_SO = re.compile(
    r"(?:\W|\b(?:with|for|at|by|in|of|an?|the|it|its|is|are|be|to|they|them|their|you|must|do|two|both|all|and|"
    r"inside|there|from|into|sign|means?|says?|gives?|makes?|gets?|comes?|up|together|everything|digits?|numbers?|figures?|"
    r"cells?|cages?|frames?|fences?|result|this|that|sum\w*|add\w*|total\w*|multipl\w*|product|subtract\w*|differ\w*|"
    r"take|taken|taking|away|less|minus|divid\w*|division|quotient|"
    rf"(?:{_LESS}|{_MORE})(?: ones?)?)\b)*"
)
"""All that may be said of a sign beside what it stands for."""
_TURNED = re.compile(
    rf"\b(?:{_MORE}(?: \w+)? from (?:the )?{_LESS}|"
    rf"{_LESS}(?: \w+)? (?:less|minus|divided by|by|take away) (?:the )?{_MORE}|of (?:both|two))\b"
)
"""The one taken from the other the wrong way, or something told of two cells of perhaps more."""
_OF_OTHERS = re.compile(
    r"\b(?:not?|never|none|except|but|only|some|most|unless|without|different|differ|repeat\w*|odd|even|prime|outside|"
    r"first|last|same|thermometers?|circles?|dots?|diagonals?|rises?|increase\w*|neighbour\w*|adjacent|rows?|columns?|"
    r"box(?:es)?|lines?|arrows?|between)\b|\d",
    re.I,
)
"""What is told of signs of another sort, or of more than signs."""


def with_signs_told(sentence: str) -> str:
    """The sentence with signs that are told one by one put as the sign that tells; any other sentence as it is."""
    if _is_list_of_operations(sentence) or _tells_signs_by_name(sentence) or _tells_one_sign(sentence):
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


def _tells_signs_by_name(sentence: str) -> bool:
    """Whether a sentence tells of several signs, by themselves or by name, what each stands for and nothing else: `with
    + they add up to it, with − it is the bigger one take away the smaller`, `plus means their sum, the cross their
    product`."""
    found = list(_NAMED.finditer(sentence))
    signs = [_SIGNS.get(sign.lastgroup or "", _plain(sign)) for sign in found]
    if len(set(signs)) < max(_FEWEST, len(signs)) or _OF_OTHERS.search(sentence[: found[0].start()]):
        return False
    ends = [*(sign.start() for sign in found[1:]), len(sentence)]
    told = [sentence[sign.end() : end] for sign, end in zip(found, ends, strict=True)]
    return all(
        _is_told(sign, words) and _ONLY_SO.fullmatch(words.lower()) and not _TURNED.search(words.lower())
        for sign, words in zip(signs, told, strict=True)
    )


_ONE_SIGN = re.compile(
    r"^\W*?(?:(?:an?|the) )?(?P<sign>(?<![\w+×÷/])[+×x*÷/−–-](?![\w+×÷/])|plus|minus|times|cross)?(?: sign)?\W{0,3}"
    r"(?:means?|says?|stands for|is|tells(?: you)? to|asks(?: you)? to|[:=])\W+(?=\w)|"
    r"^\W*(?:with|for|at|by) (?:an? |the )?(?P<with>(?<![\w+×÷/])[+×x*÷/−–-](?![\w+×÷/])|plus|minus|times|cross)"
    r"(?: sign)?[,:]? (?=[(\w])",
    re.I,
)
"""A sign at the head of a sentence, and that its meaning follows: `− means: take the smaller from the larger`. Of
`means: add them` the sign was taken for the mark of a list."""


def _tells_one_sign(sentence: str) -> bool:
    """Whether a sentence of a list tells of one sign what it stands for, and nothing else."""
    found = _ONE_SIGN.match(sentence)
    named = found and (found["sign"] or found["with"])
    if found is None or not (named or sentence.lower().startswith("means")):
        return False
    words = sentence[found.end() :]
    sign = (named or next((sign for sign in _TOLD if _is_told(sign, words)), "")).lower()
    sign = {"plus": "+", "minus": "-", "times": "×", "cross": "×"}.get(sign, _SAME.get(sign, sign))
    return (
        _is_told(sign, words)
        and _ONLY_SO.fullmatch(words.lower()) is not None
        and not _TURNED.search(words.lower())
        and not _OF_OTHERS.search(words)
    )


_OTHERWHERE = re.compile(r"\b(?:rows?|columns?|between (?:the |two )?(?:cells|squares|digits))\b", re.I)
_BARE_SIGN = re.compile(r"(?:^|[\s(:,;])[+×x*÷/:−–—=«-](?=[\s):,;]|$)")


def _plain(sign: re.Match[str]) -> str:
    return _SAME.get(sign["sign"], sign["sign"])


def _is_told(sign: str, words: str) -> bool:
    return [other for other, told in _TOLD.items() if told.search(words)] == [sign]
