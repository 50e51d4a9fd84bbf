"""Where things lie in a flattened grid: between cells and pixels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.evidence import Flat
from schema.cells import Cell

Grey = npt.NDArray[np.float32]
"""Height x width, 0 (no ink) to 1 (full ink)."""
Mask = npt.NDArray[np.bool_]
"""Height x width."""
Colours = npt.NDArray[np.float32]
"""... x 3, RGB, relative to paper: 1 is paper, 0 is black."""


@dataclass(frozen=True, slots=True)
class Raster:
    """The pixel raster of a flattened grid: `cell` pixels a cell, `origin` pixels of margin before r1c1."""

    rows: int
    columns: int
    cell: int
    origin: int

    @classmethod
    def of(cls, flat: Flat) -> Raster:
        """The raster of a Flat."""
        return cls(flat.rows, flat.columns, flat.cell, round(flat.margin * flat.cell))

    @property
    def turned(self) -> Raster:
        """The raster of the same picture with rows and columns changed for one another."""
        return Raster(self.columns, self.rows, self.cell, self.origin)

    def px(self, cells: float) -> int:
        """A length in cells as whole pixels, at least one."""
        return max(1, round(cells * self.cell))

    def at(self, cells: float) -> float:
        """A coordinate in cells as a coordinate in pixels."""
        return cells * self.cell + self.origin

    def to_cells(self, pixels: float) -> float:
        """A coordinate in pixels as a coordinate in cells."""
        return (pixels - self.origin) / self.cell

    def box(self, x: int, y: int, width: int, height: int) -> Box:
        """A pixel rectangle as a box in cells."""
        return self.to_cells(x), self.to_cells(y), self.to_cells(x + width), self.to_cells(y + height)

    def slices(self, box: Box, pad: int = 0) -> tuple[slice, slice]:
        """Row and column slices of a box in cells, widened by `pad` pixels; never negative."""
        x0, y0, x1, y1 = (round(self.at(v)) for v in box)
        return slice(max(0, y0 - pad), max(0, y1 + pad)), slice(max(0, x0 - pad), max(0, x1 + pad))

    def grid_slices(self, pad: int = 0) -> tuple[slice, slice]:
        """Row and column slices of the grid itself."""
        return self.slices((0, 0, self.columns, self.rows), pad)

    def cell_of(self, x: float, y: float) -> Cell | None:
        """The cell at a point in cells; None off the grid."""
        column, row = int(np.floor(x)) + 1, int(np.floor(y)) + 1
        return Cell(row, column) if 1 <= row <= self.rows and 1 <= column <= self.columns else None

    def centres(self) -> npt.NDArray[np.float64]:
        """Pixel coordinates (x, y) of the cell centres; shape (rows, columns, 2)."""
        xs = (np.arange(self.columns) + 0.5) * self.cell + self.origin
        ys = (np.arange(self.rows) + 0.5) * self.cell + self.origin
        return np.stack(np.meshgrid(xs, ys), axis=-1)
