"""Ink that stands out from the paper of its own page.

Three filters look for spots, for thin lines and for broad pale marks. What counts is how far the answer of a filter
rises above what the same filter answers to the paper around that place: grain, folds and the print of the other side
are measured on each page, place by place, and no constant has to fit them all.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import cv2
import numpy as np
import numpy.typing as npt

from recognise.pixels.frame import Grey, Mask, Raster


@dataclass(frozen=True, slots=True)
class Kind:
    """How strong the answer of a filter (ink, 0 to 1) must be for a mark, by what paper reaches: never less than
    `least`; from `most` on it is a mark on any paper. `area` is what it covers at least, in square cells."""

    least: float
    most: float
    area: float


SPOT = Kind(least=0.13, most=0.25, area=0.004)
"""Small marks are set in black or in a full colour. Specks of dust and JPEG crumbs cover less, the smallest mark that
print uses (a dot a tenth of a cell wide) covers more."""
SPOT_BLUR = 0.025
"""In cells: grain fades, a dot and the thinnest stroke do not."""
LINE = Kind(least=0.06, most=0.12, area=0.004)
"""Thin lines may be pale: their length tells them from grain."""
LINE_LENGTH, LINE_WIDTH = 0.6, 0.06
"""In cells: strokes of text that shows through are shorter than that; lines from cell to cell are longer."""
LINE_SIDE = 0.11
"""In cells, from the middle of a line: where the ground on both sides is looked at, which is paler. The borders of
shadows, tints and folds have it on one side only."""
DIRECTIONS = 12
"""In which lines are looked for: between two of them a line of that length and width still lies half within."""
BROAD = Kind(least=0.08, most=0.14, area=0.06)
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
RIM = 0.5
"""In cells: how far beside the ground that is looked at the filters still see the page."""


def standing_out(
    level: Grey, free: Mask, raster: Raster, floor: float, spots: Sequence[Kind] = ()
) -> Iterator[tuple[Mask, Kind]]:
    """For each filter the pixels at which ink stands out, and its kind. `level` is ink from 0 to 1 without shade and
    without the grid's lines, `free` where it is looked at (the rest is explained), `floor` what paper and noise reach
    at least; `spots` are kinds of small marks besides those that are on any page."""
    if not free.any():
        return
    ink = np.where(free, level, 0).astype(np.float32)
    for answer, kind, part in _answers(ink, _looked_at(free, raster.px(RIM)), _looked_at(free, 0), raster.cell):
        whole = np.zeros_like(ink)
        whole[part] = answer
        paper = TIMES * paper_of(whole, free, raster)
        for sort in (kind, *spots) if kind is SPOT else (kind,):
            enough = np.clip(paper, max(sort.least, floor), max(sort.most, floor))
            yield (whole > enough) & free, sort


Part = tuple[slice, slice]


def _looked_at(free: Mask, rim: int) -> Part:
    """The part of the picture that holds all free ground and a rim around it."""
    spans = [np.flatnonzero(free.any(axis=axis)) for axis in (1, 0)]
    rows, columns = (slice(max(0, int(span[0]) - rim), int(span[-1]) + 1 + rim) for span in spans)
    return rows, columns


def _answers(ink: Grey, part: Part, inner: Part, cell: int) -> Iterator[tuple[Grey, Kind, Part]]:
    """What each filter answers, and where. For lines the ground ends where nothing more is looked at, and is taken to
    go on beyond: the blur of the grid's frame, cut off there, would be paler on both sides."""
    around = np.ascontiguousarray(ink[part])
    yield np.asarray(cv2.GaussianBlur(around, (0, 0), SPOT_BLUR * cell), np.float32), SPOT, part
    yield thin_lines(np.ascontiguousarray(ink[inner]), cell), LINE, inner
    yield _broad(around, cell), BROAD, part


