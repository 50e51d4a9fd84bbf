"""Marks of which no sentence speaks, and sentences of whose marks none was found: on a page that is complete they
belong together, whatever words the sentence has for what the marks look like."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from recognise.interpret.hints import FAMILIES, describes, fits
from recognise.interpret.mark import Left, Mark
from recognise.interpret.meaning import built
from recognise.rules import MarkHint, RuleSheet, Statement
from schema.kinds import kind_named
from schema.marks import Seen

CALLED_OTHERWISE = "no rule calls such a mark so; it is taken for what this sentence speaks of: “{}”"
MOST_MISFITS = 3
"""A sentence may call a mark by another shape and another colour; one that is wrong in its style too means another."""
OTHER_FAMILY, UNUSUAL = 2, 3
"""What it counts where a sentence speaks of marks that stand elsewhere (of dots, and a line is there), and where a mark
is none that is usual for the kind: a line between circles for a run."""

Pairs = dict[str, Statement]


def statements_alone(sheet: RuleSheet | None, used: Collection[int], left: Left) -> list[Statement]:
    """What the rules state of marks of which none was taken so far, each thing once; not what is yet to be looked for
    among the tints and tangled lines that are `left`. `used` holds the `id` of statements that gave something."""
    found: dict[tuple[str, str], Statement] = {}
    done = {_said(s) for s in sheet.statements if id(s) in used} if sheet is not None else set()
    for statement in sheet.statements if sheet is not None else ():
        families = [family for family in kind_named(statement.kind).marks if family != "rule"]
        to_come = (left.tints and statement.mark.shape == "tint") or (
            left.traces and any(family in FAMILIES["line"] for family in families)
        )
        if families and not statement.negated and not to_come and _said(statement) not in done:
            found.setdefault(_said(statement), statement)
    return list(found.values())


def paired(unexplained: Mapping[str, Sequence[Mark]], alone: Sequence[Statement], sheet: RuleSheet | None) -> Pairs:
    """Which sentence each look of marks belongs to: each pair fits better than either fits any other. Marks that look
    as some sentence of the `sheet` describes are no others' than its own."""
    misfits = {
        (looks, index): count
        for looks, marks in unexplained.items()
        if sheet is not None and not any(_is_described(mark.seen, sheet) for mark in marks)
        for index, statement in enumerate(alone)
        if (count := _misfits(statement, marks)) <= MOST_MISFITS
    }
    found: Pairs = {}
    while best := _best(misfits):
        looks, index = best
        found[looks] = alone[index]
        misfits = {pair: count for pair, count in misfits.items() if pair[0] != looks and pair[1] != index}
    return found


def _is_described(seen: Seen, sheet: RuleSheet) -> bool:
    return any(
        describes(s.mark) and not s.negated and seen.family in kind_named(s.kind).marks and fits(s.mark, seen)
        for s in sheet.statements
    )


def _said(statement: Statement) -> tuple[str, str]:
    return statement.kind, repr(sorted(statement.fields.items()))


def _best(misfits: Mapping[tuple[str, int], int]) -> tuple[str, int] | None:
    """A pair that fits better than any other with the same look or the same sentence."""
    for pair, count in sorted(misfits.items(), key=lambda one: one[1]):
        rivals = [c for other, c in misfits.items() if other != pair and (other[0] == pair[0] or other[1] == pair[1])]
        if all(count < rival for rival in rivals):
            return pair
    return None


def _misfits(statement: Statement, marks: Sequence[Mark]) -> int:
    """In how much marks of one look are not what a sentence calls them; more than `MOST_MISFITS` where they cannot be
    what it speaks of."""
    seen, hint = marks[0].seen, statement.mark
    never = MOST_MISFITS + 1
    if not all(mark.seen.family in kind_named(statement.kind).marks and _builds(statement, mark) for mark in marks):
        return never
    if not fits(MarkHint(place=hint.place, sides=hint.sides, letter=hint.letter), seen):
        return never
    shape = 0 if fits(MarkHint(shape=hint.shape), seen) else 1
    if shape and seen.family not in FAMILIES.get(hint.shape, (seen.family,)):
        shape = OTHER_FAMILY
    look = sum(not fits(only, seen) for only in (MarkHint(colour=hint.colour), MarkHint(style=hint.style)))
    usual = kind_named(statement.kind).marks[0] == seen.family
    return shape + look + (0 if usual else UNUSUAL)


def _builds(statement: Statement, mark: Mark) -> bool:
    try:
        return bool(built(statement, mark.seen))
    except ValueError:
        return False
