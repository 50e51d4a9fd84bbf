"""Grids without lines, whose cells are tiles with bare paper between them, drawn again as grids with lines.

The gaps are painted dark where nothing lies across them. A wider gap becomes a thicker line, as between boxes, so that
all that comes after sees an ordinary grid.
"""

from __future__ import annotations

import cv2
import numpy as np

from ingest.page import Image
from recognise.grids.ink import Grey, Mask, ink, luminance, odd

WORK = 1400
"""Long side in pixels at which tiles are looked for."""
WIDEST = (0.17, 0.09, 0.05)
"""The widest tile, as a part of that: what is darker than the paper around it and no wider may be one."""
DARKER = 0.03
"""Contrast from which on a tile is darker than the paper around it."""
FULL, SQUARE = 0.8, 1.5
"""Part of its upright box that a tile fills, leaning or in perspective, and how much longer than wide it is at most."""
LEAST = 10
"""Pixels a side that a tile has at least."""
CORE, PANEL = 0.4, 1.3
"""As a part of a tile, what is slimmer is a mark or a character; what is wider and higher is a panel of the page."""
NEAR, HALF = 1.2, 0.5
"""In tiles, how far paper is looked for around a place that may be of one; as a part of the contrast of tiles, where
they end."""
ALIKE = 1.3
"""The sides of two tiles differ by no more than this factor."""
JOINED, JOINED_FULL = 3.0, 0.6
"""In tiles, how long several that marks join are at most; the part of their box that they fill."""
FEWEST = 14
"""So many tiles alike are a grid, one of 4 x 4 with a few of them joined by marks too."""
GAP = 0.25
"""As a part of a tile's side, the widest gap."""
NOTCH, GRAIN = 0.7, 5
"""The same of what may be missing of an outer tile, where a mark or grain bites into it; pixels over which grain is
outvoted."""
RIM = 0.1
"""The same of the line that is drawn around the outer tiles."""
NETWORK, INSIDE = 1.2, 0.7
"""In tiles: gaps hang together over more than this; bare spots inside of marks do not; they are no larger in area
than this, and wider than gaps."""
WHOLE = 3.5
"""In tiles: the shorter side of a grid is longer."""
LINE = 40
"""Grey of the lines."""


def lined(image: Image) -> Image | None:
    """The picture (height x width x 3, RGB) with the gaps between tiles drawn as lines; None where there are none."""
    grey = luminance(image)
    scale = min(1.0, WORK / max(grey.shape))
    small = np.asarray(cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA), np.uint8)
    for widest in WIDEST:
        gaps = _gaps(small, odd(widest * max(small.shape)))
        if gaps is not None:
            size = grey.shape[1], grey.shape[0]
            mask = cv2.resize(gaps * 255, size, interpolation=cv2.INTER_LINEAR) > 127
            found = image.copy()
            found[mask] = np.minimum(found[mask], LINE)
            return found
    return None


def _gaps(grey: Grey, widest: int) -> Mask | None:
    """The gaps between tiles no wider than so many pixels, and a rim around them; None where there are no tiles."""
    soft = np.asarray(cv2.GaussianBlur(grey, (5, 5), 0), np.uint8)
    cores = _opened(np.asarray(ink(soft, widest) > DARKER, np.uint8), CORE * widest)
    side = _usual_side(cores)
    if side is None:
        return None
    # Near by there is no shadow, and the tiles themselves tell how dark they are.
    contrast = ink(soft, odd(NEAR * side))
    dark = np.asarray(contrast > HALF * float(np.median(contrast[cores > 0])), np.uint8)
    dark = np.asarray(cv2.medianBlur(dark, GRAIN), np.uint8)
    panels = cv2.dilate(_opened(dark, PANEL * side), np.ones((3, 3), np.uint8))
    tiles = _opened(np.asarray(_filled(dark, side) & (1 - panels), np.uint8), CORE * side)
    within = _fullest(_alike(tiles, side), side)
    if within is None:
        return None
    rim = odd(2 * RIM * side)
    around = cv2.dilate(within, np.ones((rim, rim), np.uint8)) - within
    return _network(np.asarray((within & (1 - dark)) | around, np.uint8), side)


