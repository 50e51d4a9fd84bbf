"""Cells that go on beside a grid, as spreadsheets and tables have them for clues: their lines, painted over in the
picture of the grid, for they say no more than where the clues stand, and readers take them for marks."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt

from recognise.evidence import Flat
from recognise.grids.ink import luminance

LEAST = 2
"""So many cells along a side at least; a single frame is a mark."""
REACH, ASIDE = 0.08, 0.14
"""In cells: how far from its place a line may lie, and where the ground beside it is measured."""
ALONG = (0.2, 0.85)
"""Where along its way from the frame to the end of the cell a line is looked for."""
AS_DARK, UNBROKEN = 0.3, 0.9
"""As a part of how dark the lines inside the grid are: a line of such cells; and the part of its way that it inks."""
FRAME = 0.1
"""In cells: how far the grid's own frame reaches beyond its cells."""

Floats = npt.NDArray[np.float64]
Pixels = npt.NDArray[np.uint8]


def without_clue_cells(flat: Flat) -> Flat:
    """The flattened grid without the lines of cells beside it; as it was where there are none."""
    image, found = flat.image.copy(), False
    for turn in range(4):
        rows, columns = (flat.columns, flat.rows) if turn % 2 else (flat.rows, flat.columns)
        found |= _Side(np.rot90(image, turn), rows, columns, flat).paint_over()
    return replace(flat, image=image) if found else flat


class _Side:
    """The right side of a grid in a view of its picture, which is painted in."""

    def __init__(self, view: Pixels, rows: int, columns: int, flat: Flat) -> None:
        self.view, self.rows, self.cell = view, rows, flat.cell
        self.top = round(flat.margin * flat.cell)
        self.edge = self.top + columns * flat.cell
        strip = np.ascontiguousarray(view[:, self.edge - flat.cell : self.edge + 2 * flat.cell])
        self.dark = 255.0 - luminance(strip).astype(np.float64)

    def paint_over(self) -> bool:
        """Paint over the lines of cells at this side, if there are such."""
        low, high = (round((1 + part) * self.cell) for part in ALONG)
        inside = [self._depth(self.dark.T, line, 0, self.cell) for line in range(1, self.rows)]
        usual = float(np.median(np.concatenate(inside)))
        if usual <= 0:
            return False
        across = [self._is_line(self._depth(self.dark.T, line, low, high), usual) for line in range(self.rows + 1)]
        cells = [row for row in range(self.rows) if across[row] and across[row + 1] and self._closed(row, usual)]
        if len(cells) < LEAST:
            return False
        first, last = self.edge + round(FRAME * self.cell), self.edge + round((1 + REACH) * self.cell)
        for line in {line for row in cells for line in (row, row + 1)}:
            self._paint(self.view[:, first:last], self.top + line * self.cell)
        turned = self.view.swapaxes(0, 1)
        for row in cells:
            start = self.top + row * self.cell
            self._paint(turned[:, start : start + self.cell + 1], self.edge + self.cell)
        return True

    def _closed(self, row: int, usual: float) -> bool:
        """Whether a line closes the cell beside a row, one cell beyond the frame."""
        start = self.top + row * self.cell
        low, high = (start + round(part * self.cell) for part in ALONG)
        return self._is_line(_ridge(self.dark[low:high], 2 * self.cell, self.cell), usual)

    def _depth(self, dark: Floats, line: int, low: int, high: int) -> Floats:
        """How much darker than the ground on both sides a line across is, place by place from `low` to `high`."""
        return _ridge(dark[low:high], self.top + line * self.cell, self.cell)

    def _is_line(self, depth: Floats, usual: float) -> bool:
        return float((depth >= AS_DARK * usual).mean()) >= UNBROKEN

    def _paint(self, band: Pixels, at: int) -> None:
        """Paint the ground on both sides over what lies at a place across."""
        reach = round(ASIDE * self.cell)
        above, below = band[at - reach].astype(np.float64), band[at + reach].astype(np.float64)
        part = np.linspace(0, 1, 2 * reach + 1)[:, None, None]
        band[at - reach : at + reach + 1] = np.round(above + (below - above) * part)


def _ridge(dark: Floats, at: int, cell: int) -> Floats:
    """Each row's darkest pixel near a column less the darker of the grounds on both sides."""
    reach, aside = round(REACH * cell), round(ASIDE * cell)
    darkest: Floats = dark[:, at - reach : at + reach + 1].max(axis=1)
    ground: Floats = np.maximum(dark[:, at - aside], dark[:, at + aside])
    return darkest - ground
