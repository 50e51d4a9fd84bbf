"""What the rules may say otherwise than they were read, where the puzzle has no single solution: a field that all marks
of a kind share, or a rule that no mark shows. Sentences are misread seldom; then they spoil all that they speak of."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from recognise.doubt.only_one import only_one
from recognise.draft import Alternative, Doubt, Draft, Given, Item, Value
from schema.kinds import KINDS, STRUCTURE
from schema.kinds.base import Constraint
from schema.naming import stated_by

SECONDS = 4.0
"""Of work, for all of it; nearly all proofs take milliseconds."""
ONE = 1.0
"""Of it, for one proof."""


def settled_by_rules(draft: Draft) -> Draft | None:
    """The draft with the one thing told otherwise with which it has exactly one solution, each change `inferred` and
    put to a person. None where there is no such thing, or several, or not all could be tried."""
    return only_one((*_with_switches(draft), *_without_rules(draft)), SECONDS, ONE)


def _with_switches(draft: Draft) -> Iterator[Draft]:
    """All marks of a kind with a switch of theirs (rising or not falling, repeats or none, wrapped or not) the other
    way."""
    for kind in KINDS:
        for name in (name for name, field in kind.model_fields.items() if field.annotation is bool):
            values = {getattr(c, name) for c in draft.constraints if isinstance(c, kind)}
            if len(values) == 1:
                (value,) = values
                told = "false" if value else "true"
                why = f"each {kind.name}: there is exactly one solution only where “{name}” is {told}"
                yield _changed(draft, [_switched(item.value, kind, name) for item in draft.items], why)


def _switched(value: Value, kind: type[Constraint], name: str) -> Value:
    if isinstance(value, Given):
        return value
    return tuple(c.model_copy(update={name: not getattr(c, name)}) if isinstance(c, kind) else c for c in value)


def _without_rules(draft: Draft) -> Iterator[Draft]:
    """The draft without one of the rules that the text alone states."""
    for index, item in enumerate(draft.items):
        told = _told_alone(item)
        if told:
            values = [() if n == index else other.value for n, other in enumerate(draft.items)]
            yield _changed(draft, values, f"{stated_by(told[0])}: there is exactly one solution only without this rule")


def _told_alone(item: Item) -> tuple[Constraint, ...]:
    """What a sentence alone states, if that is what an item is and the lattice does not show it."""
    if isinstance(item.value, Given) or item.how != "text":
        return ()
    alone = all("rule" in c.marks and c.kind not in STRUCTURE for c in item.value)
    return item.value if alone else ()


def _changed(draft: Draft, values: list[Value], why: str) -> Draft:
    """The draft with other values for some items, and a doubt on the first of them about all."""
    changed = [n for n, (item, value) in enumerate(zip(draft.items, values, strict=True)) if item.value != value]
    items = [
        replace(item, value=value, how="inferred", alternatives=(Alternative(item.value, item.confidence),))
        if n in changed
        else item
        for n, (item, value) in enumerate(zip(draft.items, values, strict=True))
    ]
    first, *others = changed
    return replace(draft, items=tuple(items)).doubting(Doubt(why, item=first, also=tuple(others)))
