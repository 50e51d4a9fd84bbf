"""How one run of clauses is understood: by patterns that account for every word, or with words left out that cannot
matter, or by its gist; alone, or as going on about the subject of the clause before."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from recognise.rules.allmarked import all_marked
from recognise.rules.base import base
from recognise.rules.gist import gist
from recognise.rules.lexicon import bag
from recognise.rules.lines import ARROWS, PLAIN_LINES, THERMOMETERS
from recognise.rules.loose import GIST_COST, IDLE_COST, SLACK_COST, decides, idle, shortened
from recognise.rules.marks import CAGES, CELL_MARKS, PAIRS, letter_sums, numbered_ratio
from recognise.rules.outside import DIAGONAL_SUMS, SANDWICHES, TOWERS_AND_SUMS
from recognise.rules.pattern import SUBJECTS, Pattern, named
from recognise.rules.phrases import reduced
from recognise.rules.presents import presented
from recognise.rules.sheet import Statement
from recognise.rules.stating import hedged, in_part, stated
from recognise.rules.whole import (
    WHOLE,
    both_moves,
    digits_only,
    heading,
    no_boxes,
    plainly,
    said_to_be_usual,
    standard,
    talk,
    units,
)
from recognise.rules.words import UNKNOWN

PATTERNS: tuple[Pattern, ...] = (
    *THERMOMETERS, *ARROWS, *PLAIN_LINES, *CAGES, *PAIRS, *CELL_MARKS, *SANDWICHES, *TOWERS_AND_SUMS, *DIAGONAL_SUMS,
    *WHOLE,
)  # fmt: skip
_FREE = (
    both_moves,
    units,
    base,
    plainly,
    standard,
    no_boxes,
    all_marked,
    letter_sums,
    numbered_ratio,
    digits_only,
    heading,
    talk,
)

INHERITED = 0.3
EMPTY = 1.2
GLOSS = 1.5
PRESENTED = 2.5
"""Costs, where a statement that a pattern makes has 1: of a subject taken from the clause before, and of a clause that
says nothing, only explains, or only says which marks are there."""


@dataclass(frozen=True, slots=True)
class Reading:
    """How one run of clauses is understood; `gloss` says that it only explains, `presents` which marks it only
    says to be there."""

    statements: tuple[Statement, ...]
    cost: float
    gloss: str = ""
    unsure: bool = False
    presents: frozenset[str] = frozenset()
    states_nothing: bool = False
    """Whether it is certain to hold no rule: that not all clues are given."""


def subject_of(clause: Sequence[str]) -> tuple[str, ...]:
    """What a clause speaks of, for the clause after it: its marks, their looks, whether equal digits are meant."""
    told = tuple(c for c in clause if named(c) in SUBJECTS or named(c) in ("COLOUR", "STYLE"))
    if _WAYS.intersection(clause):
        told = (*told, *(c for c in reduced(tuple(clause)) if named(c) == "WAY"))  # which diagonal it is
    return (*told, _ALIKE) if "EQUAL" in clause[:2] and "DIGIT" in clause[:3] else told


_WAYS = bag("DIAGONAL MAINDIAG")

_ALIKE = "ALIKE"
"""Stands with the subjects where equal digits are spoken of."""


def explain(clause: tuple[str, ...], subject: tuple[str, ...] = (), same_sentence: bool = True) -> Reading | None:
    """The cheapest reading of one clause, alone or as going on about the subject of the clause before; every word has
    to be accounted for."""
    return _explained(clause, subject, same_sentence, lambda c: _best(reduced(c)))


def explain_loosely(
    clause: tuple[str, ...], subject: tuple[str, ...] = (), same_sentence: bool = True
) -> Reading | None:
    """As `explain`, or with words left out that cannot matter."""
    return explain(clause, subject, same_sentence) or _explained(clause, subject, same_sentence, _loosely)


def _explained(
    clause: tuple[str, ...],
    subject: tuple[str, ...],
    same_sentence: bool,
    read: Callable[[tuple[str, ...]], Reading | None],
) -> Reading | None:
    alone = read(clause)
    if alone is not None or not subject:
        return alone
    moves = {"KNIGHT", "KING", "EVENDIAGONALLY"} & set(clause)
    if _ALIKE in subject and "IT" in clause and "NEG" in clause and moves:
        # `Equal digits never touch, and they are never a knight's move apart.`
        lent = read(("EQUAL", "DIGIT", *(c for c in clause if c not in ("IT", "AND"))))
        return None if lent is None else replace(lent, cost=lent.cost + INHERITED)
    subject = tuple(c for c in subject if c != _ALIKE and not (c in _MOVES and _PLACES & set(clause)))
    if not subject:
        return None
    if any(named(c) in SUBJECTS for c in clause) or not (
        same_sentence
        or "IT" in clause
        or clause[0] == "AND"
        or _names_a_colour_first(clause)
        or "MAYREPEAT" in reduced(clause)
    ):
        return None
    colours = any(c.startswith("COLOUR") for c in clause)
    carried = tuple(c for c in subject if not (colours and c.startswith("COLOUR")))
    lent = read(carried + clause)
    return None if lent is None else replace(lent, cost=lent.cost + INHERITED)


_MOVES = frozenset({"KNIGHT", "KING"})
_PLACES = frozenset({"ADJACENT", "SHARESIDE", "EVENDIAGONALLY"})
"""Cells that touch are no knight's move apart: `if two cells touch, they are different`."""


