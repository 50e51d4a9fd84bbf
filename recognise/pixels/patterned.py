"""Cells whose ground is printed as a pattern, of dots or strokes, instead of a flat tint.

A mark, a character or a line leaves parts of its cell bare; a pattern fills all of it. Whether one stands in a cell is
asked only where the rules speak of tinted cells and nobody has seen any: noise and print of the other side fill cells
too.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from itertools import pairwise

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Point
from recognise.pixels.frame import Grey, Raster
from schema.cells import Cell

PARTS = 3
"""A cell is looked at in so many parts each way: the widest patterns have so many dots or strokes across a cell."""
INSIDE = 0.1
"""In cells: what stands nearer to a lattice line may be a mark on that."""
CLEAR, LEAST = 1.5, 0.1
"""Ink of so many times what noise reaches, and no less than that, is a pattern's."""
SHARE = 0.01
"""Part of the area that has ink where a small dot stands in it."""
FEWEST = 2
"""So many cells have a pattern, where any has: a smudge may fill one."""
WIDEST = 0.6
"""In cells: the width of the widest characters; what is wider is one with strokes of a pattern."""
GROWN, OPEN, HALF = 0.04, 0.3, 0.5
"""In cells: the blur of a character; what share of a part characters must leave bare for it to tell anything, and what
share of the parts of a cell must tell something. Where more than that share of them is bare, no pattern faded."""
PAPER, BARE = 0.7, 3
"""A pattern leaves at least the rest of each part bare, where a filled square leaves nothing; and so many parts of a
cell without one have no ink at all, whatever mark or line stands in it."""
ROUND = 1.15
"""A circle reaches so many times its radius at most: its outline is outside of where that was measured, and blurred."""
THIRD, ALIKE = 0.3, 2.0
"""Where other cells have a pattern, fewer parts tell it of a character that strokes of it run into; how many times the
ink of those cells, or which part of it, such a cell has at most or at least."""


def patterned(
    drawn: Grey,
    floor: float,
    raster: Raster,
    characters: Iterable[Box] = (),
    circles: Iterable[tuple[Point, float]] = (),
) -> frozenset[Cell]:
    """The cells of which every part has ink beside the `characters` and `circles` (middle, radius) in it; none where
    they are too few. `drawn` is ink without lattice lines and grain."""
    return _full(*_inked(drawn, floor, raster, characters, circles))


def as_patterned(
    cells: Collection[Cell],
    level: Grey,
    floor: float,
    raster: Raster,
    characters: Iterable[Box] = (),
    circles: Iterable[tuple[Point, float]] = (),
) -> frozenset[Cell]:
    """The cells every part of which is inked as those of the patterned `cells` are, in ink with its texture: strokes
    that are a little paler than others pass for grain. None where there are no such cells."""
    if not cells:
        return frozenset()
    inks, left = _inked(level, floor, raster, characters, circles)
    _, alike = _as_in(_mask_of(cells, raster), inks, left)
    found = alike.all(axis=0) & ((left >= OPEN).mean(axis=0) >= HALF)
    return frozenset(Cell(int(row) + 1, int(column) + 1) for row, column in np.argwhere(found))


def _mask_of(cells: Collection[Cell], raster: Raster) -> npt.NDArray[np.bool_]:
    """Which of all cells are among some."""
    mask = np.zeros((raster.rows, raster.columns), np.bool_)
    mask[tuple(np.array([(cell.row - 1, cell.column - 1) for cell in cells]).T)] = True
    return mask


def stands_clear(
    cells: Collection[Cell],
    drawn: Grey,
    floor: float,
    raster: Raster,
    characters: Iterable[Box] = (),
    circles: Iterable[tuple[Point, float]] = (),
    mostly: bool = False,
) -> bool:
    """Whether a pattern fills just these cells: it covers all their parts alike, and leaves paper in each, and all
    other cells have parts without ink; or `mostly` such, of those that characters and circles leave."""
    inks, left = _inked(drawn, floor, raster, characters, circles)
    telling, filled = left >= OPEN, _mask_of(cells, raster)
    parts, even = _as_in(filled, inks, left)
    count = (parts <= SHARE).sum(axis=0)
    empty = (count >= BARE) & ((count > HALF * telling.sum(axis=0)) | (not mostly))
    alike = even.all(axis=0) & telling.any(axis=0)
    return bool(np.where(filled, alike, empty).all())


def _as_in(
    filled: npt.NDArray[np.bool_], inks: npt.NDArray[np.float64], left: npt.NDArray[np.float64]
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.bool_]]:
    """Of each part of a cell the share of what is bare that has ink, not a number where too little is bare to tell; and
    whether that is as much as parts of the `filled` cells usually have, or does not tell."""
    telling = left >= OPEN
    parts = np.where(telling, inks / np.maximum(left, SHARE), np.nan)
    usual = float(np.nanmedian(parts[:, filled]))
    return parts, (parts >= usual / ALIKE) & (parts <= min(usual * ALIKE, PAPER)) | ~telling


def _inked(
    drawn: Grey, floor: float, raster: Raster, characters: Iterable[Box], circles: Iterable[tuple[Point, float]]
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """Of each part of a cell the shares that have ink beside characters and circles, and that these leave, in every
    cell."""
    bare = bare_ground(drawn.shape, characters, raster)
    rounds = np.zeros(drawn.shape, np.uint8)
    for (x, y), radius in circles:
        cv2.circle(rounds, (round(raster.at(x)), round(raster.at(y))), raster.px(ROUND * radius), 1, -1)
    bare &= rounds == 0
    inked = (drawn > max(CLEAR * floor, LEAST)) & bare
    inks, left = (np.array(list(_parts(holds, raster))) for holds in (inked, bare))
    return inks, left


def _full(inks: npt.NDArray[np.float64], left: npt.NDArray[np.float64]) -> frozenset[Cell]:
    """The cells of which every part has ink; none where they are too few."""
    telling = left >= OPEN
    every, told = ((inks > SHARE * left) | ~telling).all(axis=0), telling.mean(axis=0)
    full = every & (told >= HALF)
    if full.sum() < FEWEST:
        return frozenset()
    ink = np.where(telling, inks, 0).sum(axis=0) / np.maximum(np.where(telling, left, 0).sum(axis=0), SHARE)
    usual = float(np.median(ink[full]))
    full |= every & (told >= THIRD) & (ink >= usual / ALIKE) & (ink <= usual * ALIKE)
    return frozenset(Cell(int(row) + 1, int(column) + 1) for row, column in np.argwhere(full))


def bare_ground(shape: tuple[int, ...], characters: Iterable[Box], raster: Raster) -> npt.NDArray[np.bool_]:
    """Where nothing of the characters is; boxes wider than any character hold strokes of a pattern, too."""
    bare = np.ones(shape, np.bool_)
    for box in (box for box in characters if box[2] - box[0] <= WIDEST):
        bare[raster.slices(box, raster.px(GROWN))] = False
    return bare


def _parts(holds: npt.NDArray[np.bool_], raster: Raster) -> Iterator[npt.NDArray[np.float64]]:
    """Of each part of a cell the share of it where something holds, in every cell (rows, columns)."""
    grid = holds[raster.grid_slices()]
    cells = grid.reshape(raster.rows, raster.cell, raster.columns, raster.cell).swapaxes(1, 2)
    cuts = np.round(np.linspace(INSIDE, 1 - INSIDE, PARTS + 1) * raster.cell).astype(int)
    for top, bottom in pairwise(cuts):
        for left, right in pairwise(cuts):
            yield cells[:, :, top:bottom, left:right].mean(axis=(2, 3))
