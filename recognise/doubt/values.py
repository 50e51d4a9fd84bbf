"""How much of the doubt about a number (the total of a cage, a clue beside the grid) the proof of this very page lets
through: where with its other readings the puzzle has no single solution, it can not have been printed so."""

from __future__ import annotations

from collections.abc import Callable

from recognise.doubt.policy import CLUE
from recognise.draft import Alternative, Item, Value, only_constraint


def escape_of_number(item: Item, proves: Callable[[Value], float]) -> float | None:
    """The part of the doubt about an item's number that a proof lets through; None where its other readings differ in
    more, or where it has none. `proves` says how far the puzzle has one solution when the item states something else.
    Of the doubt that no reading stands for (the item's cells, a number that nobody thought of) the proof lets through
    what it does on the average."""
    named = [other for other in item.alternatives if _differs_in_number(item.value, other)]
    doubt = 1 - item.confidence
    if not named or len(named) < len(item.alternatives) or doubt <= 0:
        return None
    likely = sum(other.confidence for other in named)
    through = sum(other.confidence * proves(other.value) for other in named)
    rest = max(0.0, doubt - likely)
    return (through + rest * CLUE) / (likely + rest)


def _differs_in_number(value: Value, other: Alternative) -> bool:
    one, another = only_constraint(value), only_constraint(other.value)
    if one is None or another is None or not isinstance(getattr(one, "value", None), int):
        return False
    number = getattr(another, "value", None)
    return isinstance(number, int) and one.model_copy(update={"value": number}) == another
