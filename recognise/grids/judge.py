"""Puzzle or not: blocked word grids and filled answers are lattices too."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Flat
from recognise.grids.ink import Contrast, Grey, ink, luminance, odd

CELL = 32
"""Pixels a cell for judging: a digit is still 12 pixels high."""
RIM = 0.12
"""Share of a cell at each side that is left out, where the lattice lines are."""
BLACK = 0.5
"""Brightness below this share of the paper's is black: tints that a digit can be read on are lighter."""
SOLID = 0.93
"""A blocked cell is black nearly all over; marks leave a rim of paper."""
GLYPH_HEIGHT = (0.22, 0.8)
"""Height of a printed character in cells."""
GLYPH_SHARE = (0.02, 0.5)
"""Share of the cell that a character inks."""
FILLED = 0.85
"""Grids with characters in so many of their cells are answers, tables or calendars: a 25 x 25 puzzle has them in six
cells of ten."""
HANDWRITTEN = 0.062
"""Printed characters vary less than this in height and place, in cells (0.00 to 0.05 measured); handwriting varies
more (0.08 to 0.2)."""
BLOCKED = 0.04
"""Share of black cells from which a grid is a word grid."""


@dataclass(frozen=True, slots=True)
class Content:
    """What a grid's cells hold: a flag for each cell, arrays of shape (rows, columns)."""

    black: npt.NDArray[np.bool_]
    glyph: npt.NDArray[np.bool_]
    unevenness: float
    """How much heights and places of the characters vary from cell to cell, in cells."""

    @property
    def blocked(self) -> bool:
        """Whether it has the black cells of a word grid."""
        return bool(self.black.sum() >= 2 and self.black.mean() >= BLOCKED)

    @property
    def filled(self) -> bool:
        """Whether nearly every cell holds a character."""
        return bool(self.glyph.mean() >= FILLED)

    @property
    def by_hand(self) -> bool:
        """Whether the characters are as uneven as handwriting."""
        return self.unevenness > HANDWRITTEN


def looks_filled(flat: Flat) -> bool:
    """Whether nearly every cell of a flattened grid holds a character: an answer, a table, a calendar."""
    pad = round(flat.margin * flat.cell)
    grey = luminance(flat.image)[pad : pad + flat.rows * flat.cell, pad : pad + flat.columns * flat.cell]
    size = (flat.columns * CELL, flat.rows * CELL)
    return content(np.asarray(cv2.resize(grey, size, interpolation=cv2.INTER_AREA), np.uint8)).filled


def content(grey: Grey) -> Content:
    """Look into every cell of a flattened grid with CELL pixels a cell and no margin."""
    boxes = _glyphs(ink(grey, odd(0.7 * CELL)))
    glyph = boxes[..., 1] > 0
    seen = boxes[glyph]
    uneven = float((np.quantile(seen, 0.9, axis=0) - np.quantile(seen, 0.1, axis=0)).mean()) if len(seen) else 0.0
    return Content(_black(grey), glyph, uneven)


def _windows(picture: npt.NDArray[np.generic], rim: float) -> npt.NDArray[np.generic]:
    """The cells of a picture without their rims, (rows, columns, height, width)."""
    rows, columns = picture.shape[0] // CELL, picture.shape[1] // CELL
    cut = round(rim * CELL)
    cells = picture[: rows * CELL, : columns * CELL].reshape(rows, CELL, columns, CELL).swapaxes(1, 2)
    return cells[:, :, cut:-cut, cut:-cut]


def _black(grey: Grey) -> npt.NDArray[np.bool_]:
    paper = cv2.morphologyEx(grey, cv2.MORPH_CLOSE, np.ones((odd(1.2 * CELL),) * 2, np.uint8))
    paper = np.maximum(cv2.blur(paper, (4 * CELL + 1, 4 * CELL + 1)), np.percentile(grey, 60))
    dark = _windows(grey < BLACK * paper, RIM)
    return np.asarray(dark.mean(axis=(2, 3)) >= SOLID, np.bool_)


def _glyphs(contrast: Contrast) -> npt.NDArray[np.float64]:
    """Middle and height, in cells, of the character in each cell, (rows, columns, 2); 0 where there is none."""
    windows = _windows(contrast, RIM)
    levels = np.clip(windows * 255, 0, 255).astype(np.uint8)
    level, _ = cv2.threshold(levels.reshape(-1, 1), 0, 255, cv2.THRESH_BINARY | cv2.THRESH_OTSU)
    marks = (levels > max(level, FAINTEST * 255)).astype(np.uint8)
    return np.array([[_glyph(cell) for cell in row] for row in marks], np.float64)


FAINTEST = 0.1
"""A character of less contrast than this cannot be read."""


def _glyph(cell: npt.NDArray[np.uint8]) -> tuple[float, float]:
    """Middle and height of the largest blob, if it is as high as a character and stands free of the cell's rim."""
    if not cell.any():
        return 0.0, 0.0
    _, _, stats, _ = cv2.connectedComponentsWithStats(cell, connectivity=8)
    x, y, width, height, area = (int(value) for value in stats[1 + int(stats[1:, cv2.CC_STAT_AREA].argmax())])
    low, high = (share * CELL for share in GLYPH_HEIGHT)
    free = x > 0 and y > 0 and x + width < cell.shape[1] and y + height < cell.shape[0]
    if free and low <= height <= high and GLYPH_SHARE[0] <= area / CELL**2 <= GLYPH_SHARE[1]:
        return (y + height / 2) / CELL, height / CELL
    return 0.0, 0.0
