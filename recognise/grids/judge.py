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
SHADED = 4
"""Dark cells of a shadow that meet, at least; a shadow comes from beside the grid."""
PAPER_AROUND, PALER = (80, 95), 1.15
"""Percentiles of a cell's brightness that are the paper around a square in it, and so many times as bright as that."""
LINED = 0.06
"""Mean contrast of the lattice lines in a shadow, at least; those of black cells do not stand out from them."""
GLYPH_HEIGHT = (0.22, 0.8)
"""Height of a printed character in cells."""
SMALL_HEIGHT = 0.14
"""Height of the small print of calendars and tables in cells."""
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


ONE_FIGURE = 9
"""Grids of up to so many cells a side hold one figure a cell."""
TWO_FIGURES = 0.4
"""Share of the characters that may be followed by another as high in the same cell; in number squares and calendars
six or seven in ten are, in puzzles none but misprints and pencil notes."""
FEW = 3
"""So many cells prove nothing."""
AS_HIGH = 0.6
"""Figures of one number are of one height, or this share of it in old-style figures."""
CORNER = 0.5
"""As a part of the cell without its rim: the totals of cages stand nearer to its left and its top."""
MOST_TOTALS = 0.6
"""Share of the cells that hold the total of a cage at most: cages of one cell are few."""
LEVEL = 0.8
"""Share of its height that the lower one of two figures stands beside the other."""
CLOSE = 0.3
"""Figures of one number stand no further apart than this, in heights."""


@dataclass(frozen=True, slots=True)
class Content:
    """What a grid's cells hold: a flag for each cell, arrays of shape (rows, columns)."""

    black: npt.NDArray[np.bool_]
    glyph: npt.NDArray[np.bool_]
    number: npt.NDArray[np.bool_]
    """Whether it holds several characters as high side by side, small ones too."""
    character: npt.NDArray[np.bool_]
    """Whether it holds any character, small ones too."""
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
    def numbered(self) -> bool:
        """Whether its cells hold longer numbers or words than a puzzle of its size has: a table, a calendar."""
        several = self.number.sum() > max(FEW, TWO_FIGURES * self.character.sum())
        return bool(max(self.glyph.shape) <= ONE_FIGURE and several and (self.filled or not self.by_hand))

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
    seen = boxes[glyph][:, :2]
    # Totals of cages stand in the corners of some cells, the days of a calendar in those of nearly all.
    totals = (boxes[..., 3] > 0) & bool((boxes[..., 3] > 0).mean() < MOST_TOTALS)
    uneven = float((np.quantile(seen, 0.9, axis=0) - np.quantile(seen, 0.1, axis=0)).mean()) if len(seen) else 0.0
    return Content(_black(grey), glyph, (boxes[..., 2] > 1) & ~totals, (boxes[..., 2] > 0) & ~totals, uneven)


def _windows(picture: npt.NDArray[np.generic], rim: float) -> npt.NDArray[np.generic]:
    """The cells of a picture without their rims, (rows, columns, height, width)."""
    rows, columns = picture.shape[0] // CELL, picture.shape[1] // CELL
    cut = round(rim * CELL)
    cells = picture[: rows * CELL, : columns * CELL].reshape(rows, CELL, columns, CELL).swapaxes(1, 2)
    return cells[:, :, cut:-cut, cut:-cut]


def _black(grey: Grey) -> npt.NDArray[np.bool_]:
    paper = cv2.morphologyEx(grey, cv2.MORPH_CLOSE, np.ones((odd(1.2 * CELL),) * 2, np.uint8))
    paper = np.maximum(cv2.blur(paper, (4 * CELL + 1, 4 * CELL + 1)), np.percentile(grey, 60))
    dark = _windows(grey < BLACK * paper, RIM).mean(axis=(2, 3)) >= SOLID
    lit = ~_in_shadow(grey, dark) & ~_as_dark_around(grey, dark) & ~_on_paper(grey)
    return np.asarray(dark & lit, np.bool_)


def _on_paper(grey: Grey) -> npt.NDArray[np.bool_]:
    """The cells in which a square is printed that leaves paper all round, and is not black beside that: in a shadow it
    is darker than black is in the light. What is paler around a black cell is no even ground: it is a blurred edge."""
    rows, columns = grey.shape[0] // CELL, grey.shape[1] // CELL
    cells = grey[: rows * CELL, : columns * CELL].reshape(rows, CELL, columns, CELL).swapaxes(1, 2)
    level = _windows(grey, RIM).mean(axis=(2, 3))
    ground, palest = np.percentile(cells, PAPER_AROUND, axis=(2, 3))
    even = palest - ground <= (ground - level) / 2
    return np.asarray(even & (ground > PALER * level) & (level >= BLACK * ground), np.bool_)


