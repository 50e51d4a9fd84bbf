"""Rules that are lost: of which the sentence may be one that is not understood, or that nobody could read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from recognise.draft import Doubt, Draft, Item
from recognise.rules.opined import looked_at
from recognise.rules.opinion import opinion
from schema.kinds.all_marked import MARKED_KINDS, AllMarked
from schema.kinds.base import Constraint
from schema.kinds.diagonal import Diagonal
from schema.kinds.king_apart import KingApart
from schema.kinds.knight_apart import KnightApart
from schema.kinds.neighbours_not_consecutive import NeighboursNotConsecutive

UNREAD = "no rules could be read, and there may be some: the marks were taken for what they usually mean"
LIGHT = "light words in a dark box beside the grid could not be read, and may be rules"
TORN = "words stand between the lines of the rules that were not taken for a part of them"

_ALONE: tuple[tuple[Constraint, ...], ...] = (
    (KnightApart(),),
    (KingApart(),),
    (NeighboursNotConsecutive(),),
    (Diagonal(direction="down"), Diagonal(direction="up")),
)


def with_lost_rules(draft: Draft) -> Iterator[tuple[float, Draft]]:
    """The draft with each rule that no mark shows and that it does not state yet, and how likely the second opinion on
    sentences (`recognise/rules/opinion.py`) holds that one that is not understood states it. The rule is `inferred`,
    and put to a person."""
    opinions = [opinion(looked_at([sentence])) for sentence in draft.lost]
    for rule in unstated_rules(draft) if opinions else ():
        item = Item(rule, None, 1.0, "inferred")
        why = f"{rule[0].name}: it leaves exactly one solution, and a sentence that is not understood may say so"
        likely = max(said[rule[0].kind] for said in opinions)
        yield likely, replace(draft, items=(*draft.items, item)).doubting(Doubt(why, item=len(draft.items)))


def unstated_rules(draft: Draft) -> Iterator[tuple[Constraint, ...]]:
    """Each rule that no mark shows and that the draft does not state."""
    for rule in (*_ALONE, *_all_marked(draft)):
        if not any(constraint in draft.constraints for constraint in rule):
            yield rule


def _all_marked(draft: Draft) -> Iterator[tuple[Constraint, ...]]:
    """That all pairs of a kind are marked, for each kind of which there are marks, or may be."""
    possible = [value for undecided in draft.undecided for reading in undecided.readings for value in reading.values]
    stated = {type(c) for value in (*possible, draft.constraints) for c in value}
    for name, kind in MARKED_KINDS.items():
        if kind in stated:
            yield (AllMarked.model_validate({"of": name}),)


def unread_rules(draft: Draft) -> Iterator[Doubt]:
    """A doubt where marks were taken for what they usually mean, no rules were read, and there may be text that nobody
    read: of most marks rules know a second meaning. Others where light words in a dark box were not read, and where
    words stand between the lines of the rules that were not taken for a part of them."""
    words = draft.words
    if words.torn:
        yield Doubt(TORN)
    if words.light_unread:
        yield Doubt(LIGHT)
    if words.rules_text is None and words.unread and any(_marked(draft)):
        yield Doubt(UNREAD, meaning=True)


def _marked(draft: Draft) -> Iterator[Constraint]:
    return (constraint for constraint in draft.constraints if set(constraint.marks) - {"rule"})
