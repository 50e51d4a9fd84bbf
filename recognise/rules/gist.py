"""The gist of a sentence or two: what it must be about, when no pattern accounts for each of its words.

A kind is stated when its own concepts are all there, no concept that makes or breaks a rule is there beside them, and
no other kind fits as well. Everything else (places, verbs, talk, words that nobody foresaw) may stand between them.
Where two kinds fit, or a telling concept is left over, nothing is stated.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from recognise.rules.lexicon import bag
from recognise.rules.lines import _gap, _pill, _run
from recognise.rules.marks import _by_one, _one_parity, _sum_of_two, _times
from recognise.rules.outside import _straight, _wrapped
from recognise.rules.pattern import Concepts, Fields, named

TELLING = bag(
    "INCREASE DECREASE NOTDECREASE NOTLESS GREATER LESS CONSECUTIVE NONCONSECUTIVE NOTBYONE EVEN ODD PRODUCT DIFFERENCE "
    "QUOTIENT SUM TIMES DOUBLE RATIO TRIPLE GE GAP DIFF PALINDROME MIRROR KNIGHT KING ANTIKNIGHT ANTIKING "
    "EVENDIAGONALLY WRAP TWICE REPEAT NOREPEAT MAYREPEAT DIFFER ONCE BETWEEN ENDS ANYORDER NOGAP HIDE BRANCH EXCEPT "
    "OTHER INSTEAD ATMOST ATLEAST MORETHAN EXACTLY LIMIT FORBIDDEN SAMEAS EQUAL LOWEST HIGHEST THERMO BULB CAGE ARROW "
    "SHAFT CIRCLE DOT BAR DIAMOND SIGN TOWER DIAGONAL MAINDIAG LETTER SANDWICHNAME XSUMNAME LITTLEKILLER OPSIGN NUM "
    "RANGE LETTERS NEG NEEDNOT NOTALL EVERYMARK UNMARKED LINE COLOUR SHADED BOX ROW COLUMN SQUARE REGION PILL TWODIGIT "
    "FOURMEET FOURCELLS FOUR BOTHWAYS BACKWARD SLOW ASLARGE TALLER SHORTER SUDOKU LATIN STANDARD SECOND ALLDIGITS "
    "EXCLUDED OUTSIDE COUNT MANY SOME APART HEAD ATLEASTONCE CORNER ONLY"
)
"""Concepts that a kind has to name before they may stand beside it."""


@dataclass(frozen=True, slots=True)
class Gist:
    """`needs` as in a pattern; `beside` are the telling concepts that may be there as well; `settle` as in a pattern."""

    kind: str
    needs: str
    beside: str = ""
    fields: Fields = field(default_factory=dict)
    settle: Callable[[Concepts], Fields | None] | None = None

    def fit(self, concepts: Concepts, names: frozenset[str]) -> Fields | None:
        """The fields that the clause states, or None where it is not about the kind."""
        groups = [frozenset(g.split("|")) for g in self.needs.split()]
        if any(g.isdisjoint(names) for g in groups):
            return None
        if (names & TELLING) - frozenset(self.beside.split()).union(*groups):
            return None
        if self.settle is None:
            return self.fields
        settled = self.settle(concepts)
        return None if settled is None else {**self.fields, **settled}


_LOOK = " LINE COLOUR SHADED ALLDIGITS ONLY"


def _denied(concepts: Concepts) -> bool:
    """Whether what is denied is not only that a digit may come twice."""
    return any(named(c) in ("NEG", "NEEDNOT") for c in concepts)


def _rising(concepts: Concepts) -> Fields | None:
    if _denied(concepts) or {"TOBULB", "FROMTIP"} & set(concepts):
        return None
    slow = {"NOTDECREASE", "SAMEAS", "MAYREPEAT", "SLOW", "NOTLESS", "EQUAL"} & set(concepts)
    return {"strict": not slow}


def _kept(concepts: Concepts) -> Fields | None:
    found = {v for n, v in (("NOREPEAT", False), ("MAYREPEAT", True)) if n in concepts}
    if len(found) > 1 or _denied(concepts):
        return None
    return {"repeats": found.pop()} if found else {}


def _plain(settle: Callable[[Concepts], Fields | None]) -> Callable[[Concepts], Fields | None]:
    return lambda concepts: None if _denied(concepts) else settle(concepts)


def _mine(concepts: Concepts) -> Fields | None:
    return None if _denied(concepts) else {}


_CAGED = " CORNER CAGE COLOUR LINE NOREPEAT MAYREPEAT DIFFER"
_PAIRED = " EDGE COLOUR SHADED ONE"
_OUT = " OUTSIDE ROW COLUMN LINE ALLDIGITS"

GISTS = (
    Gist("thermometer", "THERMO|BULB INCREASE|NOTDECREASE", "THERMO BULB INCREASE NOTDECREASE NOTBYONE SAMEAS GREATER "
         "MAYREPEAT SLOW HIGHEST LOWEST" + _LOOK, settle=_rising),
    Gist("arrow", "ARROW|SHAFT CIRCLE|PILL|BULB SUM|TOTALWORD", "ARROW SHAFT CIRCLE SUM PILL TWODIGIT EQUAL BULB MAYREPEAT HEAD"
         + _LOOK, settle=_plain(_pill)),
    Gist("palindrome", "PALINDROME", "PALINDROME BOTHWAYS EQUAL MIRROR" + _LOOK, settle=_mine),
    Gist("palindrome", "LINE BOTHWAYS|MIRROR EQUAL|READ", "BOTHWAYS EQUAL MIRROR BACKWARD" + _LOOK, settle=_mine),
    Gist("gap-line", "LINE GAP", "DIFFER DIFFERENCE APART" + _LOOK, settle=_plain(_gap)),
    Gist("run-line", "LINE CONSECUTIVE ANYORDER", "NOREPEAT NOGAP ANYORDER" + _LOOK, settle=_plain(_run)),
    Gist("run-line", "LINE ANYORDER NOGAP", "NOREPEAT CONSECUTIVE" + _LOOK, settle=_plain(_run)),
    Gist("between-line", "LINE BETWEEN CIRCLE", "LOWEST HIGHEST BOTHWAYS" + _LOOK, settle=_mine),
    Gist("box-sum-line", "LINE BOX SUM|TOTALWORD EQUAL", "BRANCH" + _LOOK, settle=_mine),
    Gist("cage", "CAGE SUM|TOTALWORD", "EQUAL" + _CAGED, {"operation": "sum"}, settle=_kept),
    Gist("cage", "CAGE PRODUCT", "EQUAL" + _CAGED, {"operation": "product"}, settle=_kept),
    Gist("cage", "CAGE DIFFERENCE", "GREATER LESS LOWEST HIGHEST BETWEEN" + _CAGED, {"operation": "difference"}, settle=_kept),
    Gist("cage", "CAGE QUOTIENT", "GREATER LESS LOWEST HIGHEST" + _CAGED, {"operation": "quotient"}, settle=_kept),
    Gist("cage", "CAGE SUM PRODUCT DIFFERENCE|QUOTIENT", "OPSIGN SIGN QUOTIENT DIFFERENCE" + _CAGED, {"operation": "printed"}, settle=_kept),
    Gist("cage", "CAGE OPSIGN", "SUM PRODUCT DIFFERENCE QUOTIENT SIGN" + _CAGED, {"operation": "printed"}, settle=_kept),
    Gist("consecutive-pair", "DOT|BAR|CIRCLE|DIAMOND|SQUARE CONSECUTIVE|DIFF", "BETWEEN" + _PAIRED, settle=_plain(_by_one)),
    Gist("ratio-pair", "DOT|BAR|CIRCLE|DIAMOND|SQUARE TIMES", "BETWEEN RATIO EXACTLY GREATER LESS" + _PAIRED, settle=_plain(_times)),
    Gist("sum-pair", "LETTER|DOT|DIAMOND|CIRCLE|BAR SUM|TOTALWORD NUM", "BETWEEN EXACTLY EQUAL" + _PAIRED, settle=_plain(_sum_of_two)),
    Gist("greater", "SIGN GREATER|LESS|LOWEST|HIGHEST", "SIGN BETWEEN HEAD OUTSIDE GREATER LESS" + _PAIRED, settle=_mine),
    Gist("corner-digits", "FOURCELLS|FOURMEET CIRCLE|DOT|SMALLNUM", "FOURCELLS FOURMEET CIRCLE DOT COLOUR ANYORDER FOUR "
         "OUTSIDE ATLEASTONCE CORNER", settle=_mine),
    Gist("corner-digits", "CIRCLE|DOT|SMALLNUM CORNER|FOURMEET OUTSIDE|WRAP|FOURCELLS|FOUR|SIZE DIGIT", "FOURCELLS FOURMEET CIRCLE "
         "DOT COLOUR ANYORDER FOUR OUTSIDE WRAP CORNER ATLEASTONCE", settle=_mine),
    Gist("even", "EVEN SQUARE|CIRCLE|SHADED|DIAMOND|COLOUR|DOT", "ONLY SQUARE CIRCLE SHADED COLOUR DIAMOND DOT", settle=_plain(_one_parity)),
    Gist("odd", "ODD SQUARE|CIRCLE|SHADED|DIAMOND|COLOUR|DOT", "ONLY SQUARE CIRCLE SHADED COLOUR DIAMOND DOT", settle=_plain(_one_parity)),
    Gist("sandwich", "BETWEEN|SANDWICHNAME ENDS|NUM|LOWEST SUM|TOTALWORD", "EXCLUDED LOWEST HIGHEST ENDS NUM SANDWICHNAME" + _OUT,
         settle=_plain(_straight)),
    Gist("sandwich", "WRAP NUM|ENDS|LOWEST SUM|TOTALWORD FORWARD|LEFTTORIGHT", "EXCLUDED LOWEST HIGHEST ENDS RANGE BETWEEN "
         "SANDWICHNAME WRAP" + _OUT, settle=_wrapped),
    Gist("skyscraper", "TOWER SEE|HIDE|COUNT", "TOWER HIDE GREATER LESS TALLER SHORTER HIGHEST LOWEST COUNT MANY" + _OUT, settle=_mine),
    Gist("x-sum", "XSUMNAME|FIRST SUM MANY|COUNT|XSUMNAME", "COUNT MANY" + _OUT, settle=_mine),
    Gist("diagonal-sum", "DIAGONAL|LITTLEKILLER SUM|TOTALWORD ARROW|OUTSIDE", "ARROW DIAGONAL MAYREPEAT HEAD LITTLEKILLER" + _OUT, settle=_mine),
    Gist("diagonal", "DIAGONAL|MAINDIAG NOREPEAT|ONCE|DIFFER", "MAINDIAG DIAGONAL RANGE COLOUR LINE SHADED ALLDIGITS NOREPEAT ONCE", settle=_mine),
    Gist("knight-apart", "KNIGHT NOREPEAT|DIFFER", "EQUAL APART", settle=_mine),
    Gist("king-apart", "KING NOREPEAT|DIFFER", "EQUAL APART EVENDIAGONALLY", settle=_mine),
    Gist("neighbours-not-consecutive", "ADJACENT|SHARESIDE NONCONSECUTIVE", "", settle=_mine),
)  # fmt: skip


def gist(concepts: Sequence[str]) -> tuple[str, Fields] | None:
    """The one kind that reduced concepts are about, with its fields; None where there is none or more than one."""
    names = frozenset(map(named, concepts))
    found = {}
    for g in GISTS:
        fields = g.fit(concepts, names)
        if fields is not None:
            found.setdefault((g.kind, repr(sorted(fields.items()))), fields)
    if len(found) != 1:
        return None
    ((kind, _), fields), = found.items()
    return kind, fields
