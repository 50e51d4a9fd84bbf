"""When a reading is `clean`: the one place that decides it.

A reading is clean when nothing is in query, the checker proved exactly one solution, and the chance that anything in
it is wrong is under `RISK`. The proof catches most misread values and is nearly blind to what was missed, so each
item's own doubt counts only as far as the proof would let it through.
"""

from __future__ import annotations

from collections.abc import Iterable

from checker.prove import Outcome
from recognise.draft import Draft, Given, Item
from schema.marks import Family

RISK = 1e-3
"""The chance of an error that a clean reading may carry."""


GIVEN, CLUE, EXTENT, KIND = 0.05, 0.02, 0.56, 0.1
"""How often the proof lets a misread item through: a given, a value or a direction, which cells a mark is on, and which
kind of line it is; the first three measured by planting one error in each of 186 puzzles of all kinds, the last with
`python -m fixtures.bench.escapes 120` (7 of 70 lines taken for another kind, none of 8 thermometers read backwards;
there 12 of 88 lines a cell short, 19 of 87 a cell long, 34 of 64 sets of cells with one more or less: those puzzles
have no givens to spare). What was missed altogether it lets through in 26 to 74 of 100 cases; no confidence stands for
that, only the guard that looks at the ink."""

DRAWN_OUT: frozenset[Family] = frozenset({"tube", "line", "ringed-line", "arrow", "area", "cell"})
"""Marks that may be read a cell too short or too long, and the proof pass all the same. A cage is not one of them, nor
a line with a number: their totals do not come out with another cell."""


def escape_of(item: Item) -> float:
    """How often the proof would let this item through if it were wrong."""
    if isinstance(item.value, Given):
        return GIVEN
    drawn_out = any(
        DRAWN_OUT.intersection(constraint.marks) and getattr(constraint, "value", None) is None
        for constraint in item.value
    )
    return EXTENT if drawn_out else CLUE


def risk(items: Iterable[Item]) -> float:
    """The chance that at least one item is wrong and the proof passed all the same (a union bound)."""
    return sum(passing(item) for item in items)


def passing(item: Item) -> float:
    """The chance that an item is wrong and the proof passed. Where a line goes and which kind of line it is are two
    doubts, and the proof sees much more of the second; of either what it sees of this very line, where that is known
    (`recognise.doubt.ways`, `recognise.doubt.kinds`)."""
    doubt = 1 - item.confidence
    cells = doubt if item.extent is None else min(doubt, 1 - item.extent)
    escape = escape_of(item)
    of_kind = min(KIND, escape) if item.kind_escape is None else item.kind_escape
    return cells * (escape if item.escape is None else item.escape) + (doubt - cells) * of_kind


def is_clean(draft: Draft, outcome: Outcome) -> bool:
    """The whole policy."""
    return not draft.doubts and outcome == "one" and risk(draft.items) < RISK


def least_sure(draft: Draft) -> list[int]:
    """The items to ask a person about so that the rest is under the risk, the most doubtful first."""
    order = sorted(range(len(draft.items)), key=lambda i: -risk([draft.items[i]]))
    remaining = risk(draft.items)
    asked = []
    for index in order:
        if remaining < RISK:
            break
        asked.append(index)
        remaining -= risk([draft.items[index]])
    return asked
