"""Numbers that stand alone beside a side of the grid from which no clue was read.

The guard that looks at all ink looks at the rows in which clues were read. Where the clues of other sides say how far
out such numbers stand, a single one that was missed shows as a thing of their size in line with a row or column, with
bare paper around it. What stands there in company is text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from ingest.page import Box
from recognise.draft import Polygon
from recognise.geometry import bounds, middle
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.printed import joined_pieces

DARK = 0.3
"""Ink (0 to 1) of print that is told from paper without a look at the paper itself."""
FRAME = 0.08
"""In cells: beside the grid its frame and the blur of that end here."""
JOIN = 0.12
"""In cells: the digits of one number, and the strokes of a sign, are nearer than twice this."""
AREA = 0.012
"""In square cells: the ink of a small 1."""
TALL, WIDE = (0.18, 0.95), (0.04, 0.95)
"""In cells: how high and how wide numbers are, with an arrow beside them."""
IN_LINE = 0.25
"""In cells: how far off the middle of its row or column a clue stands."""
BARE = 0.3
"""In cells: the bare paper around what stands alone."""
COMPANY = 2
"""So many things beside one side may be clues that were missed; more are something else."""


def lone_numbers(level: Grey, claimed: Sequence[Polygon], raster: Raster) -> Iterator[Box]:
    """Boxes, in cells, of what may be a clue beside a side with none. `level` is ink from 0 to 1 without shade and
    lattice lines, `claimed` all that items claim."""
    sides = _sides([bounds(polygon) for polygon in claimed], raster)
    depth = max((reach for reach in sides if reach is not None), default=None)
    if depth is None:
        return
    rows, columns = raster.rows, raster.columns
    outer = depth + BARE
    strips: tuple[Box, ...] = (
        (0, -outer, columns, -FRAME),
        (0, rows + FRAME, columns, rows + outer),
        (-outer, 0, -FRAME, rows),
        (columns + FRAME, 0, columns + outer, rows),
    )
    for strip, reach in zip(strips, sides, strict=True):
        if reach is None:
            things = list(_things(level, strip, raster))
            if len(things) <= COMPANY:
                yield from (thing for thing in things if _is_clue(thing, strip, level, raster))


def _sides(boxes: Sequence[Box], raster: Raster) -> tuple[float | None, ...]:
    """How far out clues reach above, below, left and right of the grid; None beside which there are none."""
    reaches = (
        [-box[1] for box in boxes if box[3] <= 0],
        [box[3] - raster.rows for box in boxes if box[1] >= raster.rows],
        [-box[0] for box in boxes if box[2] <= 0],
        [box[2] - raster.columns for box in boxes if box[0] >= raster.columns],
    )
    return tuple(max(reach, default=None) for reach in reaches)


def _things(level: Grey, strip: Box, raster: Raster) -> Iterator[Box]:
    part = raster.slices(strip)
    reach = raster.px(JOIN)
    for (y, x), thing in joined_pieces(level[part] > DARK, reach, AREA * raster.cell**2):
        places = np.argwhere(thing)
        (top, left), (bottom, right) = places.min(axis=0), places.max(axis=0) + 1
        yield raster.box(
            part[1].start + x + int(left), part[0].start + y + int(top), int(right - left), int(bottom - top)
        )


def _is_clue(thing: Box, strip: Box, level: Grey, raster: Raster) -> bool:
    """Whether it is as large as a number, in line with a row or column, and alone on bare paper."""
    x0, y0, x1, y1 = thing
    if not (TALL[0] <= y1 - y0 <= TALL[1] and WIDE[0] <= x1 - x0 <= WIDE[1]):
        return False
    along = middle(thing)[0 if strip[2] - strip[0] > strip[3] - strip[1] else 1]
    if abs(along % 1 - 0.5) > IN_LINE:
        return False
    # An arrow touches the frame: what is left of that stands nearer to the grid than the strip.
    columns, rows = raster.columns + FRAME, raster.rows + FRAME
    around = (
        max(x0 - BARE, columns) if x0 > raster.columns else x0 - BARE,
        max(y0 - BARE, rows) if y0 > raster.rows else y0 - BARE,
        min(x1 + BARE, -FRAME) if x1 < 0 else x1 + BARE,
        min(y1 + BARE, -FRAME) if y1 < 0 else y1 + BARE,
    )
    return _dark(level, around, raster) - _dark(level, thing, raster) < AREA / 2 * raster.cell**2


def _dark(level: Grey, box: Box, raster: Raster) -> int:
    return int(np.count_nonzero(level[raster.slices(box)] > DARK))
