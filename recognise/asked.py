"""A doubt as a person reads it: where to look, what was read there, why it is asked, what else it may be."""

from __future__ import annotations

import re
from dataclasses import replace

from recognise.draft import Doubt, Draft, Given, Item, Value, only_constraint
from recognise.geometry import bounds
from recognise.place_words import place_words
from schema.naming import stated_by
from schema.paths import path_of
from schema.words import listed, with_article

OTHERS = 3
"""So many of the other readings of an item are named, the likeliest; the reading file has them all."""
_PLACE = re.compile(r"\br\d+c\d+\b|\b(row|column) \d")
_IT = re.compile(r"\bit\b")


def asked(draft: Draft, doubt: Doubt) -> str:
    """The question that a doubt puts to a person."""
    subject = _where(draft, doubt) if doubt.item is None else _subject(draft, doubt, draft.items[doubt.item])
    question = doubt.why
    if doubt.item is not None and not doubt.meaning:
        question += _other_words(draft, draft.items[doubt.item])
    return f"{subject}: {question}" if subject else question


def _where(draft: Draft, doubt: Doubt) -> str:
    """The place of a doubt that does not name one itself."""
    if doubt.where is None or _PLACE.search(doubt.why):
        return ""
    return place_words(bounds(doubt.where), (draft.grid.rows, draft.grid.columns))


def _subject(draft: Draft, doubt: Doubt, item: Item) -> str:
    """What a doubt about an item speaks of: the item as read, or its place where the doubt says what was seen."""
    words = "" if item.how == "inferred" else item_words(draft, item.value)
    if not words or (_PLACE.search(doubt.why) and not _IT.search(doubt.why)):
        words = _where(draft, replace(doubt, where=doubt.where or item.where))
    return f"{words} and {len(doubt.also)} more" if words and doubt.also else words


def item_words(draft: Draft, value: Value) -> str:
    """What was read in one place: `the 5 in r1c2`, `the cage 12 at r1c1 and r1c2`; nothing for an empty value and for
    a mark that was not read."""
    if isinstance(value, Given):
        return f"the {draft.grid.label(value.digit)} in {value.cell}"
    understood = [constraint for constraint in value if constraint.understood]
    return listed(f"the {stated_by(constraint)}" for constraint in understood)


def _other_words(draft: Draft, item: Item) -> str:
    """What else an item may be, the likeliest first. What the proof has settled says so itself."""
    if item.how == "inferred":
        return ""
    likeliest = sorted(item.alternatives, key=lambda other: -other.confidence)[:OTHERS]
    told = dict.fromkeys(_other(draft, item.value, other.value) for other in likeliest)
    return f"; it may be {listed(told, 'or')}" if told else ""


def _other(draft: Draft, read: Value, other: Value) -> str:
    """Another reading, as far as it differs from the one that was taken."""
    if isinstance(other, Given):
        return draft.grid.label(other.digit) if isinstance(read, Given) else item_words(draft, other)
    if not other:
        return "nothing"
    ours, theirs = only_constraint(read), only_constraint(other)
    if ours is None or theirs is None:
        return item_words(draft, other) or "another mark"
    value = getattr(theirs, "value", None)
    if value is not None and theirs.model_copy(update={"value": getattr(ours, "value", None)}) == ours:
        return str(value)
    path = path_of(theirs)
    if path and stated_by(ours) == stated_by(theirs):
        return f"one that goes {' '.join(map(str, path))}"
    return with_article(stated_by(theirs)) if theirs.understood else "another mark"
