"""Dotted cells: small dots at even places all over a cell, in place of a tint."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from recognise.draft import box_polygon
from recognise.evidence import Tint
from recognise.geometry import extent, middle
from recognise.grouping import grouped
from recognise.pixels.frame import Raster
from recognise.vectors.hatching import Hatching
from recognise.vectors.inks import Ink, near
from recognise.vectors.patches import CELL, canvas_size
from schema.cells import Cell

LARGEST = 0.12
"""In cells: the dots of a dotted cell are no larger."""
LEAST, ROWS = 9, 3
"""Dots in a cell at least, and how many rows and columns they stand in."""
OVER = 0.5
"""The part of a cell's width and height over which they reach at least."""
LEVEL = 0.04
"""In cells: dots whose places differ by less stand in one row."""
FULL = 0.4
"""The part of the crossings of these rows and columns at which a dot stands, at least; every other one where rows are
set off against each other. The dots of a line stand at fewer."""
INNER, CENTRAL = 0.24, 0.08
"""In cells from the middle of the cell, and the part of its dots that stand so near at least: evenly spread it is some
0.2; the dashes of a cage's line on three sides of a cell stand farther off, all of them."""
SPARE = 0.02
"""In cells: how much larger than its dot a claim is on all sides."""


def find_stipple(inks: Sequence[tuple[int, Ink]], raster: Raster) -> Hatching:
    """The dotted cells among inks given with their indices."""
    dots = [(index, ink) for index, ink in inks if extent(ink.box) <= LARGEST]
    tints: list[Tint] = []
    used: set[int] = set()
    for group in grouped(dots, lambda group, dot: near(group[0][1].colour, dot[1].colour)):
        by_cell: dict[Cell, list[tuple[int, Ink]]] = {}
        for index, ink in group if len(group) >= LEAST else ():
            cell = raster.cell_of(*middle(ink.box))
            if cell is not None:
                by_cell.setdefault(cell, []).append((index, ink))
        for cell, its in by_cell.items():
            if _are_all_over([ink for _, ink in its]):
                claims = tuple(box_polygon(_grown(ink)) for _, ink in its)
                share = sum(canvas_size(ink.patch) for _, ink in its) / CELL**2
                tints.append(Tint(cell, group[0][1].colour, share, "vector", claims))
                used |= {index for index, _ in its}
    return Hatching(tuple(tints), frozenset(used))


def _are_all_over(dots: Sequence[Ink]) -> bool:
    """Whether dots stand in rows and columns all over their cell."""
    if len(dots) < LEAST:
        return False
    places = np.array([middle(dot.box) for dot in dots])
    across, down = (_lines(places[:, axis]) for axis in (0, 1))
    wide = bool((np.ptp(places, axis=0) >= OVER).all())
    inner = float((np.abs(places % 1 - 0.5).max(axis=1) <= INNER).mean())
    return wide and inner >= CENTRAL and min(across, down) >= ROWS and len(dots) >= FULL * across * down


def _lines(values: np.ndarray[tuple[int], np.dtype[np.float64]]) -> int:
    return 1 + int((np.diff(np.sort(values)) > LEVEL).sum())


def _grown(ink: Ink) -> tuple[float, float, float, float]:
    left, top, right, bottom = ink.box
    return left - SPARE, top - SPARE, right + SPARE, bottom + SPARE
