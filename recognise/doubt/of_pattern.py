"""Ink that is nothing but the pattern of the cells in which it lies.

Where tinted cells are printed as dots or strokes, these are ink that no item accounts for. What lies in such a cell is
of its pattern when it is nowhere darker than the pattern is in most of these cells, and nowhere closer: a figure or a
line between strokes of a pattern that are as black as it is adds to them in some place, though hardly on the whole."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

import cv2
import numpy as np

from ingest.page import Box
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.patterned import bare_ground
from schema.cells import Cell

DARKEST = 95
"""Percentile of the ink of a place that tells how dark it is."""
DARKER, CLOSER = 1.15, 1.3
"""So many times what is usual in a cell the darkest ink of its pattern, and the ink where it stands closest, are at
most, and this no more than half way to solid ink: strokes that are as wide as those of figures leave little room."""
AROUND = 0.1
"""In cells: the side of the places of which each has so much ink: a stroke or two of a pattern, or one of a figure."""
BLANK = 0.12
"""As a part of the ink where a pattern stands closest, what paper beside it has at most: fields that a pattern joins
are no rectangle, and the box of their ink goes over bare cells. Ink that runs on into these has more in some place."""
OVER = 0.08
"""In cells: how far ink reaches over a lattice line that is the last stroke of a pattern, with its blur."""


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
    side = max(1, round(AROUND * raster.cell))
    density = np.asarray(cv2.blur(np.where(bare, level, 0).astype(np.float32), (side, side)))
    close = float(np.median([density[raster.slices(_of(cell))].max(initial=0.0) for cell in cells]))
    closest = min(CLOSER * close, (close + dark) / 2)

    def is_blank(cell: Cell, box: Box) -> bool:
        x0, y0, x1, y1 = _of(cell)
        part = max(x0, box[0]), max(y0, box[1]), min(x1, box[2]), min(y1, box[3])
        return float(density[raster.slices(part)].max(initial=0.0)) <= BLANK * close

    def is_of_pattern(box: Box) -> bool:
        part, inner = level[raster.slices(box)], density[raster.slices(_inner(box), 1)]
        no_darker = part.size > 0 and float(np.percentile(part, DARKEST)) <= DARKER * dark
        on_grid, around = _cells_of(box)
        lies_in = on_grid and any(cell in cells for cell in around)
        beside = (cell for cell in around if cell not in cells)
        no_closer = float(inner.max(initial=0.0)) <= closest
        return no_darker and no_closer and lies_in and all(is_blank(cell, box) for cell in beside)

    return [box for box in boxes if not is_of_pattern(box)]


def _of(cell: Cell) -> Box:
    return cell.column - 1 + OVER, cell.row - 1 + OVER, cell.column - OVER, cell.row - OVER


def _inner(box: Box) -> Box:
    """A box without what reaches over the lines round its cells; of a slim one its middle."""
    left, top, right, bottom = box[0] + OVER, box[1] + OVER, box[2] - OVER, box[3] - OVER
    if left >= right:
        left = right = (box[0] + box[2]) / 2
    if top >= bottom:
        top = bottom = (box[1] + box[3]) / 2
    return left, top, right, bottom


def _cells_of(box: Box) -> tuple[bool, list[Cell]]:
    """Whether a box lies on the grid, as far as that has no cells before its first, and the cells on which it lies."""
    left, top, right, bottom = _inner(box)
    rows, columns = range(int(top) + 1, int(bottom) + 2), range(int(left) + 1, int(right) + 2)
    return min(left, top) >= 0, [Cell(row, column) for row in rows for column in columns]
