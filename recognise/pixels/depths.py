"""How deep the ground of each cell is, between paper (0) and the tint of its page (1), over the whole of the cell.

Steps at lattice lines (recognise/pixels/ground.py) see little of a cell, and what they see may be bare: coarse dots of
a screen swallow parts of a pale tint, print of the other side darkens one. Here every part of a cell counts. Cells of
which the lattice network is sure say how light falls over the page, and how dark its tint is: light as a smooth surface
first, and then what the cells around a part leave of it, so that stained paper and hard shadows are light as well. A
part that lies on the edge of such a shadow tells nothing."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Flat
from recognise.pixels.frame import Mask, Raster
from recognise.pixels.ground import BLUR
from schema.cells import Cell

Floats = npt.NDArray[np.float64]

INSIDE, PARTS = 0.15, 4
"""In cells: how far from its borders a cell is looked at, and in how many parts, across and down."""
GROUND = 75
"""Percentile of a part, in each channel, that is its ground: thin strokes are darker."""
DEGREE = 2
"""Of the polynomial that light follows over a grid."""
BARE, PAIRS = 10, 2
"""How many sure bare cells, and pairs of a sure bare and a sure tinted cell side by side, say what ground and tint are,
at least."""
HUE = 0.1
"""In tints: what stains are of any hue at least: less is noise."""
ROUNDS, FLOOR = 8, 0.005
"""Of reweighting to the least sum of misfits, and the misfit in tints (log colour of a tint) from which on one counts
less."""
REACH, AROUND = 4, 12
"""In parts: how far around a part other cells say what light falls on it, and how many of theirs must."""
EVEN = 0.4
"""In tints: how far apart the lower and the upper quarter of the light around a part may lie. Paper reaches a quarter
of a pale tint, the edge of a shadow one tint and more."""
COVERED, SHOWN = 0.25, 4
"""Share of a part from which on a mark covers it, and how many parts of a cell must show their ground."""
PLAIN = (-0.6, 1.6)
"""A part outside this is ground of no sort: ink covers it, or something lighter than paper."""


class Depths:
    """Looks at the ground of the cells of a grid, where no mark stands: `marked` are the pixels of such."""

    def __init__(self, flat: Flat, marked: Mask | None = None) -> None:
        self._flat = flat
        covered = np.zeros(flat.image.shape[:2], np.bool_) if marked is None else marked
        self._bare = self._parts(covered[..., None]).mean(axis=(3, 4)) <= COVERED

    def of(self, bare: Collection[Cell], tinted: Collection[Cell]) -> Mapping[Cell, float]:
        """The depth of each cell, by some that surely are `bare` and some that surely are `tinted`. Nothing for cells
        of which no part shows its ground, nor for any where too few are sure."""
        seen = self._bare.sum(axis=-1) >= SHOWN
        known = np.full(seen.shape, np.nan)
        for cells, depth in ((bare, 0.0), (tinted, 1.0)):
            for cell in cells:
                known[cell.row - 1, cell.column - 1] = depth
        known[~seen] = np.nan
        grounds = self._grounds()
        tone = _tone(np.median(grounds, axis=2), known)
        if tone is None or (known == 0).sum() < BARE:
            return {}
        dark = grounds @ tone
        light, is_even = self._light(dark - known[..., None])
        return self._told(dark - light, is_even & self._bare, known)

    def shows(self, cell: Cell) -> bool:
        """Whether no mark covers so much of a cell that its ground cannot be told."""
        return bool(self._bare[cell.row - 1, cell.column - 1].sum() >= SHOWN)

    def _light(self, known: Floats) -> tuple[Floats, Mask]:
        """The light on each part, in tints, and whether it is even around it; `known` is what is seen of it where it
        is known what tint a part has."""
        shown = self._bare & ~np.isnan(known)
        places = self._places()
        smooth = places @ _fitted(places[shown], known[shown])
        left = _board(np.where(shown, known - smooth, np.nan))
        low, middle, high = _around(left)
        is_even = _cells(high - low <= EVEN)
        return smooth + _cells(np.nan_to_num(middle)), is_even

    def _told(self, parts: Floats, shown: Mask, known: Floats) -> Mapping[Cell, float]:
        """The mean of the parts of each cell that show its ground, between the usual one of bare and of tinted cells
        among those that are `known`."""
        plain = (parts > PLAIN[0]) & (parts < PLAIN[1]) & shown
        means = np.where(plain, parts, 0.0).sum(axis=-1) / np.maximum(plain.sum(axis=-1), 1)
        told = plain.sum(axis=-1) >= SHOWN
        both = [means[told & (known == depth)] for depth in (0, 1)]
        if not all(sort.size for sort in both):
            return {}
        paper, tint = map(np.median, both)
        depths = (means - paper) / max(tint - paper, FLOOR)
        return {Cell(int(row) + 1, int(column) + 1): float(depths[row, column]) for row, column in np.argwhere(told)}

    def _grounds(self) -> Floats:
        """Log colour of the ground of each part of each cell; rows x columns x parts x 3."""
        parts = self._parts(cv2.GaussianBlur(self._flat.image, (0, 0), BLUR * self._flat.cell))
        rank = round((parts.shape[3] - 1) * GROUND / 100)
        return np.asarray(np.log(np.maximum(np.partition(parts, rank, axis=3)[:, :, :, rank], 1)), np.float64)

    def _parts(self, picture: npt.NDArray[Any]) -> npt.NDArray[Any]:
        """The pixels of each part of each cell; rows x columns x parts x pixels x channels."""
        flat = self._flat
        inside = picture[Raster.of(flat).grid_slices()]
        cells = inside.reshape(flat.rows, flat.cell, flat.columns, flat.cell, -1).swapaxes(1, 2)
        near = round(INSIDE * flat.cell)
        size = (flat.cell - 2 * near) // PARTS
        middle = cells[:, :, near : near + PARTS * size, near : near + PARTS * size]
        parts = middle.reshape(flat.rows, flat.columns, PARTS, size, PARTS, size, -1).swapaxes(3, 4)
        return parts.reshape(flat.rows, flat.columns, PARTS * PARTS, size * size, -1)

    def _places(self) -> Floats:
        """Powers of the places of the parts of each cell, by which light is told; rows x columns x parts x powers."""
        rows, columns = self._flat.rows, self._flat.columns
        within = INSIDE + (np.arange(PARTS) + 0.5) * (1 - 2 * INSIDE) / PARTS
        down, right = ((np.arange(n)[:, None] + within).ravel() / n * 2 - 1 for n in (rows, columns))
        powers = [(i, j) for i in range(DEGREE + 1) for j in range(DEGREE + 1 - i)]
        each = np.stack([np.outer(down**i, right**j) for i, j in powers], axis=-1)
        blocks = each.reshape(rows, PARTS, columns, PARTS, len(powers)).swapaxes(1, 2)
        return np.asarray(blocks.reshape(rows, columns, PARTS * PARTS, len(powers)), np.float64)


def _tone(grounds: Floats, known: Floats) -> Floats | None:
    """By what weights of the three channels (log colour) a tint is 1 darker than paper; None where too few cells side
    by side are known of which one is tinted (1 in `known`) and one bare (0). The light on both is the same, but for the
    few that the edge of a shadow parts. What also parts bare cells from each other, as brown stains do, counts less."""
    steps, changes = _steps(grounds, known)
    apart = np.abs(changes) == 1
    if apart.sum() < PAIRS:
        return None
    tint = np.median(steps[apart] * changes[apart][:, None], axis=0)
    stains = steps[changes == 0]
    least = (HUE * float(np.abs(tint).max()) + FLOOR) ** 2
    spread = stains.T @ stains / max(len(stains), 1) + least * np.eye(3)
    weights = np.linalg.solve(spread, tint)
    return np.asarray(weights / max(float(weights @ tint), FLOOR**2), np.float64)


def _steps(grounds: Floats, known: Floats) -> tuple[Floats, Floats]:
    """Of cells side by side, both of which are known, how their ground differs, and their tint. Bare ones count with
    bare ones only: a shade of the tint itself is no stain."""
    found: list[tuple[Floats, Floats]] = []
    for turn in ((0, 1), (1, 0)):
        depths, colours = known.transpose(turn), grounds.transpose(*turn, 2)
        change = depths[1:] - depths[:-1]
        among = ~np.isnan(change) & ((change != 0) | (depths[1:] == 0))
        found.append(((colours[1:] - colours[:-1])[among], change[among]))
    return np.concatenate([steps for steps, _ in found]), np.concatenate([change for _, change in found])


def _board(parts: npt.NDArray[Any]) -> npt.NDArray[Any]:
    """The parts of all cells as they lie on the page."""
    rows, columns = parts.shape[:2]
    return parts.reshape(rows, columns, PARTS, PARTS).swapaxes(1, 2).reshape(rows * PARTS, columns * PARTS)


def _cells(board: npt.NDArray[Any]) -> npt.NDArray[Any]:
    """The parts of each cell: `_board` the other way round."""
    rows, columns = board.shape[0] // PARTS, board.shape[1] // PARTS
    return board.reshape(rows, PARTS, columns, PARTS).swapaxes(1, 2).reshape(rows, columns, PARTS * PARTS)


def _around(board: Floats) -> tuple[Floats, Floats, Floats]:
    """Lower quarter, median and upper quarter of what is known around each part, outside its own cell."""
    down, right = (np.pad(np.arange(size) // PARTS, REACH, constant_values=-1) for size in board.shape)
    padded = np.pad(board, REACH, constant_values=np.nan)
    size = (2 * REACH + 1,) * 2
    window = np.lib.stride_tricks.sliding_window_view
    same_row, same_column = (window(axis, 2 * REACH + 1) == axis[REACH:-REACH, None] for axis in (down, right))
    own = same_row[:, None, :, None] & same_column[None, :, None, :]
    seen = np.sort(np.where(own, np.nan, window(padded, size)).reshape(*board.shape, -1), axis=-1)
    counts = (~np.isnan(seen)).sum(axis=-1)
    places = (np.rint((counts - 1) * part).clip(min=0).astype(int)[..., None] for part in (0.25, 0.5, 0.75))
    low, middle, high = (np.take_along_axis(seen, at, -1)[..., 0] for at in places)
    low[counts < AROUND] = np.nan
    return low, middle, high


def _fitted(sample: Floats, seen: Floats) -> Floats:
    """What fits what is seen with the least sum of misfits, by reweighted least squares: print of the other side and
    characters cover some parts."""
    weights = np.ones(len(sample))
    for _ in range(ROUNDS):
        found = np.linalg.lstsq(sample * weights[:, None], seen * weights, rcond=None)[0]
        weights = 1 / np.sqrt(np.maximum(np.abs(seen - sample @ found), FLOOR))
    return np.asarray(found, np.float64)
