"""Ink that is nothing but the pattern of the cells in which it lies.

Where tinted cells are printed as dots or strokes, these are ink that no item accounts for. What lies in such a cell is
of its pattern when it is no darker than the pattern is in most of these cells, and stands no closer: a mark on a
pattern that is neither would be seen by nobody."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

import numpy as np

from ingest.page import Box
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.patterned import bare_ground
from schema.cells import Cell

DARKEST = 95
"""Percentile of the ink of a place that tells how dark it is."""
DARKER, CLOSER = 1.15, 1.4
"""So many times what is usual in a cell the darkest ink, and the ink as a whole, of its pattern are at most."""
OVER = 0.08
"""In cells: how far ink reaches over a lattice line that is the last stroke of a pattern, with its blur."""
SLIVER = 0.15
"""In cells: what is less wide or high holds one stroke or two, and its ink is no measure of how close they stand."""


def not_of_pattern(
    boxes: Iterable[Box], cells: Collection[Cell], level: Grey, raster: Raster, characters: Sequence[Box]
) -> list[Box]:
    """The `boxes` of ink that are not of the pattern that fills `cells`. `level` is ink from 0 to 1 without the lattice
    lines."""
    bare = bare_ground(level.shape, characters, raster)
    seen = [level[where][bare[where]] for where in (raster.slices(_of(cell)) for cell in cells)]
    grounds = [ground for ground in seen if ground.size]
    if not grounds:
        return list(boxes)
    dark = float(np.median([np.percentile(ground, DARKEST) for ground in grounds]))
    close = float(np.median([ground.mean() for ground in grounds]))

    def is_of_pattern(box: Box) -> bool:
        part = level[raster.slices(box)]
        sliver = min(box[2] - box[0], box[3] - box[1]) < SLIVER
        no_darker = part.size > 0 and float(np.percentile(part, DARKEST)) <= DARKER * dark
        return no_darker and (sliver or float(part.mean()) <= CLOSER * close) and _lies_in(box, cells)

    return [box for box in boxes if not is_of_pattern(box)]


def _of(cell: Cell) -> Box:
    return cell.column - 1 + OVER, cell.row - 1 + OVER, cell.column - OVER, cell.row - OVER


def _lies_in(box: Box, cells: Collection[Cell]) -> bool:
    """Whether a box lies on some cells as a whole."""
    left, top, right, bottom = box[0] + OVER, box[1] + OVER, box[2] - OVER, box[3] - OVER
    if left >= right:
        left = right = (box[0] + box[2]) / 2
    if top >= bottom:
        top = bottom = (box[1] + box[3]) / 2
    rows, columns = range(int(top) + 1, int(bottom) + 2), range(int(left) + 1, int(right) + 2)
    return min(left, top) >= 0 and all(Cell(row, column) in cells for row in rows for column in columns)
