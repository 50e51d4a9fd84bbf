"""Questions about lines that are hardly printed, which the solution of the page answers.

What shows through from the other side of the paper is left out, and asked about. A printed puzzle has one solution:
where the only one breaks whatever a line there would state, as each kind of line that the page has, none is printed
there. Nor is one that no digits could break."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from recognise.doubt.idle import boxes_of, forbids_nothing
from recognise.doubt.kinds import along, line_of
from recognise.draft import Draft
from recognise.marks.line_questions import cells_of_faded
from schema.cells import Cell
from schema.kinds.base import Constraint, Setting

LONGEST = 9
"""Cells of a line whose ways are tried: they are asked about in reading order, and may be joined in several."""
ONE_CELL = 1


def without_faded(draft: Draft, solution: Mapping[Cell, int]) -> Draft:
    """The draft, which has one `solution`, without the questions about lines that are hardly printed and that this
    refutes."""
    if not draft.all_told:
        return draft
    kinds = {type(line): line for item in draft.items if (line := line_of(item.value)) is not None}
    # What a number says that nobody saw is not known.
    if not kinds or any("value" in kind.model_fields for kind in kinds):
        return draft
    setting, boxes = Setting(draft.grid, draft.constraints), boxes_of(draft)

    def is_refuted(why: str) -> bool:
        cells = cells_of_faded(why)
        if not ONE_CELL < len(cells) <= LONGEST:
            return False
        lines = list(_lines(kinds.values(), cells))
        return bool(lines) and all(line.broken(setting, solution) or forbids_nothing(line, boxes) for line in lines)

    return replace(draft, doubts=tuple(doubt for doubt in draft.doubts if not is_refuted(doubt.why)))


def _lines(kinds: Iterable[Constraint], cells: frozenset[Cell]) -> Iterator[Constraint]:
    """What a line through some cells can state, of each kind that the page has, in each of its ways."""
    kinds = list(kinds)
    for start in sorted(cells):
        for way in _ways((start,), cells - {start}):
            yield from (line for kind in kinds if (line := along(kind, way)) is not None)


def _ways(so_far: tuple[Cell, ...], left: frozenset[Cell]) -> Iterator[tuple[Cell, ...]]:
    """All ways on through the cells that are left."""
    if not left:
        yield so_far
    for cell in sorted(left):
        if cell.touches(so_far[-1]):
            yield from _ways((*so_far, cell), left - {cell})
