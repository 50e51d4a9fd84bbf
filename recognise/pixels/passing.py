"""Whether ink runs on across the frame of the grid: folds and rules of print that shows through do, marks never."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from recognise.pixels.frame import Grey, Mask, Raster

LONG, SLIM = 0.5, 0.12
"""In cells: how long a thing is at least, and how far its ink lies at most from a straight line, to be followed."""
DARKEST = 0.45
"""Ink darker than this is a pen's or a press's, and never passed over: folds and what shows through are paler."""
ASIDE, BESIDE = 0.1, 0.24
"""In cells: how far from the straight line its ink may have strayed, and where the paper beside it is looked at."""
FRAME = 0.25
"""In cells: how far from the outline of the grid its own ink reaches, which is not looked at."""
BEYOND = 0.8
"""In cells: how far outside the grid ink is followed; no mark reaches out so far, and clues are no lines."""
PALER = 0.4
"""It may get paler than it is in the thing, to this part."""
UNBROKEN = 0.8
"""Share of the way on which there is ink."""
DARKER = 2.5
"""How much darker than the rest a part of such a stroke may be: a pale mark that happens to lie on it is darker."""
STEP = 0.04
"""In cells, along the way."""

Floats = npt.NDArray[np.float64]
Thing = tuple[tuple[int, int], Mask]


@dataclass(frozen=True, eq=False)
class _Stroke:
    """A straight stroke: a place of it in pixels, its direction, and how much more ink it has than paper beside it."""

    middle: Floats
    way: Floats
    strength: float

    def along(self, points: Floats) -> Floats:
        """How far along the stroke points (n, 2) lie."""
        return np.asarray((points - self.middle) @ self.way)

    def holds(self, points: Floats, raster: Raster) -> bool:
        """Whether ink (n, 2) lies on the stroke."""
        off = np.abs((points - self.middle) @ _aside(self.way))
        return float(np.percentile(off, 95)) <= SLIM * raster.cell


def without_passing(things: Sequence[Thing], level: Grey, free: Mask, raster: Raster) -> list[Thing]:
    """The things that are no part of a pale straight stroke that runs on across the grid, to a side of it and out over
    the frame. Each is where (y, x) its window begins, and its pixels in it; `level` is ink from 0 to 1, `free` where
    inside the grid it is not that of something known."""
    points = [np.argwhere(thing)[:, ::-1].astype(np.float64) + place[::-1] for place, thing in things]
    found = (_stroke_of(own, level, raster) for own in points)
    passing = [stroke for stroke in found if stroke is not None and _passes(stroke, level, free, raster)]

    def is_passing(own: Floats) -> bool:
        return any(
            stroke.holds(own, raster) and _strength(own, stroke, level, raster) <= DARKER * stroke.strength
            for stroke in passing
        )

    return [thing for thing, own in zip(things, points, strict=True) if not is_passing(own)]


def _stroke_of(points: Floats, level: Grey, raster: Raster) -> _Stroke | None:
    """The stroke that some ink (n, 2) is, where it is long, straight and pale enough to be followed."""
    if np.ptp(points, axis=0).max() < LONG / 2 * raster.cell:
        return None
    fitted = cv2.fitLine(points.astype(np.float32), cv2.DIST_L2, 0, 0.01, 0.01).astype(np.float64).ravel()
    line = _Stroke(fitted[2:], fitted[:2], 0.0)
    along = line.along(points)
    if np.ptp(along) < LONG * raster.cell or not line.holds(points, raster):
        return None
    strength = _strength(points, line, level, raster)
    middle = line.middle + (along.min() + along.max()) / 2 * line.way
    return _Stroke(middle, line.way, strength) if 0 < strength <= DARKEST else None


def _strength(points: Floats, stroke: _Stroke, level: Grey, raster: Raster) -> float:
    """How much more ink a part of a stroke has than the paper beside it."""
    along = stroke.along(points)
    steps = np.linspace(along.min(), along.max(), max(3, int(np.ptp(along) / (STEP * raster.cell))))
    return float(np.median(_ridge(_on(stroke.middle, stroke.way, steps), stroke.way, level, raster)))


def _passes(stroke: _Stroke, level: Grey, free: Mask, raster: Raster) -> bool:
    """Whether a stroke runs out of the grid at one of its ends."""
    return any(_goes_out(stroke, turn * stroke.way, level, free, raster) for turn in (1.0, -1.0))


def _goes_out(stroke: _Stroke, way: Floats, level: Grey, free: Mask, raster: Raster) -> bool:
    """Whether there is ink all the way from a stroke to the frame, and beyond it, in one direction."""
    reach = np.hypot(raster.columns, raster.rows) * raster.cell
    places = _on(stroke.middle, way, np.arange(0, reach, STEP * raster.cell))
    cells = (places - raster.origin) / raster.cell
    outside = np.maximum(-cells.min(axis=1), (cells - (raster.columns, raster.rows)).max(axis=1))
    places, outside = places[outside <= BEYOND], outside[outside <= BEYOND]
    height, width = level.shape
    on_picture = bool(((places >= 0) & (places < (width, height))).all())
    # A stroke may itself lie beyond, among the clues.
    if not on_picture or not outside.size or outside[-1] < BEYOND - 2 * STEP:
        return False
    columns, rows = places.astype(int).T
    inked = _ridge(places, way, level, raster) >= PALER * stroke.strength
    within, beyond = (outside < -FRAME) & free[rows, columns], outside > FRAME
    return all(inked[part].mean() >= UNBROKEN for part in (within, beyond) if part.any())


def _on(start: Floats, way: Floats, steps: Floats) -> Floats:
    return start + steps[:, None] * way


def _aside(way: Floats) -> Floats:
    return np.array([-way[1], way[0]])


def _ridge(places: Floats, way: Floats, level: Grey, raster: Raster) -> Floats:
    """How much more ink there is on a stroke than beside it on either side, at each place (n, 2) of it."""
    offsets = np.array([-BESIDE, *np.linspace(-ASIDE, ASIDE, 7), BESIDE])[None, :, None] * raster.cell * _aside(way)
    spots = (places[:, None, :] + offsets).astype(np.float32)
    ink = cv2.remap(level, spots[..., 0], spots[..., 1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(ink[:, 1:-1].max(axis=1) - np.maximum(ink[:, 0], ink[:, -1]), np.float64)
