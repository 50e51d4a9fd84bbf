"""The ink that is left when grid, characters and lines are taken away: nothing of it may be ignored."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Colour
from recognise.evidence import Shape
from recognise.pixels.frame import Colours, Grey, Mask, Raster
from recognise.pixels.ink import Ink, soften
from recognise.pixels.printed import printed_things
from recognise.pixels.shapes import name_of
from recognise.pixels.sides import Sides

SMOOTH = 0.02
"""Smoothing in cells: single specks of dust fade, marks do not."""
ABOVE = 1.4
"""Residual ink exceeds the noise of paper by this factor."""
LEAST = 0.07
"""Ink paler than this is no print: the palest tint is darker."""
WEIGHT = 0.003
"""In square cells of full ink: a dot a fifteenth of a cell wide, the smallest mark that print uses."""
EXTENT = 0.07
"""In cells: what is shorter than this in both directions is a speck."""
NEAR = 0.06
"""In cells: pieces nearer than twice this belong to one mark."""
AROUND = 0.05
"""In cells: how far outside its frame ink still belongs to the grid."""

FRAME = 0.2
"""In cells: how far from the outline of a grid the ink of its frame reaches, when that is thick or blurred."""

UNDER_FRAME = 0.5
"""The part of a thing that lies where the frame of the grid runs: more of it is a rest of the frame, or of the ground
outside it."""


@dataclass(frozen=True, slots=True)
class Residual:
    """Ink that nothing explains, one entry for each group of pieces."""

    shapes: tuple[Shape, ...]
    unexplained: tuple[Box, ...]


def find_residual(
    ink: Ink, explained: Mask, raster: Raster, characters: Sequence[Box] = (), screen: Mask | None = None
) -> Residual:
    """What is left on the grid of the ink without the lattice outside the mask `explained`, as far as it stands out
    from the paper of this page and is as sharp as its `characters`, where these are given and no print `screen` was
    smoothed away."""
    drawn, relative, floor = ink.drawn, ink.relative, ink.floor
    rows, columns = raster.grid_slices(raster.px(AROUND))
    free = np.zeros(explained.shape, np.bool_)
    free[rows, columns] = ~explained[rows, columns]
    # Where the frame runs, its ink was bridged by that of the ground outside, which may be tinted.
    frame = along_frame(raster, free.shape) & ink.grid
    sides = Sides(ink.level, free, raster, characters, screen)
    out = np.zeros(free.shape, np.bool_)
    for (y, x), thing in printed_things(ink.level, free, raster, ink.floor, sides):
        window = slice(y, y + thing.shape[0]), slice(x, x + thing.shape[1])
        if frame[window][thing].mean() <= UNDER_FRAME:
            out[window] |= thing
    out = out[rows, columns]
    smooth = soften(np.ascontiguousarray(drawn[rows, columns]), SMOOTH * raster.cell)
    size = 2 * raster.px(NEAR) + 1
    near = np.ones((size, size), np.uint8)
    # Shade that begins beside a mark is none of it.
    left = (smooth > max(LEAST, ABOVE * floor)) & (free & ~frame)[rows, columns]
    left &= cv2.dilate(out.view(np.uint8), near, iterations=2) > 0
    joined = cv2.dilate(left.astype(np.uint8), near)
    _, labels, stats, _ = cv2.connectedComponentsWithStats(joined, connectivity=8)
    shapes, boxes = [], []
    for label in range(1, len(stats)):
        x, y, width, height, _ = (int(v) for v in stats[label])
        window = slice(y, y + height), slice(x, x + width)
        around = labels[window] == label
        own = left[window] & around
        if not (out[window] & around).any():
            continue
        found = _tight(own)
        if float(smooth[window][own].sum()) < WEIGHT * raster.cell**2 or max(found.shape) < EXTENT * raster.cell:
            continue
        top, start = np.argwhere(own).min(axis=0)
        box = raster.box(
            columns.start + x + int(start), rows.start + y + int(top), int(found.shape[1]), int(found.shape[0])
        )
        colour = _colour(relative[rows, columns][window], smooth[window], own)
        name = name_of(found)
        shapes.append(Shape(name, box, colour, "shape"))
        if name == "mark":
            boxes.append(box)
    return Residual(tuple(shapes), tuple(boxes))


def along_frame(raster: Raster, shape: tuple[int, ...]) -> Mask:
    """Where the outermost lines of the grid may run."""
    along = np.zeros(shape, np.bool_)
    along[raster.slices((-FRAME, -FRAME, raster.columns + FRAME, raster.rows + FRAME))] = True
    along[raster.slices((FRAME, FRAME, raster.columns - FRAME, raster.rows - FRAME))] = False
    return along


def _tight(mask: Mask) -> Mask:
    """The mask cut to its True part."""
    places = np.argwhere(mask)
    (top, left), (bottom, right) = places.min(axis=0), places.max(axis=0) + 1
    return mask[top:bottom, left:right]


def _colour(relative: Colours, ink: Grey, own: npt.NDArray[np.bool_]) -> Colour:
    """The median colour of the darker half of some pixels."""
    darker = own & (ink >= np.median(ink[own]))
    red, green, blue = (round(255 * float(v)) for v in np.median(relative[darker], axis=0))
    return red, green, blue
