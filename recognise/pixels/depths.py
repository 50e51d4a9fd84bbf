"""How deep the ground of each cell is, between paper (0) and the tint of its page (1), over the whole of the cell.

Steps at lattice lines (recognise/pixels/ground.py) see little of a cell, and what they see may be bare: coarse dots of
a screen swallow parts of a pale tint, print of the other side darkens one. Here every part of a cell counts. Cells of
which the lattice network is sure say how light falls over the page, as a smooth surface, and how dark its tint is."""

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
DEGREE = 3
"""Of the polynomial that light follows over a grid."""
BARE, TINTED = 10, 1
"""How many cells of each sort say what ground and tint are, at least."""
ROUNDS, FLOOR = 8, 0.005
"""Of reweighting to the least sum of misfits, and the misfit in log colour from which on one counts less."""
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
        known = [cell for cell in (*bare, *tinted) if seen[cell.row - 1, cell.column - 1]]
        is_tinted = np.array([cell in tinted for cell in known], np.bool_)
        if (~is_tinted).sum() < BARE or is_tinted.sum() < TINTED:
            return {}
        grounds, places = self._grounds(), self._places()
        rows, columns = np.array([(cell.row - 1, cell.column - 1) for cell in known]).T
        shown = np.repeat(is_tinted.astype(np.float64), PARTS * PARTS)
        sample = np.column_stack([places[rows, columns].reshape(len(shown), -1), shown])
        counts = self._bare[rows, columns].ravel()
        fitted = _fitted(sample[counts], grounds[rows, columns].reshape(len(shown), 3)[counts])
        tone = fitted[-1]
        parts = (grounds - places @ fitted[:-1]) @ tone / max(float(tone @ tone), FLOOR**2)
        return self._told(parts)

    def _told(self, parts: Floats) -> Mapping[Cell, float]:
        """The mean of the parts of each cell that show its ground."""
        plain = (parts > PLAIN[0]) & (parts < PLAIN[1]) & self._bare
        means = np.where(plain, parts, 0.0).sum(axis=-1) / np.maximum(plain.sum(axis=-1), 1)
        shown = np.argwhere(plain.sum(axis=-1) >= SHOWN)
        return {Cell(int(row) + 1, int(column) + 1): float(means[row, column]) for row, column in shown}

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


def _fitted(sample: Floats, ground: Floats) -> Floats:
    """What fits the ground with the least sum of misfits, by reweighted least squares: print of the other side and
    characters cover some parts."""
    weights = np.ones(len(sample))
    for _ in range(ROUNDS):
        found = np.linalg.lstsq(sample * weights[:, None], ground * weights[:, None], rcond=None)[0]
        weights = 1 / np.sqrt(np.maximum(np.abs(ground - sample @ found).max(axis=1), FLOOR))
    return np.asarray(found, np.float64)
