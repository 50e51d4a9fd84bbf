"""Numbers that stand in line beside a grid because another grid stands there.

Clues stand on bare paper, or in boxes that hold one number each. A grid next door has an outer line of its own between
its numbers and this grid, and lines between them that go on past the first column, or to where the picture ends: beside
this grid's own, or, where its cells are of another size, in even steps. One that ends beside this grid has them where
its numbers stand.
"""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Flat
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.outside import Ring, nearest_of

GAP = 0.15
"""In cells: between this grid's frame and the outer line of the next one there is at least this much paper."""
PAST = 1.25
"""In cells: boxes around clues are smaller, so that their lines end before."""
INKED = 0.15
"""Ink (0 to 1) of a line, or twice what noise reaches."""
WANDER = 0.08
"""In cells: how far a line of the grid next door may lie askew to this one's."""
BETWEEN = 0.3
"""In cells: how far from this grid's lines those of a grid of another size are still looked for."""
OUTER, CROSS = 0.6, 0.75
"""Share of the side that the outer line runs along; of its length that a line between is inked."""
MOST = 0.5
"""Share of this grid's lines that have one beside them next door."""
EVEN, STEPS = 0.12, 2
"""Of their mean: how much steps between the lines of a grid next door may differ; as few of them tell, for words and
single rules beside a grid stand in no even steps across all of it."""
BROAD, LONG = 0.15, 0.5
"""In cells: broader ink is no line; as a part of the side, if it runs on for longer it is a tint on which the clues
stand, while the blocks of a word grid make no such runs."""
REACH, ALL_ALONG, MORE_STEPS = 4, 0.95, 3
"""A grid that ends beside this one reaches along so many of its cells at least, with an outer line along all of them,
and has so many even steps: less of it is no more than a few boxes."""
IN_VIEW = 0.3
"""In cells: so much of the grid next door must be in the picture to tell."""


def is_next_door(ring: Ring, ink: Grey, flat: Flat, floor: float) -> bool:
    """Whether the numbers of a ring stand in another grid. `ink` is ink from 0 to 1 with all lines beside
    the grid and without shade: a shadow's edge runs along a side too."""
    raster = Raster.of(flat)
    upright = ring.side in ("left", "right")
    seen = _turned(np.ones(ink.shape, np.bool_) if flat.beyond is None else ~flat.beyond, ring.side)
    count = raster.rows if upright else raster.columns
    lines = _without_panels(_turned(ink > max(INKED, 2 * floor), ring.side), count, raster)
    edge = raster.origin + (raster.columns if upright else raster.rows) * raster.cell
    near = edge + raster.px(max(nearest_of(ring, raster), 2 * GAP))
    along = slice(raster.origin, raster.origin + count * raster.cell)
    between, beyond = slice(edge + raster.px(GAP), near), slice(near, near + raster.px(PAST))
    strip, visible = lines[:, beyond], seen[:, beyond]
    if _outer(lines[along, between], raster):
        return _crossed(strip, visible, count, raster) or _ruled(strip[along], visible[along], count, raster)
    cells, part = _of_numbers(ring, raster)
    if cells < REACH or not _outer(lines[part, between], raster, ALL_ALONG):
        return False
    return _ruled(strip[part], visible[part], cells, raster, MORE_STEPS)


def _of_numbers(ring: Ring, raster: Raster) -> tuple[int, slice]:
    """The cells along the side from the first number of a ring to the last: how many, and which pixels."""
    places = [place for place, _ in ring.clues]
    cells = max(places) - min(places) + 1
    start = raster.origin + (min(places) - 1) * raster.cell
    return cells, slice(start, start + cells * raster.cell)


def _without_panels(inked: Mask, count: int, raster: Raster) -> Mask:
    """Ink turned so that the side lies to the right, without areas that are broad and go along it, and without their
    rims."""
    size = raster.px(BROAD)
    areas = cv2.morphologyEx(inked.astype(np.uint8), cv2.MORPH_OPEN, np.ones((size, size), np.uint8))
    run = np.ones((round(LONG * count * raster.cell), size), np.uint8)
    # Opened by an even number of pixels, an area is off its place by one: that pixel is none of it.
    along = (cv2.morphologyEx(areas, cv2.MORPH_OPEN, run) > 0) & (areas > 0)
    if not along.any():
        return inked
    labels = cv2.connectedComponents(areas)[1]
    panels = np.isin(labels, np.unique(labels[along])).astype(np.uint8)
    return np.asarray(inked & (cv2.dilate(panels, np.ones((3, 3), np.uint8)) == 0), np.bool_)


def _turned(picture: Mask, side: str) -> Mask:
    """The picture turned so that the side lies to the right, lines along it from top to bottom."""
    upright = picture if side in ("left", "right") else picture.T
    return np.ascontiguousarray(upright[:, ::-1] if side in ("left", "top") else upright)


def _outer(strip: Mask, raster: Raster, share: float = OUTER) -> bool:
    """Whether a line runs along so much of a strip beside the grid."""
    if strip.shape[1] == 0:
        return False
    wide = 2 * raster.px(WANDER) + 1
    thick = cv2.dilate(strip.astype(np.uint8), np.ones((1, wide), np.uint8))
    return bool(thick.mean(axis=0).max() >= share)


def _crossed(strip: Mask, seen: Mask, count: int, raster: Raster) -> bool:
    """Whether lines run outwards through a strip, next to most of this grid's lines."""
    thick = _thickened(strip, raster)
    found = looked = 0
    reach = raster.px(BETWEEN)
    for line in range(1, count):
        y = raster.origin + line * raster.cell
        rows = slice(y - reach, y + reach + 1)
        visible = seen[rows].sum(axis=1)
        if visible.max() < raster.px(IN_VIEW):
            continue
        looked += 1
        shares = (thick[rows] & seen[rows]).sum(axis=1) / np.maximum(visible, 1)
        found += bool(shares[visible >= raster.px(IN_VIEW)].max() >= CROSS)
    return looked > 0 and found >= MOST * looked


def _ruled(strip: Mask, seen: Mask, count: int, raster: Raster, least: int = STEPS) -> bool:
    """Whether lines run outwards through a strip along some cells of this grid in so many even steps, over more than
    half of them."""
    visible = seen.sum(axis=1)
    shares = (_thickened(strip, raster) & seen).sum(axis=1) / np.maximum(visible, 1)
    steps = np.diff(_lines((shares >= CROSS) & (visible >= raster.px(IN_VIEW)), raster))
    return (
        len(steps) >= least
        and float(steps.sum()) >= MOST * count * raster.cell
        and float(np.abs(steps - steps.mean()).max()) <= EVEN * float(steps.mean())
    )


def _lines(inked: npt.NDArray[np.bool_], raster: Raster) -> npt.NDArray[np.floating]:
    """Where lines are along a strip of which each place is inked or not: the blocks of a word grid lie between two."""
    edges = np.diff(np.concatenate([[False], inked, [False]]).astype(np.int8))
    begins, ends = np.flatnonzero(edges > 0), np.flatnonzero(edges < 0)
    wide = ends - begins > raster.px(BROAD) + 2 * raster.px(WANDER)
    middles, rim = (begins + ends) / 2, raster.px(WANDER)
    return np.sort(np.concatenate([middles[~wide], begins[wide] + rim, ends[wide] - rim]))


def _thickened(strip: Mask, raster: Raster) -> Mask:
    """A strip with its lines as thick as they may lie askew."""
    thick = cv2.dilate(strip.astype(np.uint8), np.ones((2 * raster.px(WANDER) + 1, 1), np.uint8))
    return np.asarray(thick > 0, np.bool_)