def _as_dark_around(grey: Grey, dark: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
    """The dark cells that are tinted ones in a shadow: no cell about them is paper beside them, and their lines are
    darker still."""
    level = _windows(grey, RIM).mean(axis=(2, 3)).astype(np.float32)
    alike = dark & (level >= BLACK * cv2.dilate(level, np.ones((3, 3), np.uint8)))
    lined = [place for place in np.argwhere(alike) if _lines(grey, *place) >= LINED]
    found = np.zeros_like(dark)
    found[tuple(np.array(lined, np.intp).reshape(-1, 2).T)] = True
    return found


def _in_shadow(grey: Grey, dark: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
    """The dark cells that are paper in a shadow: many together, at a side of the grid, their lines darker still."""
    count, labels = cv2.connectedComponents(dark.astype(np.uint8), connectivity=4)
    shaded = np.zeros_like(dark)
    for label in range(1, count):
        area = labels == label
        beside = area[0].any() or area[-1].any() or area[:, 0].any() or area[:, -1].any()
        if beside and area.sum() >= SHADED:
            shaded |= area & (np.mean([_lines(grey, *place) for place in np.argwhere(area)]) >= LINED)
    return shaded


def _lines(grey: Grey, row: int, column: int) -> float:
    """Contrast of the lines to the left of a cell and above it, dotted ones too, against most of the cell."""
    cut = round(RIM * CELL)
    cell = grey[row * CELL : (row + 1) * CELL, column * CELL : (column + 1) * CELL]
    ground = float(np.median(cell[cut:-cut, cut:-cut]))
    lines = (cell[: cut + 1, cut:-cut].mean(axis=1).min(), cell[cut:-cut, : cut + 1].mean(axis=0).min())
    return 1 - float(np.mean(lines)) / max(ground, 1.0)


def _glyphs(contrast: Contrast) -> npt.NDArray[np.float64]:
    """Middle and height, in cells, of the character in each cell, 0 where it is none or small; how many characters,
    small ones too, stand side by side: 0, 1 or 2 for several; and 1 for small ones in the top left corner; (rows,
    columns, 4)."""
    windows = _windows(contrast, RIM)
    levels = np.clip(windows * 255, 0, 255).astype(np.uint8)
    level, _ = cv2.threshold(levels.reshape(-1, 1), 0, 255, cv2.THRESH_BINARY | cv2.THRESH_OTSU)
    marks = (levels > max(level, FAINTEST * 255)).astype(np.uint8)
    return np.array([[_glyph(cell) for cell in row] for row in marks], np.float64)


FAINTEST = 0.1
"""A character of less contrast than this cannot be read."""


def _glyph(cell: npt.NDArray[np.uint8]) -> tuple[float, float, float, float]:
    """Middle and height of the largest blob, if it is as high as a given and stands free of the cell's rim; 1 for a
    character at all, 2 where another one stands beside it; and 1 for one in the top left corner."""
    if not cell.any():
        return 0.0, 0.0, 0.0, 0.0
    _, _, stats, _ = cv2.connectedComponentsWithStats(cell, connectivity=8)
    largest = 1 + int(stats[1:, cv2.CC_STAT_AREA].argmax())
    x, y, width, height, area = (int(value) for value in stats[largest])
    free = x > 0 and y > 0 and x + width < cell.shape[1] and y + height < cell.shape[0]
    if not free or not SMALL_HEIGHT * CELL <= height <= GLYPH_HEIGHT[1] * CELL:
        return 0.0, 0.0, 0.0, 0.0
    others = (other for n, other in enumerate(stats) if n not in {0, largest})
    several = any(_beside(stats[largest], other) for other in others)
    side = cell.shape[0]
    left = x + width / 2 < CORNER * side
    if height >= GLYPH_HEIGHT[0] * CELL and GLYPH_SHARE[0] <= area / CELL**2 <= GLYPH_SHARE[1]:
        # A total as high as that stands in the upper half as a whole; numbers that fill a cell do not.
        return (y + height / 2) / CELL, height / CELL, 1.0 + several, float(left and y + height < CORNER * side)
    return 0.0, 0.0, 1.0 + several, float(left and y + height / 2 < CORNER * side)


def _beside(one: npt.NDArray[np.int32], other: npt.NDArray[np.int32]) -> bool:
    """Whether two blobs (x, y, width, height, area) stand side by side like the figures of one number."""
    (ax, ay, aw, ah), (bx, by, bw, bh) = (tuple(int(v) for v in it[:4]) for it in (one, other))
    apart = max(ax, bx) - min(ax + aw, bx + bw)
    shared = min(ay + ah, by + bh) - max(ay, by)
    alike = min(ah, bh) >= AS_HIGH * max(ah, bh)
    return alike and shared >= LEVEL * min(ah, bh) and -1 <= apart <= CLOSE * max(ah, bh)
