"""Hairlines between the cells of blocks that are too fine or pale to show at any one place, and show all the same in
the mean of their whole length: dotted ones on coloured paper, ones that a press hardly printed."""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

from recognise.grids.ink import Grey, odd
from recognise.grids.mesh import step
from recognise.grids.warp import Points, Pyramid, mesh_maps

CELL = 48
"""Pixels a cell: a hairline has one or two."""
AROUND = 0.35
"""In cells: the light that a line is held against is that of so wide a strip."""
CLIPPED = 0.08
"""What is more than so much darker than the strip is a mark or a character: it counts as a hairline does."""
BESIDE = 0.14
"""The part of each side of a cell at both ends that is not looked at: the thick lines stand there."""
WITHIN, APART = 0.1, 0.3
"""In cells: how far from its even place a hairline lies at most; the ground that it is held against, to both sides."""
LEAST = 0.002
"""Darker than the ground by less no line is seen on any paper."""
DEEPER = 2.0
"""A hairline is so many times as deep as what is found in the same way along the middles of the cells."""
HIDDEN = 2
"""So many lines may not be seen: tints end at them, or marks run along them."""

Profile = npt.NDArray[np.float64]


def shows_hairlines(pyramid: Pyramid, points: Points, every: int) -> bool:
    """Whether nearly all lines of a lattice (rows + 1, columns + 1, 2) are printed that lie between its thick ones,
    each `every` one of which is thick, the first and the last among them."""
    x, y = mesh_maps(points, CELL, 0.5)
    flat = pyramid.sample(x, y, step(points) / CELL)
    lines, middles = list[float](), list[float]()
    for picture in (flat, np.ascontiguousarray(flat.T)):
        profile = _profile(picture)
        count = round(len(profile) / CELL) - 1
        lines += [_depth(profile, at + 0.5) for at in range(1, count) if at % every]
        middles += [_depth(profile, at + 1.0) for at in range(count)]
    least = max(LEAST, DEEPER * float(np.median(middles)))
    return sum(depth > least for depth in lines) >= len(lines) - HIDDEN


def _profile(picture: Grey) -> Profile:
    """How much darker each row of a flattened grid, half a cell around it, is than the strip around: the mean over the
    middle of each cell, of which that of most cells, so that neither characters nor tints tell."""
    grey = picture[:, CELL // 2 : -(CELL // 2)].astype(np.float32)
    ground = cv2.blur(grey, (1, odd(AROUND * CELL)))
    darker = np.clip((ground - grey) / np.maximum(ground, 1), -CLIPPED, CLIPPED)
    rim = round(BESIDE * CELL)
    cells = darker.reshape(len(darker), -1, CELL)[:, :, rim:-rim].mean(axis=2)
    return np.asarray(np.median(cells, axis=1), np.float64)


def _depth(profile: Profile, place: float) -> float:
    """How much deeper the deepest row near a place, in cells, is than most rows around it."""
    at, within, apart = (round(length * CELL) for length in (place, WITHIN, APART))
    return float(profile[at - within : at + within + 1].max() - np.median(profile[at - apart : at + apart + 1]))
