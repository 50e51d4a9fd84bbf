"""Read a clause that no pattern accounts for as one with a word or two left out, when those words cannot matter.

Wording is endless: a rule is told with a verb, an adverb or a place that nobody foresaw. What a rule *means* hangs on
few words (how digits compare, what is denied, which mark), and those are never left out: only words that the lexicon
does not have, and concepts that say where and how (`SLACK`), and few of them beside what is understood.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from recognise.rules.lexicon import bag
from recognise.rules.pattern import NEUTRAL, named
from recognise.rules.words import UNKNOWN

SLACK = bag(
    "AFTER APPLY BEHIND BOUNDED CHESS CLUE COLUMN CORNER EDGE END FIRST FORWARD FURTHER GIVEN HEIGHT HOLD IT JOIN LAST "
    "LETTERWORD MARK MOVE NEXTONE ORDER OUTSIDE POINT PREVIOUS READ REGION ROW RUN SEE SEGMENT SEQUENCE "
    "SHADED SMALLNUM START STYLE TOTALWORD TWO UNTIL SIZE ALONG CELL STANDARD RULE SUDOKU CORRESPONDING"
)
"""Concepts of place and manner, which may stand in a sentence without changing what it says."""

MOST_LEFT_OUT = 2
WORDS_FOR_ONE = 3
"""So many concepts that are understood are needed beside each that is left out."""

_BINDS = bag("OR NEG NEEDNOT BUT EXCEPT NUM ONLY EXACTLY ATMOST ATLEAST SOME SECOND THAN ALLOWED MAY")
"""What stands after one of these is an alternative, a denial or a measure: it is never left out."""

COSTS = {UNKNOWN: 4.0}
SLACK_COST = 5.0


def shortened(clause: Sequence[str]) -> Iterator[tuple[tuple[str, ...], float]]:
    """The clause without one or two of its words that may be left out, and what that costs; the cheapest first."""
    places = [i for i, c in enumerate(clause) if c == UNKNOWN and not (i and named(clause[i - 1]) in _BINDS)]
    kinds = list(dict.fromkeys(named(c) for c in clause if named(c) in SLACK))
    units: list[tuple[float, frozenset[int]]] = [(COSTS[UNKNOWN], frozenset({i})) for i in places]
    units += [(SLACK_COST, frozenset(i for i, c in enumerate(clause) if named(c) == k)) for k in kinds]
    telling = sum(c != UNKNOWN and c not in NEUTRAL for c in clause)
    found = []
    for number in range(1, MOST_LEFT_OUT + 1):
        if telling < WORDS_FOR_ONE * number:
            break
        for chosen in combinations(units, number):
            gone = frozenset().union(*(places for _, places in chosen))
            if sum(c == UNKNOWN for c in clause) > sum(clause[i] == UNKNOWN for i in gone):
                continue
            found.append((sum(cost for cost, _ in chosen), gone))
    for cost, gone in sorted(found, key=lambda f: f[0]):
        yield tuple(c for i, c in enumerate(clause) if i not in gone), cost
