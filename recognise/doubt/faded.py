"""Questions about lines that are hardly printed, which the solution of the page answers.

What shows through from the other side of the paper is left out, and asked about. A printed puzzle has one solution:
where the only one breaks whatever a line there would state, as each kind of line that the page has, and whatever one
would that is printed and ends there, if it went on so, none is printed there. Nor is one that no digits could break."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from recognise.doubt.idle import boxes_of, forbids_nothing
from recognise.doubt.kinds import along, line_of, way_of
from recognise.draft import Draft
from recognise.marks.line_questions import cells_of_faded
from schema.cells import Cell
from schema.kinds.arrow import Arrow
from schema.kinds.base import Constraint, Setting

LONGEST = 9
"""Cells of a line whose ways are tried: they are asked about in reading order, and may be joined in several."""
ONE_CELL = 1


def without_faded(draft: Draft, solution: Mapping[Cell, int]) -> Draft:
    """The draft, which has one `solution`, without the questions about lines that are hardly printed and that this
    refutes."""
    if not draft.all_told:
        return draft
    printed = [line for item in draft.items if (line := line_of(item.value)) is not None]
    if not printed:
        return draft
    # What has a number is none of them: that would be read, and asked about as one that belongs to nothing.
    kinds = [line for line in {_says(line): line for line in printed}.values() if not hasattr(line, "value")]
    setting, boxes = Setting(draft.grid, draft.constraints), boxes_of(draft)

    def is_refuted(why: str) -> bool:
        cells = cells_of_faded(why)
        if not ONE_CELL < len(cells) <= LONGEST:
            return False
        ways = [way for start in sorted(cells) for way in _ways((start,), cells - {start})]
        found = [line for kind in kinds for way in ways if (line := along(kind, way)) is not None]
        # Of a run, say, the last cell may have faded: alone it is none with the one before it.
        found += [longer for line in printed for way in ways for longer in _longer(line, way)]
        return bool(ways) and all(line.broken(setting, solution) or forbids_nothing(line, boxes) for line in found)

    return replace(draft, doubts=tuple(doubt for doubt in draft.doubts if not is_refuted(doubt.why)))


def _says(line: Constraint) -> str:
    """What a line says, wherever it runs."""
    return line.model_dump_json(exclude={"path", "circle", "shaft"})


def _longer(line: Constraint, way: tuple[Cell, ...]) -> Iterator[Constraint]:
    """A line as it would be if it went on along a way from its end, or came along one to its start."""
    if isinstance(line, Arrow):
        if line.shaft[-1] == way[0]:
            yield line.model_copy(update={"shaft": (*line.shaft, *way[1:])})
        return
    own = way_of(line)
    ends = [(*own, *way[1:])] if own[-1] == way[0] else []
    starts = [(*way, *own[1:])] if way[-1] == own[0] else []
    yield from (longer for path in ends + starts if (longer := along(line, path)) is not None)


def _ways(so_far: tuple[Cell, ...], left: frozenset[Cell]) -> Iterator[tuple[Cell, ...]]:
    """All ways on through the cells that are left."""
    if not left:
        yield so_far
    for cell in sorted(left):
        if cell.touches(so_far[-1]):
            yield from _ways((*so_far, cell), left - {cell})
