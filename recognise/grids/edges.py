"""How thick and how dark the lattice lines are, edge by edge."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from recognise.evidence import Edges, Flat
from recognise.grids.ink import luminance

ACROSS = 0.2
"""How far to both sides of an edge it is looked at, in cells: the thickest frames are a seventh of a cell."""
CORE = 0.05
"""The middle of a line lies within so many cells of the lattice; what is further out is a neighbour's mark."""
FOOT = 0.35
"""A line ends where it is this pale, compared with its middle: beyond begins another, such as a cage's."""
ALONG = 0.2
"""Share of an edge left out at either end, where the crossing lines and corner marks are."""
FAINTEST = 0.03
"""Darkness below this is no line but the paper's grain."""

Array = npt.NDArray[np.float64]


def measure_edges(flat: Flat) -> Edges:
    """Thickness and darkness of every edge of a flattened grid.

    The profile across an edge is the median along it, so that marks and lines that cross it do not count; the ground
    on either side, tinted or not, counts as 0. Thickness is the profile's area over its peak, in cells: blur makes a
    line paler and wider and leaves thickness x darkness as it was."""
    bright = np.maximum(luminance(flat.image).astype(np.float64), 1.0)
    horizontal, horizontal_darkness = _along_rows(bright, flat.rows, flat.columns, flat)
    vertical, vertical_darkness = _along_rows(np.ascontiguousarray(bright.T), flat.columns, flat.rows, flat)
    return Edges(horizontal, vertical.T, horizontal_darkness, vertical_darkness.T)


def _along_rows(bright: Array, lines: int, cells: int, flat: Flat) -> tuple[Array, Array]:
    """Thickness and darkness of the edges along the rows, both (lines + 1, cells)."""
    profiles = _profiles(bright, lines, cells, flat)
    count = profiles.shape[1]
    rim = max(1, count // 8)
    before = np.median(profiles[:, :rim], axis=1, keepdims=True)
    after = np.median(profiles[:, -rim:], axis=1, keepdims=True)
    slope = np.linspace(0, 1, count)[None, :, None]
    ground = np.maximum(before + (after - before) * slope, 1.0)
    depth = np.maximum(1 - profiles / ground, 0)
    place = (np.arange(count) - (count - 1) / 2) / flat.cell
    peak = depth[:, np.abs(place) <= CORE].max(axis=1)
    width = _line_only(depth, peak, place).sum(axis=1) / np.maximum(peak, 1e-9) / flat.cell
    there = peak >= FAINTEST
    return np.where(there, width, 0.0), np.where(there, peak, 0.0)


def _line_only(depth: Array, peak: Array, place: Array) -> Array:
    """The depth profiles cut off where the line in their middle ends."""
    inked = depth >= FOOT * peak[:, None]
    middle = np.abs(place) <= CORE
    start = np.where(middle[None, :, None], depth, -1).argmax(axis=1)
    index = np.arange(len(place))[None, :, None]
    blank_before = np.where(~inked & (index < start[:, None]), index, -1).max(axis=1)
    blank_after = np.where(~inked & (index > start[:, None]), index, len(place)).min(axis=1)
    return np.where((index > blank_before[:, None]) & (index < blank_after[:, None]), depth, 0.0)


def _profiles(bright: Array, lines: int, cells: int, flat: Flat) -> Array:
    """Brightness across each edge, (lines + 1, pixels across, cells)."""
    pad = flat.margin * flat.cell
    half = round(ACROSS * flat.cell)
    offsets = np.arange(-half, half)
    rows = np.rint(pad + flat.cell * np.arange(lines + 1)).astype(int)[:, None] + offsets
    rows = np.clip(rows, 0, bright.shape[0] - 1)
    cut = round(ALONG * flat.cell)
    pieces = []
    for cell in range(cells):
        start = round(pad + cell * flat.cell)
        piece = bright[:, start + cut : start + flat.cell - cut]
        pieces.append(np.median(piece[rows], axis=-1))
    return np.asarray(np.stack(pieces, axis=-1), np.float64)
