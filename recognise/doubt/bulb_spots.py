"""Spots in the middle of bulbs, as some pages draw what is in their thermometers: part of the drawing, no character.

A spot is round, even and in the very middle of its bulb, and several bulbs of the page have one of the same size. No
figure is as round and as full as that."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import cv2
import numpy as np

from ingest.page import Box
from recognise.evidence import Trace
from recognise.geometry import box_at
from recognise.pixels.frame import Grey, Raster
from schema.cells import Cell

LEAST = 2
"""So many bulbs with a spot tell that the page draws them so."""
INSIDE = 0.85
"""As a part of a bulb's radius, how far spots reach; beyond are its wall and its blur."""
SMALLEST = 0.1
"""In cells: how wide a spot is at least; the dots that print sets for other things in cells are smaller."""
ROUND, FULL, OFF = 0.15, 0.93, 0.08
"""How much longer than wide a spot is at most, as a part of that; the part of its circle that it fills; and, in cells,
how far from the middle of its cell it stands: paper bends."""
STANDS_OUT, EVEN, RIM = 0.16, 0.12, 0.03
"""Ink (0 to 1) by which a spot is darker than its bulb at least, and by which its own ink differs at most, its rim, in
cells, aside: a light figure on it differs by more."""
ALIKE = 0.12
"""How much larger than another a spot is at most, as a part of it."""


@dataclass(frozen=True, slots=True)
class _Spot:
    """A spot, in cells and in ink from 0 to 1."""

    width: float
    tone: float


def without_bulb_spots(
    on_marks: Mapping[Cell, Box], traces: Iterable[Trace], ink: Grey, raster: Raster
) -> dict[Cell, Box]:
    """The cells in which something stands on a mark, without the bulbs of lines of a picture in which that is such a
    spot. `ink` is 0 to 1 without lattice lines."""
    bulbs = {trace.nodes[node]: radius for trace in traces if trace.how == "shape" for node, radius in trace.discs}
    spots = {cell: spot for cell, radius in bulbs.items() if (spot := _spot(cell, radius, ink, raster)) is not None}

    def has_its_like(spot: _Spot) -> bool:
        return sum(_alike(spot, other) for other in spots.values()) >= LEAST

    return {cell: box for cell, box in on_marks.items() if cell not in spots or not has_its_like(spots[cell])}


def _alike(one: _Spot, other: _Spot) -> bool:
    wide = abs(one.width - other.width) <= ALIKE * max(one.width, other.width)
    return wide and abs(one.tone - other.tone) <= STANDS_OUT


def _spot(cell: Cell, radius: float, ink: Grey, raster: Raster) -> _Spot | None:
    """The spot in a bulb; None where there is none, or something else."""
    window = ink[raster.slices(box_at(cell.centre, INSIDE * radius))]
    height, width = window.shape
    y, x = np.ogrid[:height, :width]
    bulb = np.hypot(y - (height - 1) / 2, x - (width - 1) / 2) <= min(height, width) / 2
    middle = float(window[height // 2, width // 2])
    ground = float(np.percentile(window[bulb], 20))
    if middle < ground + STANDS_OUT:
        return None
    dark = (bulb & (window > (middle + ground) / 2)).astype(np.uint8)
    _, labels, stats, centres = cv2.connectedComponentsWithStats(dark, connectivity=4)
    at = int(labels[height // 2, width // 2])
    wide, high, area = (int(stats[at, part]) for part in (cv2.CC_STAT_WIDTH, cv2.CC_STAT_HEIGHT, cv2.CC_STAT_AREA))
    off = math.dist(centres[at], ((width - 1) / 2, (height - 1) / 2))
    alone = int(stats[1:, cv2.CC_STAT_AREA].sum()) == area
    is_round = abs(wide - high) <= ROUND * min(wide, high) and area >= FULL * math.pi / 4 * wide * high
    if not (alone and is_round) or off > OFF * raster.cell or min(wide, high) < SMALLEST * raster.cell:
        return None
    core = cv2.erode((labels == at).astype(np.uint8), np.ones((2 * raster.px(RIM) + 1,) * 2, np.uint8)) > 0
    tones = window[core]
    even = tones.size > 0 and float(np.ptp(np.percentile(tones, (5, 95)))) <= EVEN
    return _Spot(wide / raster.cell, float(np.median(tones))) if even else None
