"""How much of the doubt about which kind of line a mark is the proof of this very page lets through.

Where rules are printed they say which lines the page has: each line is one of these, the one way round or the other.
Where with all others the puzzle has no single solution, it is the kind that it was taken for: had it been taken for a
wrong one, what was printed would be among the others, and leave one solution."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from recognise.doubt.policy import KIND
from recognise.draft import Draft, Value, only_constraint
from schema.cells import Cell
from schema.kinds.arrow import Arrow
from schema.kinds.base import Constraint
from schema.paths import path_of

REFUTED = 0.1 * KIND
"""What is left of the average where every other kind is refuted: that several lines of one look are another kind was
not tried."""


def escape_of_kind(draft: Draft, index: int, proves: Callable[[Value], float]) -> float | None:
    """The part of the doubt about the kind of a line that a proof lets through; None where that is not known: no rules
    are printed, it is no single line, or it may be another kind. `proves` says how far the puzzle has one solution when
    the item states something else."""
    own = line_of(draft.items[index].value)
    if own is None or not draft.all_told:
        return None
    others = dict.fromkeys(other_kinds(draft, own))
    return REFUTED if not any(proves((other,)) for other in others) else None


def other_kinds(draft: Draft, own: Constraint) -> Iterator[Constraint]:
    """What a line states as each kind of line that the page has, and the other way round."""
    cells = way_of(own)
    for item in draft.items:
        kind = line_of(item.value)
        for way in (cells, cells[::-1]) if kind is not None else ():
            other = along(kind, way)
            if other is not None and other != own and other.identity() != own.identity():
                yield other


def line_of(value: Value) -> Constraint | None:
    """The only constraint that a line with one way states."""
    stated = only_constraint(value)
    return stated if hasattr(stated, "path") or isinstance(stated, Arrow) else None


def way_of(line: Constraint) -> tuple[Cell, ...]:
    """The way of a line; of an arrow that begins in a circle over several cells it begins in the nearest."""
    if not isinstance(line, Arrow):
        return path_of(line)
    start = next((cell for cell in line.circle if cell.touches(line.shaft[0])), line.circle[0])
    return (start, *line.shaft)


def along(kind: Constraint | None, cells: tuple[Cell, ...]) -> Constraint | None:
    """A line of the same kind along other cells."""
    if isinstance(kind, Arrow):
        return kind.model_copy(update={"circle": cells[:1], "shaft": cells[1:]})
    return None if kind is None else kind.model_copy(update={"path": cells})
