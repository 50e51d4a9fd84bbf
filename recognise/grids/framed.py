"""Where a grid ends though lines go on beyond it: at a frame heavier than they are.

Some printers set the clues beside a grid in boxes of its cells' size that touch it. Their lines are thin, and most
grids have a frame."""

from __future__ import annotations

import numpy as np

from recognise.grids.mesh import CELL, step
from recognise.grids.verify import GOES_ON, support
from recognise.grids.warp import Points, Pyramid, extended, mesh_maps
from recognise.quantiles import median

HEAVIER = 1.6
"""How much more ink, across it, a frame has than the lines that go on beyond it."""
THICKER = 1.2
"""How much more ink a frame has than the lines inside it, where boxes stand on all its sides."""
REACH = 0.2
"""In cells: how far to either side the ink of a line is counted."""
INNER, BEYOND = (0.3, 0.7), (0.2, 0.42)
"""Where along an edge the ink across it is counted; where beyond the frame, for boxes need not be as wide as cells."""
INKED = 0.3
"""Lines beyond with less than this part of the ink of the inner ones are none."""


def framed(pyramid: Pyramid, points: Points) -> Points | None:
    """The square lattice within a larger one that has a frame clearly heavier than what goes on beyond it: on one or
    more sides boxes stand, one deep. None where there is no such frame."""
    # Turned by so many quarters, the right side, the top, the left and the bottom are at the right.
    right, top, left, bottom = (_is_lighter(pyramid, np.rot90(points, -turn)) for turn in range(4))
    rows, columns = points.shape[0] - 1, points.shape[1] - 1
    if not (right or top or left or bottom) or rows - top - bottom != columns - left - right:
        return None
    if (right and top and left and bottom) and not _has_frame(pyramid, points):
        return None
    within = np.ascontiguousarray(points[top : rows + 1 - bottom, left : columns + 1 - right])
    kept = (turn for turn, cut in enumerate((right, top, left, bottom)) if not cut)
    return within if all(_ends(pyramid, np.rot90(within, -turn)) for turn in kept) else None


def _is_lighter(pyramid: Pyramid, points: Points) -> bool:
    """Whether the last line of a lattice is clearly lighter than the last but one, where it is there at all."""
    dark, (rows, columns) = _flat(pyramid, points), (points.shape[0] - 1, points.shape[1] - 1)
    last, frame = ([_across(dark.T, at, row, INNER) for row in range(rows)] for at in (columns, columns - 1))
    there = [line for line in last if line > INKED * np.median(last)]
    return bool(there) and bool(np.median(frame) >= HEAVIER * np.median(there))


def _has_frame(pyramid: Pyramid, points: Points) -> bool:
    """Whether the last lines of a lattice but one are heavier than those inside them, one of the four lost to light or
    marks. Between tiles with an outline every line is two lines, and only the outermost is one: there all are cells."""
    dark, size = _flat(pyramid, points), (points.shape[0] - 1, points.shape[1] - 1)
    frame, inner = [], []
    for flat, lines, edges in ((dark, *size), (dark.T, *size[::-1])):
        ink = [float(np.median([_across(flat, line, edge, INNER) for edge in range(edges)])) for line in range(lines)]
        frame += [ink[1], ink[-1]]
        inner += ink[2:-1]
    return bool(sorted(frame)[1] >= THICKER * np.median(inner))


def _ends(pyramid: Pyramid, points: Points) -> bool:
    """Whether a lattice ends at its last column: nothing goes on there, or only lines lighter than its frame."""
    longer = extended(np.ascontiguousarray(points), 1)[1:-1, 1:]
    if support(pyramid, longer).beams.mean() < GOES_ON:
        return True
    dark, (rows, columns) = _flat(pyramid, longer), (points.shape[0] - 1, points.shape[1] - 1)
    frame = np.median([_across(dark.T, columns, row, INNER) for row in range(rows)])
    beyond = [_across(dark, row, columns, BEYOND) for row in range(rows + 1)]
    within = np.median([_across(dark, row, columns - 1, INNER) for row in range(1, rows)])
    there = [line for line in beyond if line > INKED * within]
    return bool(there) and bool(frame >= HEAVIER * np.median(there))


def _flat(pyramid: Pyramid, points: Points) -> Points:
    """How much darker than the paper a lattice is, laid flat, with half a cell around it."""
    x, y = mesh_maps(np.ascontiguousarray(points), CELL, 0.5)
    grey = pyramid.sample(x, y, step(points) / CELL).astype(np.float64)
    return np.asarray(np.maximum(np.median(grey) - grey, 0.0), np.float64)


def _across(dark: Points, line: int, edge: int, part: tuple[float, float]) -> float:
    """The ink across a line that runs along the rows of a picture, on part of one of its edges."""
    reach, at = round(REACH * CELL), CELL // 2 + line * CELL
    first, last = (CELL // 2 + round((edge + end) * CELL) for end in part)
    return median(dark[at - reach : at + reach + 1, first:last].sum(axis=0))
