"""Connected pieces of dark ink, small enough to be characters or marks, and their pictures for reading."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box, Colour
from recognise.components import components
from recognise.pixels.dashes import dashes
from recognise.pixels.frame import Colours, Grey, Mask, Raster
from recognise.pixels.framing import hollow_round_others
from recognise.pixels.ink import Ink, soften
from recognise.quantiles import median, percentile

LARGEST = 0.97
"""In cells: no character and no small mark is larger; larger pieces are lines, tubes, cages."""
SMALLEST = 0.05
"""In cells: smaller pieces are dust, or dots of halftone."""
DOT = 0.03
"""In cells: the smallest dot of a dotted line."""
CORE_PIXELS = 3
"""How many such pixels."""
TALLEST = 0.9
"""In cells: the height of the tallest character."""
IN_MIDDLE = 0.2
"""In cells: how far off the middle of its cell the middle of a ring is, and of what stands in it."""
TOGETHER = 0.07
"""In cells: pieces one above the other with no larger gap are of one character: broken print, the bar of a 5."""
PART = 0.75
"""Of its height: a piece about the middle of a cell, into whose box one no taller than that reaches from the side, is
broken print with it, the bowl of a 6 or a 9; figures side by side, an old-style 1 behind a 3, have paper between."""
ASTRIDE = 0.04
"""In cells: what reaches so far to both sides of a lattice line stands on it."""
WIDE_STROKE = 0.045
"""Half the width, in cells, of an even area that is no stroke: its tone is that of a tube or a disc."""
LONG_STROKE = 0.7
"""In cells: the even part of a character's stroke is never longer; the shortest link of a tube is."""
DEEP_STROKE = 0.13
"""Half the width, in cells, that no blurred stroke has; small discs have it."""
EVEN = 0.06
"""Ink that varies less than this in its neighbourhood is of one tone."""
TONE = 0.75
"""A tone below this part of the darkest ink can be told from characters by tone alone."""
TONE_AREA = 0.25
"""In square cells: how much of a tone there must be before it is a layer of its own."""
STROKE_AREA = 0.025
"""In square cells: what the strokes of a single digit cover."""
BLURRED = 0.1
"""Ink of strokes out of focus."""
FAINT = 0.25
"""Ink this part of the way from the even tone to the darkest is of a stroke: hairlines print no darker."""
CORE = 0.5
"""A piece has pixels this far on the way, or it is no stroke but the blurred edge of something."""
PALE_TIMES = 2.0
"""So many times what noise reaches is ink, however pale."""
PALE_CUT = 0.4
"""Part of its darkest ink at which such a piece is cut."""
STEEP = ((0.4, 0.8), (0.5, 0.9))
"""Ink that becomes paper and full ink when a blurred piece is looked at again."""
MARGIN = 3
"""Pixels around a piece that its picture keeps: antialiasing and faint ends of strokes."""


@dataclass(frozen=True, slots=True)
class Tones:
    """Two levels of ink: the darkest (characters) and the darkest even one below it (tubes, tinted discs), 0 if there
    is none. What is darker than `level(share)` belongs to characters and thin lines."""

    dark: float
    even: float

    def level(self, share: float) -> float:
        """The ink that lies a share of the way from the even tone to the darkest."""
        return self.even + share * (self.dark - self.even)


@dataclass(frozen=True, slots=True)
class Blob:
    """A piece of dark ink: its pixel rectangle, its number of pixels and its labels in the labelled picture."""

    x: int
    y: int
    width: int
    height: int
    area: int
    labels: tuple[int, ...]

    def box(self, raster: Raster) -> Box:
        """The rectangle in cells."""
        return raster.box(self.x, self.y, self.width, self.height)

    def with_(self, other: Blob) -> Blob:
        """Both pieces as one."""
        x, y = min(self.x, other.x), min(self.y, other.y)
        right = max(self.x + self.width, other.x + other.width)
        bottom = max(self.y + self.height, other.y + other.height)
        labels = (*self.labels, *other.labels)
        return Blob(x, y, right - x, bottom - y, self.area + other.area, labels)

    def among(self, labels: npt.NDArray[np.int32]) -> Mask:
        """Which pixels of a part of the picture are its own."""
        return np.asarray(np.logical_or.reduce([labels == label for label in self.labels]), np.bool_)


