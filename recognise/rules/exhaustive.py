"""Whether every pair of a sort is marked: sentences that say so, or deny it, put as the two that the patterns know.

Such a sentence has few parts: how many (`all`, `not every`, `only a few`), of what (`white dots`, `them`, `such
pairs`), and whether these are there (`are shown`) or not (`left out`). The parts may be any words of their sort; a
clause with anything beside them is left as it is. Marks that are only called `them` are those of the sentence before.
"""

from __future__ import annotations

import re

from recognise.rules.literals import folded
from recognise.rules.patterns import patterns_of, pieces_of
from recognise.rules.substitution import MARK, in_any_case, substituted

_ALL_SAID = "All possible "
_ALL, _PART = _ALL_SAID + "{} are given", "Not all {}are given"
_UNLIKE = "Unmarked pairs are not consecutive"
_NEITHER = "If there is no {}, one digit is not {} the other"
_SAID = {"all": _ALL, "part": _PART, "unlike": _UNLIKE, "neither": _NEITHER}
_LIKE_SAID = {"all": _UNLIKE, "unlike": _UNLIKE, "part": "Consecutive digits need not be marked"}
"""What is said by clauses of each sort, and what where they speak of pairs by their relation."""
_PIECES = pieces_of("exhaustive.txt")
_GRAMMAR = patterns_of("exhaustive.txt")
_LEAD, _TAIL = _PIECES["LEAD"], _PIECES["TAIL"]
_CLAUSES = in_any_case((f"{_LEAD}(?:{said}){_TAIL}", sort) for said, sort in _GRAMMAR if sort in _SAID)
_ABSENT = in_any_case((said, r"\g<lead>if there is no \g<look>, ") for said, sort in _GRAMMAR if sort == "absent")
_ENDS = re.compile(r"([.;:!]+\s*|,\s+(?=(?:but|and|not|though|so|however|although|yet|while)\b)|\?(?=\s*$))")
_NAMES_THEM = re.compile(rf"\b((?:{_PIECES['SHADE']} )*)({MARK})\b", re.I)


def told_of_all(sentence: str, before: str) -> str:
    """A sentence that says whether all marks are there, or clauses of it that do, put plainly; any other as it is.
    `before` is the sentence before it."""
    plain = " ".join(sentence.replace("’", "'").split())
    parts = _ENDS.split(plain)
    whole = len(parts[0]) >= len(plain) - 1
    # Who says that all are there goes on to say so of pairs without a mark: `All are given: where there is none, ...`.
    whole = whole or any(_told(part, before, whole=False).startswith(_ALL_SAID) for part in parts[::2])
    clauses = [_told(part, before, whole) if at % 2 == 0 and part else part for at, part in enumerate(parts)]
    return "".join(clauses) if clauses != parts else sentence


def _told(clause: str, before: str, whole: bool) -> str:
    plain = folded(clause)
    for rule in _CLAUSES:
        if rule.may_match(plain) and (found := rule.compiled.fullmatch(clause)):
            look = found["look"] if "look" in rule.compiled.groupindex else None
            if "consecutive" in plain and not look:
                return _LIKE_SAID[rule.replacement] if whole else clause
            marks = _plural(look) if look else _named(before)
            if rule.replacement == "neither":
                times = found["times"].lower().replace("halves", "half").removesuffix("s")
                return _NEITHER.format(marks.removesuffix("s"), times) if marks else clause
            if rule.replacement == "part":
                return _PART.format(f"{marks} " if marks else "")
            return _SAID[rule.replacement].format(marks or "marks")
    return substituted(clause, _ABSENT)


def _plural(marks: str) -> str:
    """Marks as printed, in the plural and in words that the lexicon has, of whichever kind they are."""
    marks = re.sub(r"\bpoint", "dot", re.sub(r" of .*", "", marks), flags=re.I)
    marks = re.sub(r"\blozenge", "diamond", marks, flags=re.I)
    marks = re.sub(r"\b(?:arrow ?head|inequality sign)", "sign", marks, flags=re.I)
    return marks if re.search(r"s$|^[XV]$", marks) else f"{marks}s"


def _named(before: str) -> str:
    """The marks that the sentence before speaks of where they are of one sort; empty where they are not."""
    marks = {(look.lower(), noun.removesuffix("s")) for look, noun in _NAMES_THEM.findall(before)}
    if len(marks) != 1:
        return ""
    ((look, noun),) = marks
    return _plural(f"{look}{noun}")
