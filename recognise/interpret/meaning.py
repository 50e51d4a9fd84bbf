"""What a mark means: what the rules text says of such marks, or else what every publication means by it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from recognise.interpret.hints import describes, fits
from recognise.rules import RuleSheet, Statement
from schema.kinds import KINDS, kind_named
from schema.kinds.base import Constraint
from schema.marks import Seen


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a mark is taken for. `constraints` is empty when nothing explains it; `statements` are what it comes from,
    none for common practice; `others` are kinds that it might be as well."""

    constraints: tuple[Constraint, ...]
    statements: tuple[Statement, ...] = ()
    others: tuple[type[Constraint], ...] = ()
    why_not: str = ""


def meaning_of(seen: Seen, sheet: RuleSheet | None) -> Meaning:
    """Find the one kind that explains a mark. `sheet` is None where the page prints no rules."""
    if sheet is not None:
        stated = _stated(seen, sheet.statements)
        if stated:
            return _built(seen, stated)
    kinds = [kind for kind in KINDS if seen.family in kind.unmistakable]
    if len(kinds) == 1:
        try:
            return Meaning(kinds[0].from_mark(seen, {}))
        except ValueError as fault:
            return Meaning((), why_not=str(fault))
    possible = tuple(kind for kind in KINDS if seen.family in kind.marks)
    return Meaning((), others=possible, why_not="no rule on the page says what it means")


def fields_for(kind: type[Constraint], statement: Statement) -> dict[str, object]:
    """What a sentence says of the kind's own fields, without what it says of the mark or the digits."""
    return {name: value for name, value in statement.fields.items() if name in kind.model_fields and name != "kind"}


def _stated(seen: Seen, statements: Iterable[Statement]) -> list[Statement]:
    fitting = [s for s in statements if not s.negated and seen.family in kind_named(s.kind).marks]
    # A sentence that describes the mark it speaks of has the word over one that does not.
    return [s for s in fitting if describes(s.mark) and fits(s.mark, seen)] or [
        s for s in fitting if fits(s.mark, seen)
    ]


def _built(seen: Seen, statements: Sequence[Statement]) -> Meaning:
    """Build the mark by each statement that fits; it has a meaning when exactly one can."""
    built: list[tuple[Statement, tuple[Constraint, ...]]] = []
    faults: list[str] = []
    for statement in statements:
        try:
            kind = kind_named(statement.kind)
            built.append((statement, kind.from_mark(seen, fields_for(kind, statement))))
        except ValueError as fault:
            faults.append(str(fault))
    if not built:
        return Meaning((), why_not="; ".join(faults))
    _, constraints = built[0]
    if any(other != constraints for _, other in built[1:]):
        kinds = tuple(dict.fromkeys(kind_named(s.kind) for s, _ in built))
        return Meaning((), others=kinds, why_not="several rules on the page may speak of it")
    return Meaning(constraints, tuple(s for s, _ in built))
