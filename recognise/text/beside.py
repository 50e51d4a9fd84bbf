"""The paper on each side of a grid, looked at by itself.

What is a letter is told by the sizes of all that is seen. On a photo the table under the page counts there too, with
the grain of its wood, and so do the columns of an article, better in focus than the rules; on the paper right above,
below and beside the grid there is little but what belongs to it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Box
from recognise.text.paper import Grey
from recognise.text.regions import Region, text_regions

_OVER = 0.3
"""In the grid's longer side, how far a strip of paper goes past the grid's ends: rules may be wider than it."""
_LEAST = 0.05
"""The same, how wide a strip is at least to hold a line of text."""


def regions_beside(grey: Grey, grids: Sequence[Box], reach: float) -> Iterator[Region]:
    """Blocks of text above, below, left and right of each grid (boxes in image pixels), `reach` of its sides away at
    most, in pixels of the whole image."""
    for grid in grids:
        for left, top, right, bottom in _strips(grid, grey.shape[1], grey.shape[0], reach):
            part = np.ascontiguousarray(grey[top:bottom, left:right])
            here = [(x0 - left, y0 - top, x1 - left, y1 - top) for x0, y0, x1, y1 in grids]
            for region in text_regions(part, here):
                x0, y0, x1, y1 = region.box
                square, straight = region.bend
                bend = square, straight - 2 * square * left
                yield replace(region, box=(x0 + left, y0 + top, x1 + left, y1 + top), bend=bend)


def _strips(grid: Box, width: int, height: int, reach: float) -> Iterator[tuple[int, int, int, int]]:
    x0, y0, x1, y1 = grid
    side = max(x1 - x0, y1 - y0)
    over, far, least = _OVER * side, reach * side, _LEAST * side
    for strip in (
        (x0 - over, y0 - far, x1 + over, y0),
        (x0 - over, y1, x1 + over, y1 + far),
        (x0 - far, y0 - over, x0, y1 + over),
        (x1, y0 - over, x1 + far, y1 + over),
    ):
        left, top = max(0, int(strip[0])), max(0, int(strip[1]))
        right, bottom = min(width, int(strip[2])), min(height, int(strip[3]))
        if min(right - left, bottom - top) >= least:
            yield left, top, right, bottom
