"""The gist of a sentence or two: what it must be about, when no pattern accounts for each of its words.

A kind is stated when its own concepts are all there, no concept that makes or breaks a rule is there beside them, and
no other kind fits as well. Everything else (places, verbs, talk, words that nobody foresaw) may stand between them.
Where two kinds fit, or a telling concept is left over, nothing is stated.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from recognise.rules.lexicon import bag
from recognise.rules.lines import gap_of, pill_of, run_of
from recognise.rules.marks import by_one, one_parity, sum_of_two, times_of
from recognise.rules.outside import straight, wrapped
from recognise.rules.pattern import Concepts, Fields, named
from recognise.rules.whole import direction_of

TELLING = bag(
    "INCREASE DECREASE NOTDECREASE NOTLESS GREATER LESS CONSECUTIVE NONCONSECUTIVE NOTBYONE EVEN ODD PRODUCT "
    "DIFFERENCE QUOTIENT SUM TIMES DOUBLE RATIO TRIPLE GE GAP DIFF PALINDROME MIRROR KNIGHT KING ANTIKNIGHT ANTIKING "
    "EVENDIAGONALLY WRAP TWICE REPEAT NOREPEAT MAYREPEAT DIFFER ONCE BETWEEN ENDS ANYORDER NOGAP HIDE BRANCH EXCEPT "
    "OTHER EITHERWAY "
    "INSTEAD ATMOST ATLEAST MORETHAN EXACTLY LIMIT FORBIDDEN SAMEAS EQUAL LOWEST HIGHEST THERMO BULB CAGE ARROW "
    "SHAFT CIRCLE DOT BAR DIAMOND SIGN TOWER DIAGONAL MAINDIAG LETTER SANDWICHNAME XSUMNAME LITTLEKILLER OPSIGN NUM "
    "RANGE LETTERS NEG NEEDNOT NOTALL EVERYMARK UNMARKED LINE COLOUR SHADED BOX ROW COLUMN SQUARE REGION PILL TWODIGIT "
    "FOURMEET FOURCELLS FOUR BOTHWAYS BACKWARD SLOW ASLARGE TALLER SHORTER SUDOKU LATIN STANDARD SECOND ALLDIGITS "
    "EXCLUDED INCLUDED OUTSIDE COUNT MANY SOME APART HEAD ATLEASTONCE CORNER ONLY ASSMALL CLOSER"
)
"""Concepts that a kind has to name before they may stand beside it."""


@dataclass(frozen=True, slots=True)
class Gist:
    """`needs` as in a pattern; `may` are the telling concepts that may be there too; `settle` as in a pattern."""

    kind: str
    needs: tuple[frozenset[str], ...]
    may: frozenset[str]
    fields: Fields
    settle: Callable[[Concepts], Fields | None]

    def fit(self, concepts: Concepts, names: frozenset[str]) -> Fields | None:
        """The fields that the clause states, or None where it is not about the kind."""
        if any(group.isdisjoint(names) for group in self.needs) or (names & TELLING) - self.may:
            return None
        settled = self.settle(concepts)
        return None if settled is None else {**self.fields, **settled}


def _denied(concepts: Concepts) -> bool:
    return any(named(c) in ("NEG", "NEEDNOT") for c in concepts)


def rising(concepts: Concepts) -> Fields | None:
    """Whether a thermometer may stay level; None where its digits run towards the bulb."""
    if {"TOBULB", "FROMTIP"} & set(concepts):
        return None
    slow = {"NOTDECREASE", "SAMEAS", "MAYREPEAT", "SLOW", "NOTLESS", "EQUAL"} & set(concepts)
    return {"strict": not slow}


def _kept(concepts: Concepts) -> Fields | None:
    if "SUM ONE" in " ".join(c for c in concepts if c != "HOLD"):
        return None
    found = {value for name, value in (("NOREPEAT", False), ("MAYREPEAT", True)) if name in concepts}
    if len(found) > 1:
        return None
    return {"repeats": found.pop()} if found else {}


def _nothing_more(_: Concepts) -> Fields:
    return {}


SETTLE: Mapping[str, Callable[[Concepts], Fields | None]] = {
    "thermometer": rising,
    "arrow": pill_of,
    "gap-line": gap_of,
    "run-line": run_of,
    "cage": _kept,
    "consecutive-pair": by_one,
    "ratio-pair": times_of,
    "sum-pair": sum_of_two,
    "even": one_parity,
    "odd": one_parity,
    "diagonal": direction_of,
    "sandwich": straight,
    "sandwich wrap": wrapped,
}
"""What a kind needs besides its name, by kind or by kind and variant: its fields, or None where they are not told."""

_SHORT = {
    "LOOK": "LINE COLOUR SHADED ALLDIGITS ONLY",
    "CAGED": "CORNER CAGE COLOUR LINE NOREPEAT MAYREPEAT DIFFER",
    "PAIRED": "EDGE COLOUR SHADED",
    "OUT": "OUTSIDE ROW COLUMN LINE ALLDIGITS",
    "MARKED": "DOT|BAR|CIRCLE|DIAMOND|SQUARE",
    "FILLED": "SQUARE|CIRCLE|SHADED|DIAMOND|COLOUR|DOT",
}

_TABLE = """
thermometer: THERMO|BULB INCREASE|NOTDECREASE: NOTBYONE SAMEAS GREATER MAYREPEAT SLOW HIGHEST LOWEST LOOK
arrow: ARROW|SHAFT CIRCLE|PILL|BULB SUM|TOTALWORD: TWODIGIT EQUAL MAYREPEAT HEAD LOOK
palindrome: PALINDROME: BOTHWAYS EQUAL MIRROR LOOK
palindrome: LINE BOTHWAYS|MIRROR EQUAL|READ: BACKWARD LOOK
gap-line: LINE GAP: DIFFER DIFFERENCE APART LOOK
run-line: LINE CONSECUTIVE ANYORDER: NOREPEAT NOGAP LOOK
run-line: LINE ANYORDER NOGAP: NOREPEAT CONSECUTIVE LOOK
between-line: LINE BETWEEN CIRCLE: LOWEST HIGHEST BOTHWAYS LOOK
box-sum-line: LINE BOX SUM|TOTALWORD EQUAL: BRANCH LOOK
sum-line: LINE START SUM|TOTALWORD DIGIT: EQUAL SMALLNUM LOOK
cage sum: CAGE SUM|TOTALWORD: EQUAL CAGED
cage product: CAGE PRODUCT: EQUAL CAGED
cage difference: CAGE DIFFERENCE: GREATER LESS LOWEST HIGHEST BETWEEN CAGED
cage quotient: CAGE QUOTIENT: GREATER LESS LOWEST HIGHEST CAGED
cage printed: CAGE SUM PRODUCT DIFFERENCE|QUOTIENT: OPSIGN SIGN QUOTIENT DIFFERENCE CAGED
cage printed: CAGE OPSIGN: SUM PRODUCT DIFFERENCE QUOTIENT SIGN CAGED
consecutive-pair: MARKED CONSECUTIVE|DIFF: BETWEEN PAIRED
ratio-pair: MARKED TIMES: BETWEEN RATIO EXACTLY GREATER LESS PAIRED
sum-pair: LETTER|DOT|DIAMOND|CIRCLE|BAR SUM|TOTALWORD NUM: BETWEEN EXACTLY EQUAL PAIRED
greater: SIGN GREATER|LESS|LOWEST|HIGHEST: BETWEEN HEAD OUTSIDE PAIRED
corner-digits: FOURCELLS|FOURMEET CIRCLE|DOT|SMALLNUM: COLOUR ANYORDER FOUR OUTSIDE ATLEASTONCE CORNER
corner-digits: CIRCLE|DOT|SMALLNUM CORNER|FOURMEET OUTSIDE|WRAP|FOURCELLS|FOUR|SIZE DIGIT: COLOUR ANYORDER ATLEASTONCE
even: EVEN FILLED: ONLY
odd: ODD FILLED: ONLY
sandwich: BETWEEN|SANDWICHNAME ENDS|NUM|LOWEST SUM|TOTALWORD: EXCLUDED HIGHEST OUT
sandwich wrap: WRAP NUM|ENDS|LOWEST SUM|TOTALWORD FORWARD|LEFTTORIGHT: EXCLUDED HIGHEST RANGE BETWEEN SANDWICHNAME OUT
skyscraper: TOWER SEE|HIDE|COUNT: GREATER LESS TALLER SHORTER HIGHEST LOWEST MANY OUT
x-sum: XSUMNAME|FIRST SUM MANY|COUNT|XSUMNAME: INCLUDED OUT
diagonal-sum: DIAGONAL|LITTLEKILLER SUM|TOTALWORD ARROW|OUTSIDE: MAYREPEAT HEAD OUT
diagonal: DIAGONAL|MAINDIAG NOREPEAT|ONCE|DIFFER: RANGE COLOUR LINE SHADED ALLDIGITS
knight-apart: KNIGHT NOREPEAT|DIFFER: EQUAL APART
king-apart: KING NOREPEAT|DIFFER: EQUAL APART EVENDIAGONALLY
neighbours-not-consecutive: ADJACENT|SHARESIDE NONCONSECUTIVE:
"""


def _gist(line: str) -> Gist:
    for name, concepts in _SHORT.items():
        line = re.sub(rf"(?<!\S){name}(?!\S)", concepts, line)
    what, needs, may = line.split(":")
    kind, _, variant = what.partition(" ")
    groups = tuple(frozenset(group.split("|")) for group in needs.split())
    fields = {"operation": variant} if kind == "cage" else {}
    settle = SETTLE.get(kind if kind == "cage" else what, _nothing_more)
    return Gist(kind, groups, frozenset(may.split()).union(*groups), fields, settle)


GISTS = tuple(_gist(line) for line in _TABLE.strip().splitlines())
"""What each kind has to be about: kind, needed concepts, telling concepts that may stand beside them."""


def gist(concepts: Sequence[str]) -> tuple[str, Fields] | None:
    """The one kind that reduced concepts are about, with its fields; None where there is none or more than one, and
    where anything is denied."""
    if _denied(concepts):
        return None
    names = frozenset(map(named, concepts))
    found: dict[tuple[str, str], Fields] = {}
    for one in GISTS:
        fields = one.fit(concepts, names)
        if fields is not None:
            found.setdefault((one.kind, repr(sorted(fields.items()))), fields)
    if len(found) != 1:
        return None
    (((kind, _), fields),) = found.items()
    return kind, fields
