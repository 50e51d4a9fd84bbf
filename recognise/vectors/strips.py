"""Strips beside a grid on which its clues are printed: the head and the stub of a table, tinted from end to end or cell
by cell. They are ground, and mark nothing."""

from __future__ import annotations

from collections.abc import Iterable

from ingest.page import Box, Colour
from recognise.pixels.frame import Raster
from recognise.vectors.inks import Ink
from recognise.vectors.patches import canvas_size

OVER = 0.05
"""In cells: how far a strip may reach over the grid's frame."""
LONG, DEEP = 0.9, 0.4
"""In cells: a piece of a strip is as long as a cell, but for a gap to the next, and deep enough for a figure; marks
beside a grid are smaller."""
FULL = 0.85
"""The part of its own mask that it fills: its corners may be round, and the mask is a little larger."""


def strips_beside(inks: Iterable[Ink], raster: Raster) -> tuple[tuple[Box, Colour], ...]:
    """The boxes of such areas, in cells, and their colours, in paint order."""
    return tuple((ink.box, ink.colour) for ink in inks if _is_ground(ink) and _is_beside(ink.box, raster))


def _is_ground(ink: Ink) -> bool:
    return ink.role == "fill" and ink.opaque and canvas_size(ink.whole) >= FULL * ink.whole.mask.size


def _is_beside(box: Box, raster: Raster) -> bool:
    """Whether a box lies beside the grid, along one of its sides, and is as large as the place of a clue."""
    left, top, right, bottom = box
    across = right <= OVER or left >= raster.columns - OVER
    down = bottom <= OVER or top >= raster.rows - OVER
    along, deep = (bottom - top, right - left) if across else (right - left, bottom - top)
    return (across or down) and along >= LONG and deep >= DEEP
