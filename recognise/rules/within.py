"""Whether a sentence keeps to the field of one kind: its marks, what they relate, places in a grid, ways of telling.

Such a sentence, even where its grammar is not understood, can say only what that kind says: it states it, counts its
marks, gives an example or draws a consequence. Whether it does, the proof of the page knows
(`recognise/doubt/telling.py`). A denial, an exception, a measure, a relation that the kind can do without, a number
that the page does not hold or a word of another field makes it a sentence of another sort.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Set
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from recognise.rules.frames import told_of
from recognise.rules.lexicon import bag
from recognise.rules.loose import SLACK
from recognise.rules.pattern import NEUTRAL, Pattern, named
from recognise.rules.phrases import reduced
from recognise.rules.presents import presented
from recognise.rules.readings import PATTERNS
from recognise.rules.stating import hedged
from recognise.rules.words import CUT, UNKNOWN, longest_phrase, plain_forms, tokens
from schema.kinds.base import Constraint
from schema.marks import Family

_OTHERWISE = bag(
    "NEG NEEDNOT EXCEPT ONLY EXACTLY ATMOST ATLEAST SOME SECOND OTHER INSTEAD NOTALL LIMIT LIMITED SIGNED EITHERWAY "
    "OR IFF UNMARKED NOTHINGMEANS EVERYMARK UNTIL EXCLUDED INCLUDED TWICE FIRST LAST SOLUTION UNIQUE "
    "ALLDIGITS ORDER TOBULB"
)
"""Denials, exceptions, measures and choices: what makes another rule of the same words."""
_RELATIONS = bag(
    "SUM PRODUCT DIFFERENCE QUOTIENT RATIO TIMES DOUBLE TRIPLE CONSECUTIVE NONCONSECUTIVE GAP DIFF INCREASE DECREASE "
    "NOTDECREASE NOTLESS NOTBYONE GREATER GE LESS SMALLER ASLARGE ASSMALL HIGHEST LOWEST EVEN ODD SAMEAS DIFFER "
    "NOREPEAT ONCE REPEAT MAYREPEAT KNIGHT KING ANTIKNIGHT ANTIKING PALINDROME MIRROR IMAGE HIDE SEE TALLER SHORTER "
    "NOGAP ANYORDER AMONG ATLEASTONCE SLOW WRAP APART"
)
"""What digits may be to each other."""
_PLACES = bag("ROW COLUMN BOX ADJACENT NEXTONE")
"""What a clue beside the grid, or a mark between cells, may go by; of other marks it is a condition more."""
_NOUNS = bag(
    "THERMO ARROW SHAFT BULB TIP HEAD PILL LINE CIRCLE CAGE BOUNDED SMALLNUM DOT BAR DIAMOND LETTER SIGN SQUARE SHADED "
    "REGION OUTSIDE DIAGONAL CORNER MARK"
)
"""What marks and their parts are called."""
_OF_FAMILY: dict[Family, frozenset[str]] = {
    "tube": bag("THERMO BULB TIP HEAD"),
    "line": bag("LINE"),
    "ringed-line": bag("LINE CIRCLE"),
    "arrow": bag("ARROW SHAFT HEAD BULB CIRCLE TIP PILL"),
    "cage": bag("CAGE BOUNDED SMALLNUM CORNER"),
    "area": bag("SHADED REGION"),
    "cell": bag("SHADED SQUARE CIRCLE MARK"),
    "edge": bag("DOT BAR DIAMOND CIRCLE LETTER SIGN MARK HEAD TIP"),
    "corner": bag("CIRCLE CORNER MARK"),
    "outside": bag("OUTSIDE"),
    "outside-diagonal": bag("OUTSIDE ARROW DIAGONAL HEAD"),
    "diagonal": bag("DIAGONAL LINE"),
}
"""What the marks of each family are called (`schema/marks.py`)."""
_BACK = bag("IT THIS CLUE TOTALWORD")
"""What goes back to marks that were named before."""
_BESIDE = NEUTRAL | SLACK | bag("COLOUR STYLE SHADED BETWEEN ADJACENT EDGE JOIN POINT NUM RANGE FORWARD")
_MARK = r"(?:THERMO|ARROW|CAGE|DOT|BAR|DIAMOND|SIGN|LINE|CIRCLE|SQUARE|LETTER|MARK|CLUE|DIAGONAL|REGION)(?!\S)"
_COUNT = re.compile(rf"(?<!\S)NUM=(\d+) ((?:(?:COLOUR|STYLE)=\S+ |SHADED |BOUNDED |OUTSIDE |GIVEN )*{_MARK})")
_NUMBER = re.compile(r"\d+")


@dataclass(frozen=True, slots=True)
class Told:
    """What a sentence tells of a kind. `counts` are the numbers of marks that it names and `numbers` all others in it;
    `relations` are what it says that digits are to each other. `marks` says that it names such marks or goes back to
    them, `allows` that it only permits, `present` that it only says that marks are there."""

    counts: frozenset[int]
    numbers: frozenset[int]
    relations: frozenset[str]
    marks: bool
    allows: bool
    present: bool


def told_within(sentence: str, kind: type[Constraint]) -> Told | None:
    """What a sentence tells of a kind, where all of it belongs to that kind; None where something does not."""
    concepts = _concepts(sentence)
    if not concepts or _OTHERWISE.intersection(map(named, concepts)):
        return None
    name, about = kind.model_fields["kind"].default, reduced(concepts)
    names = frozenset(map(named, about))
    nouns = _nouns(kind)
    whole = any(_has_all(pattern, names) for pattern in _patterns(name))
    if not _keeps_to(names, name, nouns) or ("EQUAL" in names and not whole):
        return None
    text = " ".join(concepts)
    counts = frozenset(int(match[1]) for match in _COUNT.finditer(text))
    uncounted = _COUNT.sub(r"\2", text)
    present = bool(presented(reduced(tuple(uncounted.split()))))
    return Told(
        counts,
        frozenset(_numbers(uncounted)),
        names & _RELATIONS,
        bool(names & (nouns | _BACK)),
        hedged(about),
        present,
    )


def _keeps_to(names: Set[str], kind: str, nouns: Set[str]) -> bool:
    """Whether concepts are all of the field of a kind whose marks go by some nouns."""
    if _OTHERWISE & names or names - _field(kind) - _BESIDE:
        return False
    told = _RELATIONS if nouns & bag("OUTSIDE DOT") else _RELATIONS | _PLACES
    if names & told - _needed(kind):
        return False
    return names & _NOUNS <= nouns


def _has_all(pattern: Pattern, names: Set[str]) -> bool:
    return all(names & set(group.split("|")) for group in pattern.needs.split())


def relations_of(sentence: str) -> frozenset[str]:
    """What a sentence says that digits are to each other."""
    return _RELATIONS.intersection(map(named, reduced(_concepts(sentence))))


def nouns_of(sentence: str) -> frozenset[str]:
    """What a sentence calls the marks of which it speaks."""
    return _NOUNS.intersection(map(named, _concepts(sentence)))


def nouns_of_family(family: Family) -> frozenset[str]:
    """What marks of a family are called."""
    return _OF_FAMILY.get(family, frozenset())


def _numbers(text: str) -> Iterator[int]:
    for concept in text.split():
        if not concept.startswith(("COLOUR", "STYLE")):
            yield from map(int, _NUMBER.findall(concept))


@lru_cache(maxsize=1024)
def _concepts(sentence: str) -> tuple[str, ...]:
    """The concepts of a sentence without words that only tell."""
    words, found, at = list(tokens(sentence)), [], 0
    while at < len(words):
        length, concept = longest_phrase(words, at)
        if concept not in ("", CUT) and (concept != UNKNOWN or _TELLING.isdisjoint(plain_forms(words[at]))):
            found += concept.split()
        at += length
    return tuple(found)


@lru_cache
def _patterns(kind: str) -> tuple[Pattern, ...]:
    return tuple(pattern for pattern in PATTERNS if pattern.kind == kind)


@lru_cache
def _field(kind: str) -> frozenset[str]:
    """All concepts that what is told of a kind may have."""
    return told_of(kind).union(*(pattern.known for pattern in _patterns(kind)))


@lru_cache
def _needed(kind: str) -> frozenset[str]:
    """The concepts without which a kind is not told."""
    return frozenset(c for pattern in _patterns(kind) for group in pattern.needs.split() for c in group.split("|"))


def _nouns(kind: type[Constraint]) -> frozenset[str]:
    """What the marks of a kind are called."""
    return frozenset[str]().union(*map(nouns_of_family, kind.marks))


def _words() -> Iterator[str]:
    for line in Path(__file__).with_name("telling.txt").read_text("utf-8").splitlines():
        if not line.startswith("#"):
            yield from line.partition(":")[2].replace(",", " ").split()


_TELLING = frozenset(_words())