def _filled(dark: Mask, side: float) -> Mask:
    """Tiles with the bare insides of circles and other marks on them."""
    bare = np.asarray(1 - dark, np.uint8)
    _, labels, stats, _ = cv2.connectedComponentsWithStats(bare, connectivity=4)
    inside = stats[:, cv2.CC_STAT_AREA] < INSIDE * side**2
    wide = np.zeros(len(stats), np.bool_)
    wide[labels[_opened(bare, GAP * side) > 0]] = True
    return np.asarray(dark | (inside & wide)[labels], np.uint8)


def _alike(tiles: Mask, side: float) -> Mask:
    """The pieces as large as a tile, or as a few that marks join."""
    _, labels, stats, _ = cv2.connectedComponentsWithStats(tiles, connectivity=4)
    width, height, area = (stats[:, n] for n in (cv2.CC_STAT_WIDTH, cv2.CC_STAT_HEIGHT, cv2.CC_STAT_AREA))
    kept = (np.minimum(width, height) >= side / ALIKE) & (np.maximum(width, height) <= JOINED * side)
    kept &= area >= JOINED_FULL * width * height
    kept[0] = False
    return np.asarray(kept[labels], np.uint8)


def _fullest(tiles: Mask, side: float) -> Mask | None:
    """The area of the grid that most of the tiles make, whole; None where none is large enough."""
    whole = cv2.morphologyEx(tiles, cv2.MORPH_CLOSE, np.ones((odd(GAP * side),) * 2, np.uint8))
    _, parts, sizes, _ = cv2.connectedComponentsWithStats(whole, connectivity=8)
    inked = np.bincount(parts[tiles > 0], minlength=len(sizes))
    best = int(inked.argmax())
    if sizes[best, [cv2.CC_STAT_WIDTH, cv2.CC_STAT_HEIGHT]].min() < WHOLE * side or not inked[best]:
        return None
    room = odd(side)
    within = np.pad(np.asarray(parts == best, np.uint8), room)
    within = cv2.morphologyEx(within, cv2.MORPH_CLOSE, np.ones((odd(NOTCH * side),) * 2, np.uint8))
    return np.ascontiguousarray(within[room:-room, room:-room])


def _opened(mask: Mask, side: float) -> Mask:
    """What is at least so many pixels wide and high."""
    return np.asarray(cv2.morphologyEx(mask, cv2.MORPH_OPEN, np.ones((odd(side),) * 2, np.uint8)), np.uint8)


def _usual_side(tiles: Mask) -> float | None:
    """The side of the largest group of pieces alike that look like tiles; None where they are too few."""
    _, _, stats, _ = cv2.connectedComponentsWithStats(tiles, connectivity=4)
    width, height, area = (stats[1:, n] for n in (cv2.CC_STAT_WIDTH, cv2.CC_STAT_HEIGHT, cv2.CC_STAT_AREA))
    square = np.maximum(width, height) <= SQUARE * np.minimum(width, height)
    sides = np.sqrt(width * height)[square & (area >= FULL * width * height) & (np.minimum(width, height) >= LEAST)]
    groups = [sides[(sides >= side / ALIKE) & (sides <= side * ALIKE)] for side in sides]
    most = max(groups, key=len, default=np.empty(0))
    return float(np.median(most)) if len(most) >= FEWEST else None


def _network(gaps: Mask, side: float) -> Mask:
    """The gaps that hang together over several tiles."""
    _, labels, stats, _ = cv2.connectedComponentsWithStats(gaps, connectivity=8)
    wide = stats[:, [cv2.CC_STAT_WIDTH, cv2.CC_STAT_HEIGHT]].max(axis=1) >= NETWORK * side
    wide[0] = False
    return np.asarray(wide[labels], np.uint8)
