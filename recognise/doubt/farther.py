"""Readings that no look at the page names, tried only where what it names leaves no single solution.

Such a draft is wrong for sure, and the commonest errors are known: a figure of a number was lost or belongs to the
number beside it, the sign behind a total was lost, two lines that end in one cell were taken for one or one for two, a
line goes a cell further or less far, a sign points the other way."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise, product

from recognise.doubt.values import cages_of
from recognise.doubt.ways import other_way
from recognise.draft import Alternative, Draft, Given, Item, Value, only_constraint
from schema.cells import Cell
from schema.kinds.base import Constraint
from schema.kinds.cage import Cage
from schema.kinds.greater import Greater
from schema.kinds.sum_pair import SumPair
from schema.paths import path_of

SURELY, UNSURELY = 1e-4, 0.1
"""How likely all such readings of an item are: of one that was read surely, and as a part of the doubt about others."""
LARGEST_SUM = 45
"""Of nine different digits; a diagonal with repeats seldom has a larger one."""
SELDOM = 0.05
"""How much less likely than a lost figure is a number that another mark of the page has; of pairs, which mostly all
have one, it is the other way round."""
SHARP = math.radians(50)
"""Two steps of a line that meet at a lesser angle may be the ends of two: printed lines seldom turn back so sharply."""


def farther(draft: Draft) -> Draft:
    """The draft with all that its items may be besides what was read: more alternatives, each very unlikely."""
    return replace(draft, items=tuple(_with_more(item, draft) for item in draft.items))


def _with_more(item: Item, draft: Draft) -> Item:
    if isinstance(item.value, Given) or item.where is None:
        return item
    named = {other.value for other in item.alternatives} | {item.value}
    weights: dict[Value, float] = {}
    for value, weight in _other_values(item, draft):
        if value not in named:
            weights[value] = max(weight, weights.get(value, 0.0))
    if not weights:
        return item
    chance = max(SURELY, UNSURELY * (1 - item.confidence)) / sum(weights.values())
    more = (Alternative(value, chance * weight) for value, weight in weights.items())
    return replace(item, alternatives=(*item.alternatives, *more))


def _other_values(item: Item, draft: Draft) -> Iterator[tuple[Value, float]]:
    """What else an item may state, each with its weight."""
    only = only_constraint(item.value)
    if only is not None:
        yield from (((other,), weight) for other, weight in _other_numbers(only, draft))
        yield from ((parts, 1.0) for parts in _apart(only))
        yield from ((value, 1.0) for value in _whole(item, only, draft))
        if isinstance(only, Greater) and item.how == "shape":
            yield (Greater(greater=only.less, less=only.greater),), 1.0
    for slip in item.slips:
        other = other_way(item.value, slip) if slip.first != slip.second else None
        if other is not None:
            yield other, 1.0


def _other_numbers(stated: Constraint, draft: Draft) -> Iterator[tuple[Constraint, float]]:
    """A constraint with the other numbers that may be printed with it, and a cage with the other signs."""
    value = getattr(stated, "value", None)
    if not isinstance(value, int):
        return
    lost, alike = (SELDOM, 1.0) if isinstance(stated, SumPair) else (1.0, SELDOM)
    for numbers, weight in ((_longer(value), lost), (_shorter(value), lost), (_elsewhere(stated, draft), alike)):
        yield from ((stated.model_copy(update={"value": number}), weight) for number in numbers)
    if isinstance(stated, Cage):
        for operation in dict.fromkeys(cage.operation for cage in cages_of(draft)):
            if operation != stated.operation:
                yield stated.model_copy(update={"operation": operation}), 1.0


def _longer(value: int) -> Iterator[int]:
    """The numbers of which the first figure was lost."""
    return (int(f"{figure}{value}") for figure in range(1, 10) if int(f"{figure}{value}") <= LARGEST_SUM)


def _shorter(value: int) -> Iterator[int]:
    """The numbers that are left without the first or the last figures, which belong to another or to none."""
    text = str(value)
    yield from (int(part) for at in range(1, len(text)) for part in (text[:at], text[at:]))


def _elsewhere(stated: Constraint, draft: Draft) -> Iterator[int]:
    """The numbers that other marks of the kind state on the same page: on some all are alike, and two clues that stand
    close together may have each other's."""
    for item in draft.items:
        other = only_constraint(item.value)
        if other is not None and other.kind == stated.kind and isinstance(number := getattr(other, "value", None), int):
            yield number


def _apart(stated: Constraint) -> Iterator[tuple[Constraint, ...]]:
    """A line as two that end in one cell, at each place where it turns back sharply."""
    path = path_of(stated)
    for at, (one, other) in enumerate(pairwise(pairwise(path)), start=1):
        if _angle(one[0], one[1], other[1]) <= SHARP:
            parts = path[: at + 1], path[at:]
            yield tuple(stated.model_copy(update={"path": part}) for part in parts)


def _whole(item: Item, stated: Constraint, draft: Draft) -> Iterator[Value]:
    """A line with another one of its kind that ends where it does, as one; and nothing, where the other takes it in."""
    path = path_of(stated)
    for other in draft.items:
        partner = only_constraint(other.value)
        rest = path_of(partner)
        if other is item or partner is None or partner.kind != stated.kind or not path or not rest:
            continue
        for one, its in product((path, path[::-1]), (rest, rest[::-1])):
            if one[-1] == its[0] and not set(one[:-1]) & set(its):
                yield (stated.model_copy(update={"path": (*one, *its[1:])}),)
                yield ()


def _angle(before: Cell, cell: Cell, after: Cell) -> float:
    """The angle between the steps from a cell back and on."""
    one, other = (math.atan2(far.row - cell.row, far.column - cell.column) for far in (before, after))
    return abs((one - other + math.pi) % (2 * math.pi) - math.pi)
