"""Cases in figures: what a text shows by example, or what follows from a rule that it has told, states nothing new.

`..., so a 3 may stand beside an 8 but not beside a 7`, `If a row starts 3, 8, 1, the clue at its left would be 12.`
"""

from __future__ import annotations

import re

_FIGURE = re.compile(r"(?<![\w=:])\d{1,2}(?![\w=:])")
_LETTER = re.compile(r"(?<![\w'])[B-HJ-Z](?![\w'])")
"""A letter that stands for something: `(V is 5, X is 10)`."""
_CONSEQUENCE = re.compile(
    r"[,:;]?\s*\b(?:and )?(?:so|thus|hence|which means|meaning)(?: that)?,?\s+(?P<told>[^.;]*)", re.I
)
_SPEAKS_OF_MORE = re.compile(
    r"\b(?:without|letters?|dots?|bars?|marks?|each|every|all|any|digits|once|repeat\w*|sum\w*|total\w*|add\w*|clues?|"
    r"rows?|columns?|box\w*|lines?|cages?|cells?|diagonals?|from|unless|except)\b",
    re.I,
)
"""A consequence with one of these may be a rule of its own."""
_CASE = re.compile(r"\W*(?:(?:so|thus|say|and|for (?:example|instance)),? )?(?:if|when|where|suppose|with)\b", re.I)
_SUPPOSED = re.compile(r"\b(?:would|could|might|say|for (?:example|instance))\b", re.I)
_OF_A_CLUE = re.compile(r"\b(?:row|column|clue|sum|total|you see)\b", re.I)
_OF_ONE = re.compile(r"\W*(?:so )?(?:an?|the) \w+ (?:marked|labelled|of|with|showing|reading)(?: an?| the)? \d", re.I)
_RULES = re.compile(r"\b(?:each|every|all|must|always|unless|except|only|from \d)\b", re.I)
_FEWEST, _FEWEST_OF_A_CASE = 2, 3
"""Figures of a consequence, and of a case told by itself."""


_BESIDE = r"(?:edge|border|rim|margin|end|side)"
_ONE_CLUE = re.compile(
    r"^(?P<start>\W*(?:if |when |where )?)(?:an?|the) (?P<clue>[1-9]\d) "
    rf"(?P<place>(?:outside|beside|(?:at|in|on) the {_BESIDE})\b[^.;]*)(?P<end>[.;!]*\s*)$",
    re.I,
)


def _told_of_all(sentence: str) -> str:
    """What is told of one clue beside the grid, told of any: `A 17 outside means that the digits ... sum to 17`."""
    found = _ONE_CLUE.match(sentence)
    if found is None:
        return sentence
    again = re.compile(rf"(?<![\w=:-]){found['clue']}(?![\w=:-])")
    if len(again.findall(found["place"])) != 1:
        return sentence
    return f"{found['start']}The number {again.sub('that number', found['place'])}{found['end']}"


def without_cases(sentence: str) -> str:
    """The sentence without what it shows by figures only; empty where it does nothing else."""
    if _is_case(sentence):
        return ""
    told = _CONSEQUENCE.sub(lambda found: " " if _follows(found["told"]) else found[0], sentence)
    return _told_of_all(told)


def _follows(told: str) -> bool:
    return len(_FIGURE.findall(told)) >= _FEWEST and not (_LETTER.search(told) or _SPEAKS_OF_MORE.search(told))


def _is_case(sentence: str) -> bool:
    figures = len(_FIGURE.findall(sentence))
    if _LETTER.search(sentence) or _RULES.search(sentence):
        return False
    supposed = _SUPPOSED.search(sentence) is not None
    if _CASE.match(sentence):
        return figures >= _FEWEST_OF_A_CASE and (supposed or _OF_A_CLUE.search(sentence) is not None)
    return supposed and figures >= _FEWEST_OF_A_CASE and _OF_ONE.match(sentence) is not None