def _names_a_colour_first(clause: Sequence[str]) -> bool:
    """`Black: double`, `if by a black one`: marks of another colour, of the sort just named."""
    return next((c for c in clause if c not in ("IF", "BY", "AND", "ALL", "ONE")), "").startswith("COLOUR")


Explain = Callable[[tuple[str, ...], tuple[str, ...], bool], Reading | None]


@lru_cache(maxsize=16384)
def _loosely(clause: tuple[str, ...]) -> Reading | None:
    """The cheapest reading of a clause with words left out; None where different ones may be left out at the same
    cost with different results."""
    usual = said_to_be_usual(clause)
    if usual is not None:
        return Reading(tuple(usual), IDLE_COST)
    if idle(clause) and not any(named(c) == "WAY" for c in reduced(clause)):
        return Reading((), IDLE_COST)
    found: list[tuple[float, Reading]] = []
    for shorter, cost in shortened(clause):
        if found and cost > found[0][0]:
            break
        reading = _best(reduced(shorter))
        if reading is not None and (reading.statements or reading.gloss or cost < SLACK_COST):
            found.append((cost, reading))
    if not found:
        return _gist(clause)
    says = {tuple((s.kind, s.negated, repr(sorted(s.fields.items()))) for s in r.statements) for _, r in found}
    cost, reading = found[0]
    if len(says) != 1:
        return None
    return replace(reading, cost=reading.cost + cost, unsure=cost >= SLACK_COST)


def _gist(clause: tuple[str, ...]) -> Reading | None:
    about = reduced(tuple(c for c in clause if c != UNKNOWN))
    found = gist(about)
    if found is None or decides(clause) or hedged(about):
        return None
    kind, fields = found
    return Reading(tuple(stated(kind, fields, about)), GIST_COST, unsure=True)


@lru_cache(maxsize=8192)
def _best(concepts: tuple[str, ...]) -> Reading | None:
    """The one reading of reduced concepts; None where there is none, or where several kinds fit equally well."""
    for free in _FREE:
        statements = free(concepts)
        if statements is not None and not (in_part(concepts) and any(not s.negated for s in statements)):
            return Reading(
                tuple(statements), 1.0 if statements else EMPTY, states_nothing=free is all_marked and not statements
            )
    names = frozenset(map(named, concepts))
    readings = [(p, p.fit(concepts, names)) for p in PATTERNS]
    fitting = sorted(((p, f) for p, f in readings if f is not None), key=lambda pf: (pf[0].gloss, pf[0].cost))
    if not fitting:
        marks = presented(concepts)
        return Reading((), PRESENTED, presents=marks) if marks else None
    first = fitting[0][0]
    rivals = {p.kind for p, _ in fitting if (p.gloss, p.cost) == (first.gloss, first.cost)}
    if len(rivals) > 1:
        return None
    pattern, fields = fitting[0]
    if pattern.kind != "sandwich" and concepts[-2:-1] == ("OR",) and named(concepts[-1]) == "NUM":
        return None  # `the same digit or 2`: an alternative that no kind has
    if fields is None or (not pattern.gloss and hedged(concepts)):
        return None
    states = tuple(stated(pattern.kind, fields, concepts))
    return Reading(states, GLOSS if pattern.gloss else pattern.cost, pattern.kind if pattern.gloss else "")
