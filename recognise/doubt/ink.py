"""Explain all the ink: what stands on the flattened grid that the puzzle as understood does not account for.

It looks at the ink once more, whatever the readers made of it: the lattice and everything that an item claims are taken
away, and whatever is left is a place that a person must look at. Along a side on which outside clues stand, the ring in
which they stand is looked at too.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.draft import Polygon
from recognise.evidence import Flat
from recognise.pixels.frame import Raster
from recognise.pixels.texture import without_shade

Mask = npt.NDArray[np.uint8]
Free = npt.NDArray[np.bool_]
Grey = npt.NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Answer:
    """How strong the answer of a filter (ink, 0 to 1) must be for a mark, by what paper reaches: never less than
    `least`; from `most` on it is a mark on any paper. `area` is what it covers at least, in square cells."""

    least: float
    most: float
    area: float


SPOT = Answer(least=0.13, most=0.25, area=0.004)
"""Small marks are set in black or in a full colour. Specks of dust and JPEG crumbs cover less, the smallest mark that
print uses (a dot a tenth of a cell wide) covers more."""
SPOT_BLUR = 0.025
"""In cells: grain fades, a dot and the thinnest stroke do not."""
LINE = Answer(least=0.06, most=0.12, area=0.004)
"""Thin lines may be pale: their length tells them from grain."""
LINE_LENGTH, LINE_WIDTH = 0.6, 0.06
"""In cells: strokes of text that shows through are shorter than that; lines from cell to cell are longer."""
LINE_SIDES = 0.08, 0.14
"""In cells, from the middle of a line: the ground on both sides, which is paler. The borders of shadows, tints and
folds have it on one side only."""
DIRECTIONS = 12
"""In which lines are looked for: between two of them a line of that length and width still lies half within."""
BROAD = Answer(least=0.08, most=0.14, area=0.06)
"""Pale ink is used for broad marks only, tubes and tints; the shortest covers three times this."""
BROAD_BLUR, BROAD_WIDTH = 0.04, 0.16
"""In cells: pale ink narrower than this is the blurred side of something else, or shows through."""
TIMES = 2.5
"""A mark stands out by this much over what all but the largest answers of blank paper reach."""
PAPER = 0.98
"""The quantile of the answers in a cell that is taken for what paper reaches: a dot in the cell covers less than the
rest, and of the cells around it at least half have nothing larger."""
AROUND = 5
"""Cells across the neighbourhood whose median says what paper reaches there: light and print of the other side differ
from place to place."""
LEAST_EXTENT = 0.08
"""In cells: what is left of an antialiased edge is smaller than this in both directions."""
JOIN = 0.09
"""In cells: specks nearer than twice this belong together; the gaps of dashed and dotted lines are narrower."""
CLAIM = 0.06
"""In cells: how far ink may stand outside the polygon that claims it (blur and rounding)."""
BORDER = 0.05
"""In cells: ink nearer than this to a lattice line is a rest of the line, unless it goes on into the cell."""


def unexplained_ink(drawn: Grey, floor: float, flat: Flat, claimed: Sequence[Polygon]) -> list[Box]:
    """Boxes, in cells, of ink that no polygon in `claimed` explains. `drawn` is ink from 0 to 1 in the pixels of
    `flat` without the lattice's lines, `floor` what paper and noise reach at least.

    Three filters look for spots, for thin lines and for broad pale marks; what counts is how far their answer rises
    above what the same filter answers to the paper of this page around that place."""
    free = _free(flat, claimed)
    ink = np.where(free, without_shade(drawn, Raster.of(flat)), 0).astype(np.float32)
    soft = cv2.GaussianBlur(ink, (0, 0), SPOT_BLUR * flat.cell)
    found: list[Box] = []
    for answer, kind in ((soft, SPOT), (_lines(ink, flat.cell), LINE), (_broad(ink, flat.cell), BROAD)):
        enough = np.clip(TIMES * _paper(answer, free, flat), max(kind.least, floor), max(kind.most, floor))
        marks = np.where((answer > enough) & free, 255, 0).astype(np.uint8)
        found += _spots(marks, kind.area, flat)
    return list(_merged(found))


def _lines(ink: Grey, cell: int) -> Grey:
    """How far the ink along a straight piece at each pixel exceeds that on both its sides, in the best direction.
    Measured at half the size: a line two pixels wide there is one pixel wide."""
    half = np.asarray(cv2.resize(ink, None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA), np.float32)
    best = np.zeros_like(half)
    for turn in range(DIRECTIONS):
        middle, left, right = (cv2.filter2D(half, -1, k) for k in _kernels(cell // 2, np.pi * turn / DIRECTIONS))
        np.maximum(best, middle - np.maximum(left, right), out=best)
    return np.asarray(cv2.resize(best, (ink.shape[1], ink.shape[0]), interpolation=cv2.INTER_LINEAR), np.float32)


@lru_cache(maxsize=64)
def _kernels(cell: int, angle: float) -> tuple[Grey, Grey, Grey]:
    """Means over the middle of a line and over the ground left and right of it."""
    reach = int(LINE_LENGTH / 2 * cell) + 2
    y, x = np.mgrid[-reach : reach + 1, -reach : reach + 1]
    along, across = x * np.cos(angle) + y * np.sin(angle), y * np.cos(angle) - x * np.sin(angle)
    within = np.abs(along) <= LINE_LENGTH / 2 * cell
    near, far = (side * cell for side in LINE_SIDES)
    half = LINE_WIDTH / 2 * cell
    parts = (np.abs(across) <= half, (across >= -far) & (across <= -near), (across >= near) & (across <= far))
    middle, left, right = ((within & part) / np.count_nonzero(within & part) for part in parts)
    return middle.astype(np.float32), left.astype(np.float32), right.astype(np.float32)


def _broad(ink: Grey, cell: int) -> Grey:
    """The ink that is there all over a disc."""
    soft = cv2.GaussianBlur(ink, (0, 0), BROAD_BLUR * cell)
    size = max(3, round(BROAD_WIDTH * cell)) | 1
    disc = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (size, size))
    return np.asarray(cv2.morphologyEx(soft, cv2.MORPH_OPEN, disc), np.float32)


def _paper(answer: Grey, free: Free, flat: Flat) -> Grey:
    """What a filter answers to paper, at each pixel: a high quantile in each cell, the median of it around."""
    start, cell = round(flat.margin * flat.cell), flat.cell
    inside = slice(start, start + flat.rows * cell), slice(start, start + flat.columns * cell)
    blocks = np.where(free, answer, np.nan)[inside].reshape(flat.rows, cell, flat.columns, cell)[:, ::2, :, ::2]
    reached = _quantiles(blocks.swapaxes(1, 2).reshape(flat.rows, flat.columns, -1))
    even = cv2.medianBlur(reached, AROUND)
    whole = cv2.resize(even, (flat.columns * cell, flat.rows * cell), interpolation=cv2.INTER_LINEAR)
    bottom, right = (answer.shape[n] - start - whole.shape[n] for n in (0, 1))
    return np.asarray(cv2.copyMakeBorder(whole, start, bottom, start, right, cv2.BORDER_REPLICATE), np.float32)


def _quantiles(cells: npt.NDArray[np.floating]) -> Grey:
    """The quantile of each cell's free pixels (the last axis, nan where something is claimed); a cell that is claimed
    as a whole has that of the others."""
    ordered = np.sort(cells, axis=-1)
    count = np.isfinite(ordered).sum(axis=-1)
    place = np.maximum(np.ceil(PAPER * count).astype(int) - 1, 0)
    reached = np.take_along_axis(ordered, place[..., None], axis=-1)[..., 0]
    usual = float(np.median(reached[count > 0])) if count.any() else 0.0
    return np.where(count > 0, reached, usual).astype(np.float32)


def _free(flat: Flat, claimed: Sequence[Polygon]) -> npt.NDArray[np.bool_]:
    """Where ink would be unexplained: in the grid, and in the rings in which clues stand, but for what is claimed."""
    free = np.zeros(flat.image.shape[:2], np.uint8)
    _fill(free, flat, (BORDER, BORDER, flat.columns - BORDER, flat.rows - BORDER), 1)
    for ring in _rings(flat, claimed):
        _fill(free, flat, ring, 1)
    reach = max(1, round(CLAIM * flat.cell))
    taken = np.zeros_like(free)
    for polygon in claimed:
        points = (np.asarray(polygon, dtype=np.float64) + flat.margin) * flat.cell
        cv2.fillPoly(taken, [np.rint(points).astype(np.int32)], 1)
    taken = np.asarray(cv2.dilate(taken, np.ones((2 * reach + 1, 2 * reach + 1), np.uint8)), np.uint8)
    return np.asarray((free > 0) & (taken == 0))


def _rings(flat: Flat, claimed: Sequence[Polygon]) -> Iterator[Box]:
    """The strip along each side in which claimed clues stand, as deep as they reach."""
    boxes = [_bounds(polygon) for polygon in claimed]
    above = [b for b in boxes if b[3] <= 0]
    below = [b for b in boxes if b[1] >= flat.rows]
    left = [b for b in boxes if b[2] <= 0]
    right = [b for b in boxes if b[0] >= flat.columns]
    if above:
        yield 0, min(b[1] for b in above), flat.columns, max(b[3] for b in above)
    if below:
        yield 0, min(b[1] for b in below), flat.columns, max(b[3] for b in below)
    if left:
        yield min(b[0] for b in left), 0, max(b[2] for b in left), flat.rows
    if right:
        yield min(b[0] for b in right), 0, max(b[2] for b in right), flat.rows


def _spots(ink: Mask, least_area: float, flat: Flat) -> Iterator[Box]:
    """Boxes of ink that belongs together and is too large to be dust: a dashed line is many specks, and must not hide
    by being cut up."""
    reach = max(1, round(JOIN * flat.cell))
    joined = cv2.dilate(ink, np.ones((2 * reach + 1, 2 * reach + 1), np.uint8))
    count, labels, stats, _ = cv2.connectedComponentsWithStats(joined, connectivity=8)
    areas = np.bincount(labels[ink > 0], minlength=count)
    for index in range(1, count):
        x, y, width, height, _ = (int(v) for v in stats[index])
        extent = max(width, height) - 2 * reach
        if areas[index] >= least_area * flat.cell**2 and extent >= LEAST_EXTENT * flat.cell:
            x0, y0 = (x + reach) / flat.cell - flat.margin, (y + reach) / flat.cell - flat.margin
            yield x0, y0, x0 + (width - 2 * reach) / flat.cell, y0 + (height - 2 * reach) / flat.cell


def _merged(boxes: Sequence[Box]) -> Iterator[Box]:
    """Boxes without those that lie within another."""
    for index, box in enumerate(boxes):
        if not any(_within(box, other) for n, other in enumerate(boxes) if n != index and (n < index or other != box)):
            yield box


def _within(box: Box, other: Box) -> bool:
    return other[0] <= box[0] and other[1] <= box[1] and box[2] <= other[2] and box[3] <= other[3]


def _bounds(polygon: Polygon) -> Box:
    xs, ys = [p[0] for p in polygon], [p[1] for p in polygon]
    return min(xs), min(ys), max(xs), max(ys)


def _fill(mask: Mask, flat: Flat, box: Box, value: int) -> None:
    x0, y0, x1, y1 = (max(0, round((v + flat.margin) * flat.cell)) for v in box)
    mask[y0:y1, x0:x1] = value
