"""How much of the doubt about the way of a diagonal clue the proof of this very page lets through: where the puzzle has
no single solution with the clue's little arrow pointing along another diagonal, it points as read."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import product

from recognise.doubt.policy import CLUE
from recognise.draft import Draft, Value, only_constraint
from schema.cells import Cell
from schema.kinds.diagonal_sum import DiagonalSum
from schema.marks import step_of

REFUTED = 0.05 * CLUE
"""What is left of the average where every other way is refuted: the arrow may be none, and the clue of another kind. On
784 scans and photos of the training half (5340 to 5639 of `fixtures.bench.kinds`) 24 diagonal clues were misread, all
of them in their numbers."""


def escape_of_direction(draft: Draft, index: int, proves: Callable[[Value], float]) -> float | None:
    """The part of the doubt about the way of a diagonal clue that a proof lets through; None where that is not known:
    it is no such clue, or may go another way. `proves` says how far the puzzle has one solution when the item states
    something else."""
    stated = only_constraint(draft.items[index].value)
    if not isinstance(stated, DiagonalSum):
        return None
    others = _others(stated, draft.grid.rows, draft.grid.columns)
    return REFUTED if not any(proves((other,)) for other in others) else None


def _others(clue: DiagonalSum, rows: int, columns: int) -> Iterator[DiagonalSum]:
    """The clue with an arrow along each other diagonal into the grid from where it stands."""
    down, right = step_of(clue.direction)
    row, column = clue.start.row - down, clue.start.column - right
    for vertical, sideways in product(("down", "up"), ("left", "right")):
        direction = f"{vertical}-{sideways}"
        down, right = step_of(direction)
        inside = 1 <= row + down <= rows and 1 <= column + right <= columns
        if direction != clue.direction and inside:
            yield clue.model_copy(update={"start": Cell(row + down, column + right), "direction": direction})