@dataclass(frozen=True, slots=True)
class Pieces:
    """All pieces of dark ink of a picture; `labels` numbers their pixels."""

    labels: npt.NDArray[np.int32]
    blobs: tuple[Blob, ...]
    tones: Tones

    def mask(self, blobs: Sequence[Blob], grow: int = 0) -> Mask:
        """The pixels of some pieces, grown by `grow` pixels."""
        chosen = np.zeros(int(self.labels.max()) + 1, dtype=np.uint8)
        for blob in blobs:
            chosen[list(blob.labels)] = 1
        mask = chosen[self.labels]
        if grow:
            mask = cv2.dilate(mask, np.ones((2 * grow + 1, 2 * grow + 1), np.uint8))
        return np.asarray(mask, np.bool_)


def measure_tones(ink: Ink, raster: Raster) -> Tones:
    """The tones of a grid's ink."""
    part = np.ascontiguousarray(ink.drawn[raster.grid_slices()])
    smooth = soften(part, 0.02 * raster.cell)
    disc = _disc(raster.px(WIDE_STROKE))
    low, high = cv2.erode(smooth, disc), cv2.dilate(smooth, disc)
    even = (low > ink.floor) & (high - low < EVEN + 0.1 * low)
    around = cv2.dilate(even.astype(np.uint8), _disc(2 * raster.px(WIDE_STROKE))) > 0
    strokes = part[(part > max(0.2, 2 * ink.floor)) & ~around]
    if strokes.size <= STROKE_AREA * raster.cell**2:  # blur makes strokes even: only what is wider is none
        around = cv2.dilate(_wider_than_strokes(even, raster).astype(np.uint8), _disc(2 * raster.px(WIDE_STROKE))) > 0
        strokes = part[(part > max(BLURRED, 2 * ink.floor)) & ~around]
    dark = float(np.percentile(strokes, 95)) if strokes.size > STROKE_AREA * raster.cell**2 else 1.0
    return Tones(dark, _tone(low[_wider_than_strokes(even & (low < TONE * dark), raster)], raster))


def _tone(paler: Grey, raster: Raster) -> float:
    """The tone of even ink, 0 where there is too little of it: one that TONE_AREA of it reaches at least, for shade
    beside the grid and the core of one blurred figure are no tone together."""
    least = round(TONE_AREA * raster.cell**2)
    if paler.size <= least:
        return 0.0
    return min(float(np.percentile(paler, 95)), float(np.partition(paler, -least)[-least]))


def _wider_than_strokes(even: Mask, raster: Raster) -> Mask:
    """Even areas that are too long or too wide for the blurred stroke of a character."""
    restored = cv2.dilate(even.astype(np.uint8), _disc(raster.px(WIDE_STROKE)))
    labels, stats = components(np.asarray(restored, np.uint8))
    depth = cv2.distanceTransform(restored, cv2.DIST_L2, 3)
    deepest = np.zeros(len(stats), dtype=np.float32)
    np.maximum.at(deepest, labels.ravel(), depth.ravel())
    large = (stats[:, 2:4].max(axis=1) > LONG_STROKE * raster.cell) | (deepest > DEEP_STROKE * raster.cell)
    large[0] = False
    return np.asarray(large[labels] & even, np.bool_)


def _disc(pixels: int) -> cv2.typing.MatLike:
    return cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * pixels + 1, 2 * pixels + 1))


def find_pieces(drawn: Grey, raster: Raster, tones: Tones) -> Pieces:
    """The pieces of dark ink that are neither dust nor larger than a character, and no dashes of a line."""
    return _pieces(drawn > tones.level(FAINT), drawn, raster, tones)


