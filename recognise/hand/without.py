"""The evidence of a grid without what lies on handwriting."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Box, Point
from recognise.evidence import Evidence, Shape, Trace
from recognise.geometry import holds, middle, overlap, shared
from recognise.hand.pencilled import Pencilled
from recognise.marks.text_places import SMALL_TALLEST, corner_of, hard_in_corner, perhaps_small

ON_HAND = 0.9
"""Share of a line that must lie on handwriting to be taken for a part of it."""
REACH = 0.1
"""In cells: how far ink reaches beyond the box of what it belongs to."""
COVERED = 0.6
"""Share of a mark that must lie on handwriting to be taken for a part of it; what ink it has beside that, the guard
that explains all the ink finds."""


def without_hand(evidence: Evidence, pencilled: Sequence[Pencilled]) -> Evidence:
    """The evidence without everything that lies on handwriting."""
    boxes = [_wider(p.box) for p in pencilled]
    cells = {(p.cell.row, p.cell.column) for p in pencilled}
    glyphs = [g for g in evidence.glyphs if (int(g.centre[1] + 1), int(g.centre[0] + 1)) not in cells
              or not _on(g.centre, evidence)]  # fmt: skip
    said = _said_of(pencilled) if not _has_small_print(replace(evidence, glyphs=tuple(glyphs))) else frozenset()
    return replace(
        evidence,
        glyphs=tuple(glyphs),
        shapes=tuple(s for s in evidence.shapes if not _inside(s.box, boxes) and not _is_hand(s, pencilled)),
        unexplained=tuple(b for b in evidence.unexplained if not _inside(b, boxes)),
        stray=tuple(b for b in evidence.stray if not _inside(b, boxes)),
        traces=tuple(t for t in evidence.traces if not _lies_on(t, boxes)),
        notes=tuple(note for note in evidence.notes if note not in said),
    )  # fmt: skip


def _said_of(pencilled: Sequence[Pencilled]) -> frozenset[str]:
    """What would be said of handwriting that reaches into the corners of its cells, taken for small print."""
    cells = [p.cell for p in pencilled if overlap(p.box, corner_of(p.cell))]
    return frozenset(note for cell in cells for note in (perhaps_small(cell), hard_in_corner(cell)))


def _has_small_print(evidence: Evidence) -> bool:
    """Whether the page prints totals: one of them may stand under what somebody has written."""
    small = (g for g in evidence.glyphs if g.text and g.size <= SMALL_TALLEST and _on(g.centre, evidence))
    return bool(evidence.fences) or next(small, None) is not None


def _is_hand(shape: Shape, pencilled: Sequence[Pencilled]) -> bool:
    """Whether a mark of no kind is handwriting: its box is that of any mark in a cell, and not measured."""
    return shape.name == "mark" and any(holds(shape.box, middle(p.box)) for p in pencilled)


def _on(point: Point, evidence: Evidence) -> bool:
    return 0 <= point[0] < evidence.columns and 0 <= point[1] < evidence.rows


def _wider(box: Box) -> Box:
    return box[0] - REACH, box[1] - REACH, box[2] + REACH, box[3] + REACH


def _inside(box: Box, boxes: Sequence[Box]) -> bool:
    area = max((box[2] - box[0]) * (box[3] - box[1]), 1e-9)
    return any(shared(box, other) >= COVERED * area for other in boxes)


def _lies_on(trace: Trace, boxes: Sequence[Box]) -> bool:
    """Whether a line runs on handwriting all along: lines from cell to cell do not."""
    ends = [(trace.nodes[a].centre, trace.nodes[b].centre) for a, b in trace.links]
    if not ends:
        return False
    points = np.concatenate([np.linspace(np.array(a), np.array(b), 21) for a, b in ends])
    within = [any(holds(box, (x, y)) for box in boxes) for x, y in points]
    return float(np.mean(within)) >= ON_HAND
