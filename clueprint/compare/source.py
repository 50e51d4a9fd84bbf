"""What the source tells a reader of its proof: the digits, what its marks mean, and where each item should stand."""

from __future__ import annotations

from collections.abc import Iterator

from clueprint.compare.match import spread
from clueprint.draw.lattice import puzzle_shapes
from clueprint.draw.primitives import bounds_of
from clueprint.house_style import SHOWN
from recognise.draft import Polygon, box_polygon
from recognise.rules import DigitRange, Statement
from schema.kinds.base import Constraint
from schema.puzzle import Puzzle

_PRINTED = ("value", "operation", "ratio")
"""Fields that print gives with the mark itself; the source states them only where all its marks agree."""


def house_of(source: Puzzle) -> tuple[Statement, ...]:
    """What the marks of this puzzle mean, as a house style would state it: each kind with the fields that no mark
    shows. Looks are left open: a source does not say how it is printed."""
    stated: dict[str, dict[object, Statement]] = {}
    for constraint in source.constraints:
        if is_drawn(constraint) and constraint.understood:
            fields = {name: value for name, value in constraint if name not in SHOWN and name != "value"}
            key = tuple(sorted((name, repr(value)) for name, value in fields.items()))
            stated.setdefault(constraint.kind, {})[key] = Statement(constraint.kind, fields)
    return tuple(statement for kind in stated.values() for statement in _agreed(list(kind.values())))


def _agreed(statements: list[Statement]) -> Iterator[Statement]:
    """The statements of one kind; fields that print gives with each mark are left to the marks where they vary."""
    if len(statements) == 1:
        yield statements[0]
        return
    seen = []
    for statement in statements:
        fields = {name: value for name, value in statement.fields.items() if name not in _PRINTED}
        if fields not in seen:
            seen.append(fields)
            yield Statement(statement.kind, fields)


def digits_of(source: Puzzle) -> DigitRange | None:
    """The digits of the source's grid with what is printed for them; None where they are no unbroken run."""
    digits = sorted(source.grid.digits)
    if digits != list(range(digits[0], digits[-1] + 1)):
        return None
    return DigitRange(digits[0], digits[-1], {int(digit): label for digit, label in source.grid.labels.items()})


def is_drawn(constraint: Constraint) -> bool:
    """Whether a constraint has a mark on paper."""
    return constraint.marks != ("rule",)


def marks_of(source: Puzzle) -> list[Constraint]:
    """The constraints of the source that have marks, one for each mark."""
    return [one for c in source.constraints if is_drawn(c) and c.understood for one in spread(c)]


def places(source: Puzzle) -> dict[str, Polygon]:
    """Where each item of the source should stand, by its JSON Pointer: the box around its picture as we would draw it,
    in cells."""
    shapes: dict[str, list[object]] = {}
    for shape in puzzle_shapes(source):
        if shape.item is not None:
            shapes.setdefault(shape.item, []).append(shape)
    return {item: box_polygon(bounds_of(found)) for item, found in shapes.items()}  # type: ignore[arg-type]
