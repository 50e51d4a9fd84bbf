"""Size and boxes of the proof's grid against those of the source."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clueprint.compare.held import Held
from clueprint.compare.result import Finding
from ingest.page import Box
from recognise.draft import box_polygon
from schema.cells import Cell
from schema.files import constraint_document
from schema.kinds.base import Constraint
from schema.kinds.boxes import Boxes
from schema.pointers import constraint_pointer


def size_finding(held: Held) -> Finding | None:
    """A grid of another size: nothing else can be compared then."""
    ours = (held.source.grid.rows, held.source.grid.columns)
    theirs = (held.proof.draft.grid.rows, held.proof.draft.grid.columns)
    if ours == theirs:
        return None
    why = (
        f"the proof has {theirs[0]} rows and {theirs[1]} columns, the source {ours[0]} and {ours[1]};"
        " the rest was not compared"
    )
    expected, found = ({"rows": rows, "columns": columns} for rows, columns in (ours, theirs))
    return held.finding(why, "changed", None, sure=True, item="/grid", expected=expected, found=found)


def box_findings(held: Held) -> Iterator[Finding]:
    """The boxes that the proof's lines or tints show."""
    ours = next(((n, c) for n, c in enumerate(held.source.constraints) if isinstance(c, Boxes)), None)
    seen = held.proof.grid.looked.boxes
    theirs = seen.cells
    if ours is None:
        wholes = theirs is not None and all(len(box) == len(held.source.grid.digits) for box in theirs)
        if wholes and theirs is not None and not _fenced(theirs, held.source.constraints):
            boxes = Boxes(cells=theirs)
            why = "the lines of the proof show boxes, and the source has none"
            yield held.finding(why, "extra", None, sure=True, found=constraint_document(boxes))
        return
    number, boxes = ours
    if theirs is not None and Boxes(cells=theirs).identity() == boxes.identity():
        return
    pointer, expected = constraint_pointer(number), constraint_document(boxes)
    if theirs is None:
        why = "the lines of the proof show no boxes"
        sure = "boxes" not in held.words.stated and held.by_vectors
        yield held.finding(why, "missing", None, sure=sure, item=pointer, expected=expected)
        return
    found = Boxes(cells=theirs)
    cells = _moved(boxes, found)
    may_be = any(b is not None and Boxes(cells=b).identity() == boxes.identity() for b in seen.alternatives)
    sure = not may_be or held.by_vectors
    where = box_polygon(_around(cells))
    why = f"the boxes of the proof run otherwise at {', '.join(map(str, cells[:6]))}" + (
        " and more" if len(cells) > 6 else ""
    )
    yield held.finding(
        why, "changed", where, sure=sure, item=pointer, expected=expected, found=constraint_document(found)
    )


def _fenced(boxes: Sequence[Sequence[Cell]], constraints: Sequence[Constraint]) -> bool:
    """Whether what looks like boxes is cages."""
    cages = {frozenset(getattr(c, "cells", ())) for c in constraints if c.marks[:1] == ("cage",)}
    return all(frozenset(box) in cages for box in boxes)


def _moved(ours: Boxes, theirs: Boxes) -> list[Cell]:
    """The cells whose box is another, each box of the proof taken for the one that it shares most cells with."""
    moved: list[Cell] = []
    for box in theirs.cells:
        best = max(ours.cells, key=lambda other: len(set(box) & set(other)))
        moved += set(box) - set(best)
    return sorted(moved) or sorted(cell for box in ours.cells for cell in box)


def _around(cells: Sequence[Cell]) -> Box:
    rows, columns = [cell.row for cell in cells], [cell.column for cell in cells]
    return min(columns) - 1, min(rows) - 1, max(columns), max(rows)