def _pieces(mask: Mask, drawn: Grey, raster: Raster, tones: Tones) -> Pieces:
    labels, stats = components(mask)
    strong = np.bincount(labels[drawn > tones.level(CORE)], minlength=len(stats)) >= CORE_PIXELS
    least, most = SMALLEST * raster.cell, LARGEST * raster.cell
    longer = stats[:, 2:4].max(axis=1)
    shown = (longer >= DOT * raster.cell) & (longer <= most)
    shown[0] = False
    shown[dashes(labels, stats[:, :4].astype(np.int64), np.nonzero(shown)[0], raster.cell)] = False
    chosen = np.nonzero(shown & (longer >= least) & (stats[:, 4] >= least**2 / 2) & strong)[0]
    framed = [int(i) for i in chosen if _is_beside(stats[i], raster) or _is_in_a_cell(stats[i], raster)]
    shown[list(hollow_round_others(labels, stats, framed, raster))] = False
    chosen = chosen[shown[chosen]]
    blobs = []
    for index in chosen:
        x, y, width, height, area = (int(v) for v in stats[index])
        blobs.append(Blob(x, y, width, height, area, (int(index),)))
    return Pieces(labels, tuple(whole_pieces(blobs, raster)), tones)


def beside_grid(ink: Ink, raster: Raster) -> Pieces:
    """The pieces of ink beside the grid, each cut at a part of its own darkest ink: clues are often paler than givens.
    There nothing but characters and arrows stands on bare paper; in the grid pale pieces would be rests of tints."""
    bare = ink.drawn.copy()
    bare[raster.grid_slices()] = 0
    return pieces_on_bare(bare, PALE_TIMES * ink.floor, raster)


def pieces_on_bare(bare: Grey, floor: float, raster: Raster) -> Pieces:
    """The same of ink that is `bare` of the grid and all that is in it; no more than `floor` is paper."""
    labels, stats = components(bare > floor)
    peaks = np.ones(len(stats), np.float32)
    peaks[1:] = 0
    np.maximum.at(peaks, labels.ravel(), bare.ravel())
    return _pieces(bare > np.maximum(floor, PALE_CUT * peaks)[labels], bare, raster, Tones(floor / CORE, 0.0))


def _is_beside(stat: npt.NDArray[np.integer[Any]], raster: Raster) -> bool:
    """Whether a piece (x, y, width, height in pixels) lies beside the grid as a whole."""
    rows, columns = raster.grid_slices()
    x, y, width, height = (int(v) for v in stat[:4])
    return bool(x + width <= columns.start or x >= columns.stop or y + height <= rows.start or y >= rows.stop)


def whole_pieces(blobs: list[Blob], raster: Raster) -> list[Blob]:
    """Pieces that stand one over the other put together, as long as they stay within a character's size."""
    whole: dict[int, Blob] = dict(enumerate(blobs))
    now = list(range(len(blobs)))
    for upper, lower in _stacked_pairs(blobs, raster):
        one, other = now[upper], now[lower]
        if one == other:
            continue
        joined = whole[one].with_(whole[other])
        if joined.height <= TALLEST * raster.cell and joined.width <= LARGEST * raster.cell:
            whole[one] = joined
            del whole[other]
            now = [one if place == other else place for place in now]
    return list(whole.values())


def _stacked_pairs(blobs: Sequence[Blob], raster: Raster) -> list[tuple[int, int]]:
    """Indices of pieces that stand close over one another, or one inside the other's rectangle."""
    if not blobs:
        return []
    left, top, width, height = np.array([(b.x, b.y, b.width, b.height) for b in blobs]).T
    right, bottom = left + width, top + height
    shared = np.minimum(right[:, None], right) - np.maximum(left[:, None], left)
    narrower = np.minimum(width[:, None], width)
    gap = top[None, :] - bottom[:, None]
    later = top[:, None] <= top[None, :]
    near = (gap <= TOGETHER * raster.cell) & (gap > -TOGETHER * raster.cell) & (shared >= 0.5 * narrower)
    astride = _astride(top, bottom, left + width / 2, raster)
    # A sign on a lattice line is no part of the character that stands close below or above it.
    near &= astride[:, None] == astride[None, :]
    inside = (bottom[None, :] <= bottom[:, None]) & (shared >= 0.9 * width[None, :])
    beside = (bottom[None, :] <= bottom[:, None]) & (shared > 0) & (height[None, :] <= PART * height[:, None])
    beside &= (middled := _about_the_middle(left, top, width, height, raster))[:, None] & middled[None, :]
    pairs = later & (near | inside | beside) & ~np.eye(len(blobs), dtype=bool)
    return [(int(a), int(b)) for a, b in np.argwhere(pairs)]


