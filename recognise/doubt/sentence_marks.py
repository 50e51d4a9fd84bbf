"""The marks that a question about a sentence of the rules is about.

Who reads that a sentence on cages is not understood has every cage to look at: each of them may mean something else
than was read. The marks are those of which the sentence states something, or else those that it names."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from recognise.draft import Doubt, Draft, Given, Item
from recognise.interpret.draft import in_the_main, not_understood
from recognise.rules import RuleSheet
from recognise.rules.within import nouns_of, nouns_of_family
from schema.kinds.base import Constraint
from schema.marks import Family

_QUOTED = re.compile(r"“(.+)”")


def with_marks_named(draft: Draft, sheet: RuleSheet | None) -> Draft:
    """The draft, its doubts about sentences each with the marks of which the sentence speaks."""
    if sheet is None:
        return draft
    return replace(draft, doubts=tuple(_pointing(doubt, draft, sheet) for doubt in draft.doubts))


def _pointing(doubt: Doubt, draft: Draft, sheet: RuleSheet) -> Doubt:
    quoted = _QUOTED.search(doubt.why)
    if quoted is None or doubt.why not in (not_understood(quoted[1]), in_the_main(quoted[1])) or doubt.also:
        return doubt
    stated = {s.kind for s in sheet.statements if s.sentence == quoted[1] and not s.negated}
    also = _of(draft, lambda constraint: constraint.kind in stated) or _named(draft, quoted[1])
    return replace(doubt, also=also)


def _named(draft: Draft, sentence: str) -> tuple[int, ...]:
    """The marks of the families that a sentence calls by more of their names than any others."""
    named = nouns_of(sentence)
    families = {family for item in draft.items for constraint in _stated(item) for family in constraint.marks}
    shared = {family: len(named & nouns_of_family(family)) for family in families}
    most = max(shared.values(), default=0)
    meant: set[Family] = {family for family, count in shared.items() if 0 < count == most}
    return _of(draft, lambda constraint: not meant.isdisjoint(constraint.marks))


def _of(draft: Draft, is_meant: Callable[[Constraint], bool]) -> tuple[int, ...]:
    """The marks that state something which is meant."""
    placed = [at for at, item in enumerate(draft.items) if item.where is not None]
    return tuple(at for at in placed if any(map(is_meant, _stated(draft.items[at]))))


def _stated(item: Item) -> tuple[Constraint, ...]:
    return () if isinstance(item.value, Given) else item.value
