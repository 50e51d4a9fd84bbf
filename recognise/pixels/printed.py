"""Things of ink that stand out from the paper of their page and look like print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import cv2
import numpy as np

from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.passing import without_passing
from recognise.pixels.shadows import Shadows
from recognise.pixels.sides import Sides
from recognise.pixels.standout import Kind, standing_out
from recognise.pixels.trails import without_trails

JOIN = 0.09
"""In cells: specks nearer than twice this belong together; the gaps of dashed and dotted lines are narrower."""

Place = tuple[int, int]


def printed_things(
    level: Grey,
    free: Mask,
    raster: Raster,
    floor: float,
    sides: Sides,
    spots: Sequence[Kind] = (),
    shadows: Shadows | None = None,
) -> list[tuple[Place, Mask]]:
    """Each thing where ink that is not explained stands out: its pixels, and where (y, x) their window begins. What is
    as small as dust, soft where print is sharp, the edge of one of the `shadows`, or runs on out of the grid, straight
    or bent, is none. A dashed line is many specks, and must not hide by being cut up. `level` is ink from 0 to 1
    without shade and lattice lines, `free` where it is looked at; `spots` are kinds of small marks besides those that
    are on any page."""
    found: list[tuple[Place, Mask]] = []
    for ink, kind in standing_out(level, free, raster, floor, spots):
        for place, thing in joined_pieces(ink, raster.px(JOIN), kind.area * raster.cell**2):
            if sides.are_soft(thing, place) or (shadows is not None and shadows.casts(thing, place)):
                continue
            found.append((place, thing))
    return without_trails(without_passing(found, level, free, raster), level, free, raster)


def rectangle_of(place: Place, piece: Mask) -> tuple[int, int, int, int]:
    """The rectangle (x, y, width, height), in pixels, of a thing whose window begins at a place."""
    (top, left), (bottom, right) = (end(np.argwhere(piece), axis=0) for end in (np.min, np.max))
    y, x = place
    return x + int(left), y + int(top), int(right - left) + 1, int(bottom - top) + 1


def joined_pieces(ink: Mask, reach: int, least: float) -> Iterator[tuple[Place, Mask]]:
    """The ink of pieces that are nearer to each other than twice `reach`, in pixels, together where it is `least`
    pixels or more: its pixels in a window that goes so far around it, and where (y, x) that begins."""
    if np.count_nonzero(ink) < least:
        return
    joined = cv2.dilate(ink.astype(np.uint8), np.ones((2 * reach + 1, 2 * reach + 1), np.uint8))
    count, labels, stats, _ = cv2.connectedComponentsWithStats(joined, connectivity=8)
    areas = np.bincount(labels[ink], minlength=count)
    for index in range(1, count):
        if areas[index] >= least:
            x, y, width, height, _ = (int(v) for v in stats[index])
            window = slice(y, y + height), slice(x, x + width)
            yield (y, x), ink[window] & (labels[window] == index)