def thin_lines(ink: Grey, cell: int) -> Grey:
    """How far the ink along a straight piece at each pixel exceeds that on both its sides, in the best direction.
    Measured at half the size: a line two pixels wide there is one pixel wide."""
    half = np.asarray(cv2.resize(ink, None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA), np.float32)
    best = np.zeros_like(half)
    rim = math.ceil(LINE_SIDE * (cell // 2))
    height, width = half.shape
    for turn in range(DIRECTIONS):
        kernel, (x, y) = _kernel(cell // 2, np.pi * turn / DIRECTIONS)
        middle = cv2.filter2D(half, -1, kernel, borderType=cv2.BORDER_REPLICATE)
        around = cv2.copyMakeBorder(middle, rim, rim, rim, rim, cv2.BORDER_REPLICATE)
        left, right = (around[rim + s * y :, rim + s * x :][:height, :width] for s in (-1, 1))
        np.maximum(best, middle - np.maximum(left, right), out=best)
    return np.asarray(cv2.resize(best, (ink.shape[1], ink.shape[0]), interpolation=cv2.INTER_LINEAR), np.float32)


@lru_cache(maxsize=64)
def _kernel(cell: int, angle: float) -> tuple[Grey, tuple[int, int]]:
    """The mean over a piece of a line, and how far (x, y) from it, in pixels, the ground on one of its sides lies, of
    which the same piece is taken."""
    reach = int(LINE_LENGTH / 2 * cell) + 2
    y, x = np.mgrid[-reach : reach + 1, -reach : reach + 1]
    along, across = x * np.cos(angle) + y * np.sin(angle), y * np.cos(angle) - x * np.sin(angle)
    within = (np.abs(along) <= LINE_LENGTH / 2 * cell) & (np.abs(across) <= max(LINE_WIDTH / 2 * cell, 0.5))
    off = LINE_SIDE * cell
    kernel = (within / np.count_nonzero(within)).astype(np.float32)
    return kernel, (round(-off * np.sin(angle)), round(off * np.cos(angle)))


def _broad(ink: Grey, cell: int) -> Grey:
    """The ink that is there all over a disc."""
    soft = cv2.GaussianBlur(ink, (0, 0), BROAD_BLUR * cell)
    size = max(3, round(BROAD_WIDTH * cell)) | 1
    disc = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (size, size))
    return np.asarray(cv2.morphologyEx(soft, cv2.MORPH_OPEN, disc), np.float32)


def paper_of(answer: Grey, free: Mask, raster: Raster) -> Grey:
    """What a filter answers to paper, at each pixel: a high quantile in each cell, the median of it around."""
    inside = raster.grid_slices()
    shape = raster.rows, raster.cell, raster.columns, raster.cell
    blocks = np.where(free, answer, np.nan)[inside].reshape(shape)[:, ::2, :, ::2]
    reached = _quantiles(blocks.swapaxes(1, 2).reshape(raster.rows, raster.columns, -1))
    even = cv2.medianBlur(reached, AROUND)
    size = raster.columns * raster.cell, raster.rows * raster.cell
    whole = cv2.resize(even, size, interpolation=cv2.INTER_LINEAR)
    start = raster.origin
    bottom, right = answer.shape[0] - start - size[1], answer.shape[1] - start - size[0]
    return np.asarray(cv2.copyMakeBorder(whole, start, bottom, start, right, cv2.BORDER_REPLICATE), np.float32)


def _quantiles(cells: npt.NDArray[np.floating]) -> Grey:
    """The quantile of each cell's free pixels (the last axis, nan where something is explained); a cell that is
    explained as a whole has that of the others."""
    ordered = np.sort(cells, axis=-1)
    count = np.isfinite(ordered).sum(axis=-1)
    place = np.maximum(np.ceil(PAPER * count).astype(int) - 1, 0)
    reached = np.take_along_axis(ordered, place[..., None], axis=-1)[..., 0]
    usual = float(np.median(reached[count > 0])) if count.any() else 0.0
    return np.where(count > 0, reached, usual).astype(np.float32)
