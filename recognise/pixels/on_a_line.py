"""Numbers beside a grid that are bits of a line: a fold, the edge of a sheet, the rule between two columns of a page.

Broken by the press or by light, such a line leaves pieces as large as characters, one above the other as clues stand.
But clues stand on bare paper, and between them nothing runs on from one to the next."""

from __future__ import annotations

import cv2
import numpy as np

from recognise.pixels.frame import Grey, Raster
from recognise.pixels.outside import Ring

ALONG, ACROSS = 0.15, 0.02
"""In cells: smoothing along the line and across it, so that grain fades and the line does not."""
HALF = 0.12
"""In cells: how far beside the middle of the numbers the line may run, as it may lean; the paper on either side of that
is looked at as widely."""
CLEAR, ENOUGH = 0.3, 0.25
"""In cells: around the numbers, whose ink is smoothed too, nothing is looked at; the part of the way that must be left
to tell."""
TIMES, AS_DARK = 1.5, 0.3
"""A line has so many times the ink of the paper beside it, and such a part of that of the numbers: they are bits of it,
and what shows through between dark numbers is none of theirs."""
MOST = 0.5
"""Share of the way beside the grid, between the numbers, on which the line has ink."""


def is_on_a_line(ring: Ring, level: Grey, raster: Raster, floor: float) -> bool:
    """Whether the numbers of a ring are bits of a line that runs through all of them. `level` is ink from 0 to 1
    without shade, `floor` what paper and noise reach at least."""
    upright = ring.side in ("left", "right")
    picture = level if upright else level.T
    boxes = [placed.box if upright else _turned(placed.box) for _, members in ring.clues for placed in members]
    middles = [(box[0] + box[2]) / 2 for box in boxes]
    if max(middles) - min(middles) > HALF:
        return False
    middle = round(raster.at(float(np.median(middles))))
    half = raster.px(HALF)
    start, length = raster.origin, (raster.rows if upright else raster.columns) * raster.cell
    strip = picture[start : start + length, max(0, middle - 3 * half) : middle + 3 * half]
    if strip.shape[1] < 6 * half:
        return False
    soft = cv2.GaussianBlur(
        np.ascontiguousarray(strip), (0, 0), sigmaX=ACROSS * raster.cell, sigmaY=ALONG * raster.cell
    )
    left, own, right = (soft[:, n * 2 * half : (n + 1) * 2 * half].max(axis=1) for n in range(3))
    numbers = [level[raster.slices(placed.box)] for _, members in ring.clues for placed in members]
    darkest = [float(np.percentile(number, 90)) for number in numbers if number.size]
    dark = float(np.median(darkest)) if darkest else 1.0
    inked = own > np.maximum(TIMES * np.maximum(left, right), max(AS_DARK * dark, floor))
    between = np.ones(length, np.bool_)
    for box in boxes:
        first, last = (round(raster.at(v)) - start for v in (box[1] - CLEAR, box[3] + CLEAR))
        between[max(0, first) : max(0, last)] = False
    return bool(between.mean() >= ENOUGH and inked[between].mean() >= MOST)


def _turned(box: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
    return box[1], box[0], box[3], box[2]
