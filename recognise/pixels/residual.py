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
from recognise.pixels.shadows import Shadows
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
    ink: Ink,
    explained: Mask,
    raster: Raster,
    characters: Sequence[Box] = (),
    screen: Mask | None = None,
    shadows: Shadows | None = None,
) -> Residual:
    """What is left on the grid of the ink without the lattice outside the mask `explained`, as far as it stands out
    from the paper of this page and is as sharp as its `characters`, where these are given and no print `screen` was
    smoothed away; edges of `shadows` are none."""
    rows, columns = raster.grid_slices(raster.px(AROUND))
    free = np.zeros(explained.shape, np.bool_)
    free[rows, columns] = ~explained[rows, columns]
    # Where the frame runs, its ink was bridged by that of the ground outside, which may be tinted.
    frame = along_frame(raster, free.shape) & ink.grid
    sides = Sides(ink.level, free, raster, characters, screen)
    things = _printed(ink, free, frame, raster, sides, shadows)[rows, columns]
    smooth = soften(np.ascontiguousarray(ink.drawn[rows, columns]), SMOOTH * raster.cell)
    size = 2 * raster.px(NEAR) + 1
    near = np.ones((size, size), np.uint8)
    # Shade that begins beside a mark is none of it.
    left = (smooth > max(LEAST, ABOVE * ink.floor)) & (free & ~frame)[rows, columns]
    left &= cv2.dilate(things.view(np.uint8), near, iterations=2) > 0
    joined = cv2.dilate(left.astype(np.uint8), near)
    _, labels, stats, _ = cv2.connectedComponentsWithStats(joined, connectivity=8)
    shapes = []
    for label, (x, y, width, height) in enumerate(stats[1:, :4].tolist(), start=1):
        window = slice(y, y + height), slice(x, x + width)
        around = labels[window] == label
        own = left[window] & around
        found = _tight(own) if (things[window] & around).any() else None
        if found is None or _is_speck(found, float(smooth[window][own].sum()), raster):
            continue
        top, start = np.argwhere(own).min(axis=0)
        corner = columns.start + x + int(start), rows.start + y + int(top)
        box = raster.box(*corner, int(found.shape[1]), int(found.shape[0]))
        colour = _colour(ink.relative[rows, columns][window], smooth[window], own)
        shapes.append(Shape(name_of(found), box, colour, "shape"))
    return Residual(tuple(shapes), tuple(shape.box for shape in shapes if shape.name == "mark"))


def _printed(ink: Ink, free: Mask, frame: Mask, raster: Raster, sides: Sides, shadows: Shadows | None) -> Mask:
    """The pixels of printed things, rests of the grid's frame aside."""
    out = np.zeros(free.shape, np.bool_)
    for (y, x), thing in printed_things(ink.level, free, raster, ink.floor, sides, shadows=shadows):
        window = slice(y, y + thing.shape[0]), slice(x, x + thing.shape[1])
        if frame[window][thing].mean() <= UNDER_FRAME:
            out[window] |= thing
    return out


def _is_speck(mask: Mask, weight: float, raster: Raster) -> bool:
    """Whether a piece with so much ink, in pixels of full ink, is smaller than any mark."""
    return weight < WEIGHT * raster.cell**2 or max(mask.shape) < EXTENT * raster.cell


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
