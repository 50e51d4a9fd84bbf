"""A second look at places of which the network is in doubt: whether ink stands there that is more than paper.

The network is asked where it sees little; the filters of the guard that looks at all ink know the noise of this page
(recognise/pixels/standout.py). A place in doubt without any such ink holds nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np

from ingest.page import Box
from recognise.evidence import Glyph
from recognise.pixels.frame import Mask, Raster
from recognise.pixels.glyphs import SHORTEST
from recognise.pixels.ink import Ink
from recognise.pixels.standout import LINE, SPOT, standing_out
from schema.cells import Cell

AROUND = 0.05
"""In cells: blur around the box of a character."""
NEAR = 0.1
"""In cells: how far beside the straight way between two cells a line's ink may lie."""
DEEP = 0.22
"""In cells: walls of cages stand no farther inside of their cells."""
MUCH = 0.25
"""Share of a line's or a wall's way on which ink must stand at least: dashes fill more, and digits hide some."""


class Standing:
    """Where ink stands out from the paper of a page, the characters in `known` left out."""

    def __init__(self, ink: Ink, raster: Raster, known: Sequence[Glyph]) -> None:
        free = np.ones(ink.drawn.shape, np.uint8)
        for glyph in known:
            free[raster.slices(glyph.box, raster.px(AROUND))] = 0
        self._raster = raster
        self._free = free.view(np.bool_)
        self._mask: Mask | None = None
        self._ink = ink

    @property
    def mask(self) -> Mask:
        """The pixels; found when first asked for, as on a clear page nothing is in doubt."""
        if self._mask is None:
            found = np.zeros(self._free.shape, np.bool_)
            for part, _ in standing_out(self._ink.level, self._free, self._raster, self._ink.floor):
                found |= part
            self._mask = found
        return self._mask

    def between(self, one: Cell, other: Cell) -> bool:
        """Whether ink stands on the way between the middles of two cells."""
        start, end = (np.array([self._raster.at(v) for v in cell.centre]) for cell in (one, other))
        way = np.zeros(self.mask.shape, np.uint8)
        points = [(round(float(x)), round(float(y))) for x, y in (start, end)]
        cv2.line(way, points[0], points[1], 1, 2 * self._raster.px(NEAR) + 1)
        direction = (end - start) / max(1e-9, float(np.hypot(*(end - start))) ** 2)
        return self._share(way.view(np.bool_), start, direction) >= MUCH

    def along(self, cell: Cell, side: str) -> bool:
        """Whether ink stands along the inside of one side of a cell."""
        x, y = cell.column - 1, cell.row - 1
        boxes = {
            "TOP": (x, y, x + 1, y + DEEP),
            "BOTTOM": (x, y + 1 - DEEP, x + 1, y + 1),
            "LEFT": (x, y, x + DEEP, y + 1),
            "RIGHT": (x + 1 - DEEP, y, x + 1, y + 1),
        }
        inside = self.mask[self._raster.slices(boxes[side])] & self._free[self._raster.slices(boxes[side])]
        return float(inside.any(axis=0 if side in ("TOP", "BOTTOM") else 1).mean()) >= MUCH

    def within(self, box: Box) -> bool:
        """Whether as much ink stands in a box as the smallest mark has."""
        inside = self.mask[self._raster.slices(box)] & self._free[self._raster.slices(box)]
        return int(np.count_nonzero(inside)) >= SPOT.area * self._raster.cell**2

    def holds_characters(self, box: Box) -> bool:
        """Whether the ink in a box is as tall as the smallest characters. A filter for lines smears a speck; that is
        no ink."""
        window = self._raster.slices(box)
        inked = self.mask[window] & self._free[window] & (self._ink.level[window] > LINE.least)
        rows = np.flatnonzero(inked.any(axis=1))
        tall = self._raster.to_cells(int(rows[-1]) + 1) - self._raster.to_cells(int(rows[0])) if len(rows) else 0.0
        return self.within(box) and tall >= SHORTEST

    def _share(self, way: Mask, start: np.ndarray, direction: np.ndarray) -> float:
        """Along a band, the share of the steps of a pixel at which ink stands somewhere across."""
        inked, whole = (np.argwhere(part)[:, ::-1] for part in (self.mask & way, way))
        steps = [
            set(np.floor((places - start) @ direction * self._raster.cell).astype(int)) for places in (inked, whole)
        ]
        return len(steps[0]) / max(1, len(steps[1]))
