"""Frames: what a stretch of clauses is about when no pattern accounts for its words (frames.txt).

A frame names groups of concepts that its kind cannot do without. It fits where each group is there and no relation
that it does not name: a relation left over makes another rule. Objects, places and unknown words left over only count
against it. The best frame is taken where no other kind comes near it; what it states is always put to a person.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from recognise.rules.gist import GISTS, rising
from recognise.rules.lexicon import bag
from recognise.rules.lines import pill_of
from recognise.rules.marks import LEAST_SUM, by_one, letter_sums, times_of
from recognise.rules.outside import ends_named
from recognise.rules.pattern import NEUTRAL, Concepts, Fields, hint, named, values
from recognise.rules.phrases import reduced
from recognise.rules.sheet import Statement
from recognise.rules.stating import hedged, in_part, stated
from recognise.rules.words import UNKNOWN

RELATIONS = bag(
    "INCREASE DECREASE NOTDECREASE NOTLESS CONSECUTIVE NONCONSECUTIVE EVEN ODD PRODUCT DIFFERENCE QUOTIENT SUM TIMES "
    "RATIO GE GAP DIFF PALINDROME KNIGHT KING ANTIKNIGHT ANTIKING WRAP NOREPEAT MAYREPEAT DIFFER REPEAT TWICE "
    "BETWEEN "
    "ENDS ANYORDER NOGAP HIDE TOWER EXCEPT OTHER EITHERWAY INSTEAD ATMOST MORETHAN LIMIT FORBIDDEN NEG NEEDNOT "
    "NOTALL "
    "EVERYMARK UNMARKED SECOND GREATER LESS LOWEST HIGHEST MIRROR BOTHWAYS XSUMNAME SANDWICHNAME LITTLEKILLER "
    "EVENDIAGONALLY ONCE NOTHINGMEANS TRIPLE DOUBLE CLOSER ASSMALL ASLARGE ATLEAST COUNT MANY LAST BACKWARD EXACTLY "
    "INCLUDED"
)
"""What makes or breaks a rule."""
_PLAIN = (NEUTRAL | bag("HOLD RUN FLAVOUR BY EXACTLY UNKNOWN GIVEN EDGE JOIN SEE READ IT")) - RELATIONS
_WHOLE, _SOFT = 1.0, 0.7
"""What a group counts for whose concept is there, and for one that a word may stand for besides."""
_MATCHED, _LEFT, _STRANGE = 0.15, 0.25, 0.12
"""What a further relation that belongs to the frame adds, what an object left over and an unknown word cost."""
LEAST, AHEAD = 1.15, 0.25
"""What a frame has to come to, and by how much more than one of another kind."""


@dataclass(frozen=True, slots=True)
class Frame:
    """One line of frames.txt."""

    kind: str
    variant: str
    needs: tuple[frozenset[str], ...]
    may: frozenset[str]

    def score(self, names: frozenset[str], besides: frozenset[str], unknown: int) -> float:
        """How well the frame fits; 0 where it does not."""
        total = 2.0 - len(self.needs)
        for group in self.needs:
            if group & names:
                total += _WHOLE
            elif group & besides:
                total += _SOFT
            else:
                return 0.0
        known = self.may.union(*self.needs)
        if (names & RELATIONS) - known:
            return 0.0
        left = names - known - _PLAIN
        return (
            total
            + 0.3 * (len(self.needs) - 2)
            + _MATCHED * len(names & self.may)
            - _LEFT * len(left)
            - _STRANGE * unknown
        )


def _frames() -> Iterator[Frame]:
    for line in Path(__file__).with_name("frames.txt").read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            what, needs, may = line.split(":")
            kind, _, variant = what.partition(" ")
            yield Frame(kind, variant, tuple(frozenset(g.split("|")) for g in needs.split()), bag(may))


FRAMES = tuple(_frames())


def told_of(kind: str) -> frozenset[str]:
    """Every concept that a frame or a gist of a kind needs or may have."""
    names = (kind, "units") if kind in ("rows", "columns", "boxes") else (kind,)
    frames = (frozenset().union(f.may, *f.needs) for f in FRAMES if f.kind in names)
    gists = (frozenset().union(g.may, *g.needs) for g in GISTS if g.kind == kind)
    return frozenset().union(*frames, *gists)


@dataclass(frozen=True, slots=True)
class Framed:
    """What a stretch of clauses states by its frame, and how well that fits."""

    statements: tuple[Statement, ...]
    score: float


@lru_cache(maxsize=8192)
def framed(clause: tuple[str, ...], besides: frozenset[str]) -> Framed | None:
    """The statements of the one frame that a stretch of clauses fits best; None where it fits none, or several."""
    concepts = reduced(clause)
    if in_part(concepts) or hedged([c for c in concepts if c != UNKNOWN]):
        return None
    names = _named(concepts)
    unknown = sum(c == UNKNOWN for c in concepts)
    scores = sorted(((f.score(names, besides, unknown), f) for f in FRAMES), key=lambda sf: -sf[0])
    best, frame = scores[0]
    rival = next((score for score, other in scores if other.kind != frame.kind), 0.0)
    if best < LEAST or best - rival < AHEAD:
        return None
    told = tuple(c for c in concepts if c != UNKNOWN)
    if frame.kind in ("base", "units", "boxless"):
        statements = _of_grid(frame.kind, names)
    else:
        statements = made(frame.kind, frame.variant, told)
    return Framed(tuple(statements), best) if statements else None


def _named(concepts: Concepts) -> frozenset[str]:
    names = {named(c) for c in concepts}
    if "ENDS" in names:
        names.add("BETWEEN")
    numbers = [int(v) for v in values(concepts, "NUM")]
    if len(set(numbers)) == 2 and min(numbers) <= 1:
        names.add("TWONUMS")
    return frozenset(names)


# ------------------------------------------------------------------------------------------------ what a frame states


def made(kind: str, variant: str, concepts: Concepts) -> list[Statement]:
    """The statements of a kind that reduced concepts make; none where they lack a field that it needs."""
    if kind == "all-marked":
        return [Statement("all-marked", {}, hint(concepts), negated=variant == "no")]
    if kind in ("rows", "columns", "boxes"):
        return [Statement(kind)]
    if kind == "sum-pair" and (letters := letter_sums(concepts)):
        return letters
    fields = _FIELDS.get(kind, _nothing)(concepts)
    if fields is None or not _is_told(kind, concepts):
        return []
    if kind == "cage" and variant in OPERATIONS:
        fields = {"operation": variant, **fields}
    if variant == "wrap":
        fields = {"wrap": True, **fields}
    return list(stated(kind, fields, concepts))


def _is_told(kind: str, concepts: Concepts) -> bool:
    """Whether a rule that denies something denies it, and one of marked pairs names what marks them."""
    names = {named(c) for c in concepts}
    if kind in ("knight-apart", "king-apart", "neighbours-not-consecutive"):
        return bool(names & _DENIALS)
    return kind not in _MARKED or bool(names & _PAIR_MARKS)


_DENIALS = bag("NEG NOREPEAT DIFFER NONCONSECUTIVE FORBIDDEN UNMARKED ANTIKNIGHT ANTIKING NOTALL GAP")
_MARKED = bag("consecutive-pair ratio-pair sum-pair greater")
_PAIR_MARKS = bag(
    "DOT BAR CIRCLE DIAMOND SQUARE MARK LETTER SIGN HEAD POINT BETWEEN EDGE JOIN COLOUR OPSIGN LETTERWORD"
)
OPERATIONS = bag("sum product difference quotient printed")


def _of_grid(kind: str, names: frozenset[str]) -> list[Statement]:
    if kind == "boxless":
        return [Statement("boxes", negated=True)]
    boxes = kind == "base" or names & {"BOX", "REGION"}
    return [Statement("rows"), Statement("columns"), *([Statement("boxes")] if boxes else [])]


def _nothing(_: Concepts) -> Fields:
    return {}


def _gap(concepts: Concepts) -> Fields | None:
    gaps = {int(v) for v in (*values(concepts, "GAP"), *values(concepts, "GE"))}
    return {"gap": gaps.pop()} if len(gaps) == 1 and "SUM" not in concepts else None


def _kept(concepts: Concepts) -> Fields | None:
    found = {v for name, v in (("NOREPEAT", False), ("DIFFER", False), ("MAYREPEAT", True)) if name in concepts}
    if len(found) > 1:
        return None
    return {"repeats": found.pop()} if found else {}


def _sum(concepts: Concepts) -> Fields | None:
    numbers = {int(v) for v in values(concepts, "NUM") if int(v) >= LEAST_SUM}
    if len(set(values(concepts, "LETTER"))) > 1 or len(numbers) != 1:
        return None
    return {"value": numbers.pop()}


def bread(concepts: Concepts) -> Fields | None:
    """The digits that bound a sandwich where they are figures; None where the sum is of others, or goes back."""
    text = " ".join(concepts)
    wraps = "WRAP" in concepts
    if _OTHER_SUM.search(text) or (wraps and {"BACKWARD", "BOTHWAYS"} & set(concepts)):
        return None
    if not wraps and "FORWARD" in concepts and {"FROM", "START", "AFTER"} & set(concepts):
        return None  # it may wrap or not
    pairs = ends_named(concepts)
    if not pairs and values(concepts, "NUM"):
        return None  # a number beside that may bound the sum too: `between the 2 and the 8`
    for pair in pairs:
        low, high = ("0", "9") if "low" in pair else pair
        if wraps and (pair[0] == "high" or int(low) > int(high)):
            return None
        if "low" not in pair:
            return (
                {"ends": (min(int(low), int(high)), max(int(low), int(high)))}
                if min(int(low), int(high)) <= 1
                else None
            )
    return {}


_OTHER_SUM = re.compile(
    r"(?<!\S)(?:OUTSIDE|NEG) (?:DIGIT |BETWEEN )*(?:ENDS=|LOWEST|HIGHEST)|(?<!\S)(?:ALL (?:ONE )?COUNT|"
    r"INCLUDED)(?!\S)"
)


def _way(concepts: Concepts) -> Fields:
    ways = set(values(concepts, "WAY"))
    return {"direction": ways.pop()} if len(ways) == 1 else {}


_FIELDS: Mapping[str, Callable[[Sequence[str]], Fields | None]] = {
    "thermometer": rising,
    "arrow": pill_of,
    "gap-line": _gap,
    "cage": _kept,
    "consecutive-pair": by_one,
    "ratio-pair": times_of,
    "sum-pair": _sum,
    "sandwich": bread,
    "diagonal": _way,
}