def _astride(
    top: npt.NDArray[np.int64], bottom: npt.NDArray[np.int64], middle: npt.NDArray[np.float64], raster: Raster
) -> Mask:
    """Whether each piece reaches well to both sides of a lattice line inside the grid that runs across."""
    line = np.ceil((top - raster.origin) / raster.cell)
    at = raster.origin + line * raster.cell
    reach = raster.px(ASTRIDE)
    inner = (line > 0) & (line < raster.rows) & (middle > raster.origin) & (middle < raster.at(raster.columns))
    return np.asarray(inner & (top <= at - reach) & (bottom >= at + reach), np.bool_)


def _is_in_a_cell(stat: npt.NDArray[np.integer[Any]], raster: Raster) -> bool:
    """Whether a piece (x, y, width, height in pixels) stands about the middle of a cell, as rings do and what is in
    them."""
    x, y, width, height = (stat[k : k + 1].astype(np.int64) for k in range(4))
    return bool(_about_the_middle(x, y, width, height, raster)[0])


def _about_the_middle(
    left: npt.NDArray[np.int64],
    top: npt.NDArray[np.int64],
    width: npt.NDArray[np.int64],
    height: npt.NDArray[np.int64],
    raster: Raster,
) -> Mask:
    """The same for each of many pieces."""
    off = [np.abs(((v - raster.origin) / raster.cell) % 1 - 0.5) for v in (left + width / 2, top + height / 2)]
    return np.asarray(np.maximum(*off) <= IN_MIDDLE, np.bool_)


def picture(blob: Blob, pieces: Pieces, drawn: Grey) -> npt.NDArray[np.uint8]:
    """A piece by itself, dark on white, without the tone under it; with MARGIN pixels of white around it."""
    pad = 2 * MARGIN
    rows = slice(max(0, blob.y - pad), blob.y + blob.height + pad)
    columns = slice(max(0, blob.x - pad), blob.x + blob.width + pad)
    own = blob.among(pieces.labels[rows, columns])
    near = cv2.dilate(own.astype(np.uint8), np.ones((2 * MARGIN + 1, 2 * MARGIN + 1), np.uint8)) > 0
    ink = drawn[rows, columns]
    around = ink[near & (cv2.dilate(own.astype(np.uint8), np.ones((5, 5), np.uint8)) == 0)]
    under = pieces.tones.even if around.size and median(around) > pieces.tones.even / 2 else 0.0
    top = max(float(percentile(ink[own], 80)), under + 0.05)
    shown = np.clip((ink - under) / (top - under), 0, 1) * near
    return np.asarray(np.rint(255 * (1 - shown)), np.uint8)


def steeper(alone: npt.NDArray[np.uint8], low: float, high: float) -> npt.NDArray[np.uint8]:
    """A piece's picture with ink below `low` (0 to 1) as paper and above `high` as full ink: strokes that blur has run
    together come apart, and counters open."""
    ink = (255.0 - alone) / 255.0
    return np.asarray(np.rint(255 * (1 - np.clip((ink - low) / (high - low), 0, 1))), np.uint8)


def mask_of(blob: Blob, pieces: Pieces) -> Mask:
    """The ink of a piece, in its box."""
    return blob.among(pieces.labels[blob.y : blob.y + blob.height, blob.x : blob.x + blob.width])


def colour_of(blob: Blob, pieces: Pieces, relative: Colours) -> Colour:
    """The colour of a piece's ink, on white paper: the median over its darker half."""
    rows, columns = slice(blob.y, blob.y + blob.height), slice(blob.x, blob.x + blob.width)
    own = relative[rows, columns][mask_of(blob, pieces)]
    darker = own[own.sum(axis=-1) <= np.median(own.sum(axis=-1))]
    red, green, blue = (round(255 * float(v)) for v in np.median(darker, axis=0))
    return red, green, blue


def without(drawn: Grey, mask: Mask) -> Grey:
    """The ink with the pixels of `mask` replaced by the nearest ones outside it: what stands behind characters."""
    if not mask.any():
        return drawn
    _, nearest = cv2.distanceTransformWithLabels(mask.astype(np.uint8), cv2.DIST_L2, 5, labelType=cv2.DIST_LABEL_PIXEL)
    values = np.zeros(int(nearest.max()) + 1, dtype=np.float32)
    values[nearest[~mask]] = drawn[~mask]
    return np.where(mask, values[nearest], drawn)
