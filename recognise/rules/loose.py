"""Read a clause that no pattern accounts for as one with some words left out, when those words cannot matter.

Wording is endless: a rule is told with a verb, an adverb or a place that nobody foresaw. What a rule *means* hangs on
few words (how digits compare, what is denied, which mark), and those are never left out: only words that the lexicon
does not have (it has those that make a rule of another kind, as OTHER), and concepts that say where and how (`SLACK`).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

from recognise.rules.lexicon import bag
from recognise.rules.pattern import NEUTRAL, named
from recognise.rules.words import UNKNOWN

SLACK = bag(
    "APPLY BEHIND BOUNDED CHESS CLUE COLUMN CORNER EDGE END GIVEN HEIGHT HOLD IT JOIN LETTERWORD MARK ORDER OUTSIDE "
    "READ REGION ROW RUN SEE SEGMENT SEQUENCE SMALLNUM STYLE TOTALWORD TWO SIZE ALONG CELL STANDARD RULE SUDOKU FLAVOUR"
)
"""Concepts of place and manner, which may stand in a sentence without changing what it says."""

_IDLE = SLACK | NEUTRAL | bag("FLAVOUR SOLUTION UNIQUE UNKNOWN")
_BINDS = bag("OR NEG NEEDNOT EXCEPT NUM ONLY EXACTLY ATMOST ATLEAST SOME SECOND THAN ALLOWED MAY")
"""What stands after one of these is an alternative, a denial or a measure: it is never left out."""

MOST_LEFT_OUT = 1
FEWEST_TOLD = 2
UNKNOWN_COST = 0.3
SLACK_COST = 2.0
IDLE_COST = 1.2
GIST_COST = 6.0


def idle(clause: Sequence[str]) -> bool:
    """Whether a clause says nothing that a rule could hang on."""
    names = frozenset(map(named, clause))
    return names <= _IDLE and not names & _NOT_IDLE and not names >= EVERY_PLACE


EVERY_PLACE = bag("ALL POSSIBLE GIVEN")
"""`All such places are marked`: that no mark is left out is a rule, however little of it is named."""
_NOT_IDLE = bag("REGION ROW COLUMN COLOUR LINE MARK ALLOWED MAY SECOND SHADED OUTSIDE CLUE SMALLNUM TOTALWORD HEIGHT")


def decides(clause: Sequence[str]) -> bool:
    """Whether an unknown word stands where it may decide what a clause says: after a word that binds it, or as the name
    of something of which `each` one is meant."""
    if any(b == UNKNOWN and named(a) in _BINDS for a, b in pairwise(clause)):
        return True
    return _EACH_UNKNOWN.search("".join(f"{named(c)} " for c in clause)) is not None


_EACH_UNKNOWN = re.compile(
    r"(?<!\S)ALL (?:(?:BOUNDED|STYLE|IRREGULAR|COLOUR) )*(?:UNKNOWN )+"
    r"(?:(?:HOLD|ALLDIGITS|RANGE|NEG|MAY|ONCE|NOREPEAT|DIFFER) |$)"
)


def _counted(clause: Sequence[str]) -> list[str]:
    """`those two guys`: a number of things that nobody foresaw are two cells."""
    told = list(clause)
    for at in range(len(told) - 1):
        if told[at] == "NUM=2" and told[at + 1] == UNKNOWN:
            told[at] = "TWO"
    return told


def shortened(clause: Sequence[str]) -> Iterator[tuple[tuple[str, ...], float]]:
    """The clause without its unknown words, and without up to two kinds of slack, and what that costs; the cheapest
    first."""
    clause = _counted(clause)
    unknown = [i for i, c in enumerate(clause) if c == UNKNOWN]
    if decides(clause):
        return
    known = [c for c in clause if c != UNKNOWN]
    if sum(named(c) not in NEUTRAL for c in known) < FEWEST_TOLD:
        return
    base = UNKNOWN_COST * len(unknown)
    kinds = list(dict.fromkeys(named(c) for c in known if named(c) in SLACK))
    if "STANDARD" in known and "MARK" in kinds:
        kinds.remove("MARK")  # `these signs have their usual meaning`
    for number in range(0 if unknown else 1, MOST_LEFT_OUT + 1):
        for chosen in combinations(kinds, number):
            yield tuple(c for c in known if named(c) not in chosen), base + SLACK_COST * number
