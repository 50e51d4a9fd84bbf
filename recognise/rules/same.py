"""`The same holds for the blue line`: what the sentence before says, of another mark or of other cells."""

from __future__ import annotations

import re

_SAME = re.compile(
    r"\W*(?:(?:exactly |just )?the same (?:goes|holds|applies|is true|is so|rule holds|rule applies|counts)"
    r"(?: (?:true|good))?(?: also| too)? (?:for|to|of|in|on|with)|so (?:do|does|are|is)|likewise(?: for)?|"
    r"so (?:they|it) (?:do|does|are|is) (?:in|on|along)) "
    r"(?P<what>(?:the|each|every|both|all|an?|any)\b[^.;:,]{3,50}?)(?:,? (?:too|as well|also))?\W*$",
    re.I,
)
_NOUN = r"(?:lines?|dots?|bars?|diamonds?|circles?|arrows?|cages?|thermometers?|paths?|rings?|discs?|spots?|squares?)"
_NAMED = re.compile(
    rf"\b(?:(?:an?|the|each|every|any|both|all) )?(?:(?!on |in |by |with |of )[a-z-]+ )?(?P<noun>{_NOUN})\b", re.I
)
_UNITS = re.compile(r"\b(?:rows?|columns?)\b", re.I)
_CELLS = re.compile(r"\b(?:cells|squares|regions?|areas?|diagonals?|zones?)\b", re.I)


def said_again(sentence: str, before: str) -> str:
    """A sentence that says the same of something else, with what it says; any other sentence as it is."""
    same = _SAME.fullmatch(" ".join(sentence.split()))
    if same is None:
        return sentence
    what = same["what"]
    if _UNITS.search(before):
        return f"{what} hold all the digits, each once." if _CELLS.search(what) else sentence
    noun = re.search(rf"\b({_NOUN}|ones?)\b(?=\W*$)", what, re.I)
    marks = list(_NAMED.finditer(before))
    if noun is None or len({mark["noun"].lower().removesuffix("s") for mark in marks}) != 1:
        return sentence
    mark = marks[0]
    told = what if noun[1].lower() not in ("one", "ones") else what[: noun.start()] + mark["noun"]
    return before[: mark.start()] + told + before[mark.end() :] if len(marks) == 1 else sentence
