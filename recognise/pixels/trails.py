"""Pale curves that run on out of the grid: the rims of stains, the rings of cups and bent folds do, marks never.

Like straight folds (recognise/pixels/passing.py), but bent: from a piece of such ink the way out is sought that keeps
to thin ink as far as it can (Dijkstra's shortest path, over costs that fall with the answer of the filter for thin
lines), and what is found must be ink all along, without a gap and without a sharp turn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import cv2
import numpy as np
import numpy.typing as npt
from skimage.graph import MCP_Geometric

from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.passing import BEYOND, DARKER, DARKEST, FRAME, UNBROKEN, Thing
from recognise.pixels.standout import thin_lines

FINE = 16
"""Pixels a cell in which ways are sought."""
BARE, HIDDEN = 120.0, 8.0
"""What a pixel of bare paper costs, and one under something known, where one of ink costs 1: a long way along a curve
is cheaper than a short one over paper."""
ENOUGH = 0.6
"""Part of the ink of the piece that is followed with which a pixel costs no more."""
PALEST, PALER, PAPER = 0.1, 0.4, 6.0
"""How pale a curve may get, as a part of what it is in the piece: the more the quieter the paper is, of whose median
answer it has so many times as much."""
LONG, SLENDER = 0.3, 2.5
"""In cells: how long a piece is at least; and how many times as long as wide."""
SLIM = 0.14
"""In cells: how far from the curve the ink of a piece of it lies."""
GAP = 0.25
"""In cells: no piece of the way without ink is longer, where ink could be seen."""
UNSEEN = 0.5
"""Part of the way inside the grid that may lie under what is known."""
SPAN, TURN = 0.35, np.deg2rad(55)
"""The most that a curve turns between two spans so long, in cells: the tightest stain is half a cell across."""

Floats = npt.NDArray[np.float64]
Places = npt.NDArray[np.intp]


def without_trails(things: Sequence[Thing], level: Grey, free: Mask, raster: Raster) -> list[Thing]:
    """The things that are no part of a pale curve that runs on out of the grid. Each is where (y, x) its window begins,
    and its pixels in it; `level` is ink from 0 to 1, `free` where inside the grid it is not that of something known."""
    ground = _Ground(level, free, raster)
    found = [_way_out(thing, ground) for thing in things]
    ways = [way for way in found if way is not None]
    return [
        thing
        for thing, own in zip(things, found, strict=True)
        if own is None and not any(_is_part(thing, way, ground) for way in ways)
    ]


@dataclass(frozen=True, eq=False)
class _Ground:
    """A grid in which ways are sought; pictures are made small only where there is something to follow."""

    level: Grey
    free: Mask
    raster: Raster

    @cached_property
    def scale(self) -> float:
        """Small pixels for each pixel of the picture."""
        return FINE / self.raster.cell

    @cached_property
    def known(self) -> Mask:
        """Small: where inside the grid something known stands; what is beside it is looked at as it is."""
        return np.asarray(self._small(self._known.astype(np.float32)) > 0.5)

    @cached_property
    def thin(self) -> Grey:
        """Small: how much ink of thin lines there is."""
        loose = np.where(self._known, 0, self.level).astype(np.float32)
        return self._small(thin_lines(loose, self.raster.cell))

    @cached_property
    def paper(self) -> float:
        """What the filter for thin lines answers to the paper of the grid."""
        bare = self.thin[~self.known & (self.outside < 0)]
        return float(np.median(bare)) if bare.size else 0.0

    @cached_property
    def outside(self) -> Grey:
        """Small: how far outside the grid each pixel lies, in cells; inside less than 0."""
        height, width = self.thin.shape
        y, x = np.mgrid[0:height, 0:width] / self.scale
        columns, rows = ((v - self.raster.origin) / self.raster.cell for v in (x, y))
        beyond = np.maximum(columns - self.raster.columns, rows - self.raster.rows)
        return np.asarray(np.maximum(np.maximum(-columns, -rows), beyond), np.float32)

    @cached_property
    def _known(self) -> Mask:
        rows, columns = self.raster.grid_slices()
        known = np.zeros_like(self.free)
        known[rows, columns] = ~self.free[rows, columns]
        return known

    def _small(self, picture: Grey) -> Grey:
        size = tuple(max(1, round(side * self.scale)) for side in picture.shape[::-1])
        return np.asarray(cv2.resize(picture, size, interpolation=cv2.INTER_AREA), np.float32)

    def shrunk(self, thing: Thing) -> Places:
        """The small pixels (n, 2), y and x, of a thing."""
        places = np.argwhere(thing[1]) + thing[0]
        return np.unique(np.minimum((places * self.scale).astype(int), np.array(self.thin.shape) - 1), axis=0)


def _way_out(thing: Thing, ground: _Ground) -> Places | None:
    """The pale curve on which a thing lies, as far as it runs out of the grid; None where there is none."""
    if np.ptp(np.argwhere(thing[1]), axis=0).max() < LONG * ground.raster.cell or not _is_pale(thing, ground):
        return None
    places = ground.shrunk(thing)
    strength = float(np.percentile(ground.thin[tuple(places.T)], 75))
    if strength <= 0:
        return None
    middle = places[np.argmin(np.hypot(*(places - np.median(places, axis=0)).T))]
    inked = ground.thin >= min(PALER * strength, max(PALEST * strength, PAPER * ground.paper))
    costs = np.where(ground.known, HIDDEN, BARE - (BARE - 1) * np.clip(ground.thin / (ENOUGH * strength), 0, 1))
    ways = MCP_Geometric(costs)
    reached, _ = ways.find_costs([tuple(middle)])
    out = np.argwhere((ground.outside >= BEYOND) & np.isfinite(reached))
    if not len(out):
        return None
    last = out[np.argmin(reached[tuple(out.T)])]
    way, own = (np.array(ways.traceback(tuple(end))) for end in (last, _farthest(places, middle, last)))
    whole = np.concatenate([own[::-1], way[1:]])
    passes = _is_thin(places, whole) and _is_smooth(whole, ground) and _is_inked(way, inked, ground)
    return whole if passes else None


def _is_part(thing: Thing, way: Places, ground: _Ground) -> bool:
    """Whether a thing is a piece of a curve that was followed from another, and no darker mark upon it."""
    places, curve = ground.shrunk(thing), ground.thin[tuple(way.T)]
    if _off(places, way) > SLIM * FINE or not _is_pale(thing, ground):
        return False
    return float(np.percentile(ground.thin[tuple(places.T)], 75)) <= DARKER * float(np.median(curve))


def _is_pale(thing: Thing, ground: _Ground) -> bool:
    """Whether no part of a thing is as dark as print, nor much darker than the rest."""
    (y, x), mask = thing
    shades = ground.level[y : y + mask.shape[0], x : x + mask.shape[1]][mask]
    darkest = min(DARKEST, DARKER * float(np.median(shades)))
    return bool(np.percentile(shades, 95) <= darkest)


def _farthest(places: Places, middle: Places, last: Places) -> Places:
    """The end of a thing on the other side of its middle than where the way out ends."""
    away = (places - middle) @ (middle - last)
    return np.asarray(places[np.argmax(away)])


def _is_thin(places: Places, way: Places) -> bool:
    """Whether all of a thing lies on the curve, and that is slender."""
    length = float(np.ptp(places, axis=0).max())
    return _off(places, way) <= SLIM * FINE and len(places) * SLENDER <= length * length


def _off(places: Places, way: Places) -> float:
    """How far from a way nearly all places (n, 2) lie at most, in small pixels."""
    off = np.hypot(*(places[:, None] - way[None]).transpose(2, 0, 1)).min(axis=1)
    return float(np.percentile(off, 95))


def _is_smooth(way: Places, ground: _Ground) -> bool:
    """Whether a way (n, 2) has no sharp turn that can be seen: under what is known the shortest path finds its own."""
    span = round(SPAN * FINE)
    moves = (way[span:] - way[:-span]).astype(np.float64)
    before, after = moves[:-span], moves[span:]
    if not len(before):
        return True
    hidden = np.convolve(ground.known[tuple(way.T)], np.ones(2 * span + 1), "valid") > 0
    cosine = (before * after).sum(axis=1) / np.maximum(np.hypot(*before.T) * np.hypot(*after.T), 1e-9)
    return bool(((cosine >= np.cos(TURN)) | hidden).all())


def _is_inked(way: Places, inked: Mask, ground: _Ground) -> bool:
    """Whether there is ink all along a way out, inside the grid and beyond it, wherever it can be seen."""
    at = tuple(way.T)
    outside, ink, known = ground.outside[at], inked[at], ground.known[at]
    within, beyond = outside < -FRAME, outside > FRAME
    hidden = known & ~ink & within
    if within.any() and hidden.sum() > UNSEEN * within.sum():
        return False
    looked_at = ((within & ~hidden), beyond)
    return all(float(ink[part].mean()) >= UNBROKEN for part in looked_at if part.any()) and all(
        gap <= GAP * FINE for part in looked_at for gap in _gaps(ink | ~part)
    )


def _gaps(ink: Mask) -> Iterator[int]:
    """How many places in a row have no ink, each time."""
    edges = np.flatnonzero(np.diff(np.concatenate([[True], ink, [True]]).astype(np.int8)))
    return (int(end - start) for start, end in zip(edges[::2], edges[1::2], strict=True))
