"""Filled marks in cells, told by their ground: how much darker the middle of a cell is than its corners.

Grain, screens and blur leave little of a mark's outline on worn paper, but its ground is the mean of hundreds of
pixels, and a digit on it covers less than half of them. A page has dozens of bare cells, which say what that is worth
here, and sure marks, which say how dark theirs are. It tells that a mark stands there, and not of which shape."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from recognise.marks.looking import Looking
from recognise.marks.same_look import ENOUGH, SURE
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.quantiles import percentile
from schema.cells import Cell

WITHIN = 0.32
"""In cells: marks in cells are filled so far around the middle at least."""
CORNER = (0.36, 0.45)
"""In cells: from where to where, across and down, the corners of a cell lie, clear of marks and lattice lines."""
LIGHTER, MIDDLING = 80, 50
"""Percentile of the brightness of what is within that is ground and no digit; of the corners, the median."""
BARE = 12
"""So many bare cells at least say how even the paper is."""
SPREAD, GRAIN = 1.48, 1e-3
"""Median deviations in a standard deviation; and the least that pictures of 256 levels show."""
NEAR, FAR = 3.0, 6.0
"""Standard deviations of bare cells up to which a cell may be one, and from which on it is none."""
PART = 0.33
"""Of what parts the sure marks from bare cells, so much at least a mark has: in a shadow they stand out less."""
ALMOST, ELSEWHERE = 0.5, 3
"""So many bare cells with at least that part of the ground of a mark show that the other side of the paper is seen."""
LEAST = 0.02
"""What is left of the doubt whether a mark stands there: of the 663 bare cells of ten worn pages none is so dark."""


@dataclass(frozen=True, slots=True)
class Grounds:
    """How dark the grounds of cells are beside their corners, 0 to 1, over that of bare cells; how far these differ
    from each other, and how dark the sure marks of one class are, and the palest of them: some may be outlines."""

    depths: Mapping[Cell, float]
    spread: float
    marks: float
    palest: float

    @staticmethod
    def of(told: Mapping[Cell, float], bare: Iterable[Cell], looking: Looking) -> Grounds | None:
        """The grounds of cells and of those that are `bare`; `told` is the chance of a mark of one class so far. None
        where too few cells say what they are worth."""
        grey = looking.grey
        depths = _depths(told, grey, looking.raster)
        sure = [depths[cell] for cell, chance in told.items() if chance >= SURE and cell in depths]
        if len(sure) < ENOUGH:
            return None
        none = np.array(list(_depths(bare, grey, looking.raster).values()))
        if len(none) < BARE:
            return None
        usual = float(np.median(none))
        spread = SPREAD * max(float(np.median(np.abs(none - usual))), GRAIN)
        above = {cell: depth - usual for cell, depth in depths.items()}
        return Grounds(above, spread, float(np.median(sure)) - usual, min(sure) - usual)

    def left(self, cell: Cell) -> float:
        """The part of the doubt whether a mark stands in a cell that its ground leaves."""
        depth = self.depths.get(cell, 0.0)
        is_mark = depth >= PART * self.marks > 0
        return float(np.interp(depth / self.spread, (NEAR, FAR), (1.0, LEAST))) if is_mark else 1.0

    def stands_out(self, cell: Cell) -> bool:
        """Whether a cell that passes for bare has more ground than bare cells have, and far less than marks: bulbs and
        wide lines are as dark as these."""
        return FAR * self.spread <= self.depths.get(cell, 0.0) < PART * self.marks

    def is_bare(self, cell: Cell) -> bool:
        """Whether a cell has no ground, while the sure marks have one that no bare cell has, every one of them: where
        circles are printed filled and as outlines, those have none either."""
        dark = min(NEAR * self.spread, PART * self.marks)
        filled = self.marks >= FAR * self.spread and self.palest >= dark
        return filled and self.depths.get(cell, self.marks) < dark


def is_elsewhere(ghost: Cell, bare: Collection[Cell], looking: Looking) -> bool:
    """Whether some cells that the network takes for bare have about the ground of one whose mark seems to show through,
    or that has none: what is on the other side of the paper shows in more places than one."""
    grey = looking.grey
    own, depths = _depths([ghost], grey, looking.raster), list(_depths(bare, grey, looking.raster).values())
    if ghost not in own or not depths:
        return False
    usual = float(np.median(depths))
    above = own[ghost] - usual
    return above <= GRAIN or sum(depth - usual >= ALMOST * above for depth in depths) >= ELSEWHERE


def _depths(cells: Iterable[Cell], grey: Grey, raster: Raster) -> dict[Cell, float]:
    """How much darker the ground within each cell is than its corners, 0 to 1."""
    found = {cell: _depth(_window(grey, cell, raster), raster.cell) for cell in cells}
    return {cell: depth for cell, depth in found.items() if depth is not None}


def _depth(window: Grey, cell: int) -> float | None:
    middle, corners = _masks(window.shape[0], window.shape[1], cell)
    if not middle.any() or not corners.any():
        return None
    return float(percentile(window[corners], MIDDLING) - percentile(window[middle], LIGHTER))


@lru_cache(maxsize=64)
def _masks(high: int, wide: int, cell: int) -> tuple[Mask, Mask]:
    """What lies within the middle, and what in the corners, of a window of a size: nearly all cells have the same."""
    down, across = (np.abs(np.arange(size) + 0.5 - size / 2) / cell for size in (high, wide))
    low, far = CORNER
    corners = np.outer((down >= low) & (down <= far), (across >= low) & (across <= far))
    return np.asarray(np.hypot(*np.meshgrid(across, down)) <= WITHIN, np.bool_), corners


def _window(grey: Grey, cell: Cell, raster: Raster) -> Grey:
    x, y = (round(raster.at(value)) for value in cell.centre)
    half = round(CORNER[1] * raster.cell)
    return grey[max(0, y - half) : y + half, max(0, x - half) : x + half]


def with_shapes_open(doubt: float, left: float, others: Sequence[float]) -> float:
    """What is left of a doubt where the ground says that a mark is there: not less than that it is of another shape, of
    which `others` are the chances."""
    return max(left * doubt, min(doubt, max(others, default=0.0)))
