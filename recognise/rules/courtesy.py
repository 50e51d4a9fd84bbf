"""What a page says to its reader around a rule, left out: `It falls to me to remind you that ...`, `, I am sure,`.

Such a stretch holds no word that rules use; a denial is such a word, for `I do not say that ...` takes back what
follows.
"""

from __future__ import annotations

import re

from recognise.rules.lexicon import NUMBERS, PHRASES, bag
from recognise.rules.pattern import NEUTRAL, named
from recognise.rules.patterns import patterns_of, pieces_of

_FILE = "courtesy.txt"
_PIECES = pieces_of(_FILE)
_PERSON, _IDIOM = re.compile(_PIECES["PERSON"]), re.compile(_PIECES["IDIOM"], re.I)
_DENIAL = re.compile(_PIECES["DENIAL"], re.I)
_ADDRESS, _DWELLS = re.compile(_PIECES["ADDRESS"], re.I), re.compile(_PIECES["DWELLS"], re.I)
_OPENINGS = tuple(re.compile(pattern, re.I) for pattern, _ in patterns_of(_FILE))
_BETWEEN_COMMAS = re.compile(r",\s+([^,.;:!?()]{4,70}),(?=\s)")
_WORD = re.compile(r"[^\W\d_][\w'-]*|\d+")
_IDLE = (NEUTRAL - bag("DIGIT CELL PAIR ALLDIGITS REST IFF")) | bag(
    "SUDOKU STANDARD FLAVOUR NEXTONE LAST OTHER SOLUTION SEE READ ANYORDER MOVE FURTHER PREVIOUS"
)
"""Concepts that are no rule's."""
_ENDINGS = ("", "s", "es", "d", "ed", "ing", "'s")


def without_courtesy(sentence: str) -> str:
    """The sentence without what it says to its reader."""
    told = sentence.replace("’", "'")
    for address in (_ADDRESS, _DWELLS):
        found = address.match(told)
        told = told[found.end() :] if found else told
    for opening in _OPENINGS:
        found = opening.match(told)
        if found and _is_idle(found[1]):
            told = told[found.end() :]
    return _BETWEEN_COMMAS.sub(lambda aside: " " if _is_aside(aside[1]) else aside[0], told)


def _is_aside(told: str) -> bool:
    return _PERSON.search(told) is not None and _is_idle(told)


def _is_idle(told: str) -> bool:
    """Whether no word of a stretch is one that rules use, or takes back what follows."""
    words = _WORD.findall(_IDIOM.sub("", told).lower())
    return not _DENIAL.search(told) and not any(map(_is_telling, words))


def _is_telling(word: str) -> bool:
    if word.isdigit() or word in NUMBERS or word.endswith("n't"):
        return word != "one"
    stems = (word.removesuffix(ending) for ending in _ENDINGS if word.endswith(ending))
    concepts = (concept for stem in stems for concept in PHRASES.get((stem,), "").split())
    return any(named(concept) not in _IDLE for concept in concepts)
