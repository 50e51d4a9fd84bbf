"""Where on the page a question stands whose words alone say so.

What is in doubt of marks that nobody took for an item is noted in words (`what stands between r1c2 and r1c3 was hard to
tell`). A person is shown the place as well, as for any other question; where several places are named, the first."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import replace

from ingest.page import Box
from recognise.draft import Doubt, Draft, box_polygon
from recognise.geometry import box_at, box_of_all
from schema.cells import Cell
from schema.grid import Grid

AROUND = 0.3
"""In cells: how far around a corner at which four cells meet a mark on it reaches."""
_CELL = re.compile(r"\br\d+c\d+\b")
_CORNER = re.compile(r"\blower right corner of (r\d+c\d+)\b")
_MARGIN = re.compile(r"\brow (\d+), column (\d+)\b")
_BESIDE = re.compile(r"\b(left|right) of row (\d+)\b")
_OVER = re.compile(r"\b(above|below) column (\d+)\b")


def placed(draft: Draft, notes: Collection[str]) -> Draft:
    """The draft, its doubts that are `notes` on what was seen each with the place that it names."""
    doubts = (_with_place(doubt, draft.grid) if doubt.why in notes else doubt for doubt in draft.doubts)
    return replace(draft, doubts=tuple(doubts))


def _with_place(doubt: Doubt, grid: Grid) -> Doubt:
    if doubt.item is not None or doubt.where is not None:
        return doubt
    box = _named(doubt.why, grid)
    return doubt if box is None else replace(doubt, where=box_polygon(box))


def _named(why: str, grid: Grid) -> Box | None:
    """The box, in cells, of the place that words name; None where they name none."""
    if corner := _CORNER.search(why):
        cell = Cell.parse(corner[1])
        return box_at((cell.column, cell.row), AROUND)
    if cells := [Cell.parse(name) for name in _CELL.findall(why)]:
        return box_of_all((cell.column - 1.0, cell.row - 1.0, cell.column, cell.row) for cell in _first_of(cells))
    if told := _MARGIN.search(why):
        row, column = int(told[1]), int(told[2])
        return column - 1.0, row - 1.0, column, row
    if told := _BESIDE.search(why):
        row, left = int(told[2]), -1.0 if told[1] == "left" else float(grid.columns)
        return left, row - 1.0, left + 1, row
    if told := _OVER.search(why):
        column, top = int(told[2]), -1.0 if told[1] == "above" else float(grid.rows)
        return column - 1.0, top, column, top + 1
    return None


def _first_of(cells: list[Cell]) -> list[Cell]:
    """The first of some cells with those that hang together with it."""
    found = [cells[0]]
    for cell in found:
        found += [other for other in cells if other not in found and other.touches(cell)]
    return found
