"""Whether ink has the sharp sides of print: folds, shadows, stains and print that shows through have not.

Whatever is printed on a page is as sharp as its characters, however blurred the picture is. The sides of what stands
out are held against those of the characters around it: how steep they are, as a part of the contrast that they make
(edge width as a measure of blur: P. Marziliano et al., A no-reference perceptual blur metric, ICIP 2002). Noise makes
sides look steeper, never flatter, so that in doubt a thing counts as print.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.quantiles import percentile

SMOOTH = 0.023
"""In cells: smoothing before steepness is measured; less than the blur of any picture whose characters can be read."""
NEAR, AROUND = 0.05, 0.15
"""In cells: how far from an outline the steepest place is sought, and the darkest and palest whose contrast it is."""
STEEP = 0.6
"""Part of the characters' steepness that the sides of print have at least: pale broad marks, unlike characters, lose
some of theirs in smoothing."""
PRINTED = 0.5
"""Share of the outline that is as steep where print stands. Of 162 marks planted on 27 photographed pages
(fixtures/bench/marks.py) it loses none that was found before, and of 7 false places on the same pages without marks
none is left."""
NEIGHBOURS = 7
"""Characters around a place that tell how sharp print is there: photos are not sharp everywhere."""
FEW, MUCH_SOFTER = 4, 0.5
"""On a page with fewer of them, but so many at least, only what has this part of that steepness is soft: the edge of a
shadow is wider than a stroke."""
DARK = 0.15
"""Contrast of a character that can tell."""
BESIDE = 0.2
"""In cells: the paper around a thing that is compared with it."""
ON_LINE = 0.15
"""In cells: how far from a lattice line the visible part of a tint may end."""
LEAST = 0.02
"""Contrast below which nothing can be told."""

Floats = npt.NDArray[np.float64]


class Sides:
    """Looks at the sides of ink. `ink` is ink from 0 to 1 without lattice lines and shade, `free` where it is not that
    of something known, `characters` boxes of print, in cells; `screen` where a print screen was smoothed away, and with
    it the sides of what it filled."""

    def __init__(
        self, ink: Grey, free: Mask, raster: Raster, characters: Sequence[Box], screen: Mask | None = None
    ) -> None:
        self._ink, self._free, self._raster, self._screen = ink, free, raster, screen
        self._print = self._measured(characters)

    def are_soft(self, thing: Mask, place: tuple[int, int]) -> bool:
        """Whether the ink of a thing fades out on most sides as no print of this page does. `thing` are its pixels in a
        window of the picture, `place` (y, x) is where that begins. False where too few characters tell."""
        raster = self._raster
        places = np.argwhere(thing)
        if len(self._print) < FEW or not len(places):
            return False
        pad = raster.px(BESIDE)
        (top, left), (bottom, right) = places.min(axis=0), places.max(axis=0) + 1
        y, x = place[0] + int(top), place[1] + int(left)
        if _fills_cells(raster.box(x, y, int(right - left), int(bottom - top))):
            return False
        window = (
            slice(max(0, y - pad), y + int(bottom - top) + pad),
            slice(max(0, x - pad), x + int(right - left) + pad),
        )
        if self._screen is not None and self._screen[window].any():
            return False
        own = np.zeros(self._ink.shape, np.uint8)[window]
        own[y - window[0].start :, x - window[1].start :][: bottom - top, : right - left] = thing[
            top:bottom, left:right
        ]
        middle = raster.to_cells(x + (right - left) / 2), raster.to_cells(y + (bottom - top) / 2)
        soft, slope = _soft(self._ink[window], raster)
        steep = _steepness(own, self._free[window], soft, slope, self._noise, raster) / self._sharp(middle)
        enough = STEEP if len(self._print) >= NEIGHBOURS else STEEP * MUCH_SOFTER
        return len(steep) > 0 and float((steep > enough).mean()) < PRINTED

    @cached_property
    def _noise(self) -> float:
        """How steep bare paper is at its steepest near most places, a pixel."""
        _, slope = _soft(self._ink, self._raster)
        return float(np.median(cv2.dilate(slope, _square(NEAR, self._raster))[self._free]))

    def _measured(self, characters: Sequence[Box]) -> Floats:
        """For each character its middle and its steepness, (characters, 3)."""
        found = []
        for box in characters:
            part = self._ink[self._raster.slices(box, self._raster.px(NEAR))]
            if part.size:
                soft, slope = _soft(part, self._raster)
                contrast = float(percentile(soft, 95) - percentile(soft, 10))
                if contrast > DARK:
                    middle = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
                    found.append((*middle, float(percentile(slope, 95)) / contrast))
        return np.array(found, np.float64).reshape(-1, 3)

    def _sharp(self, place: tuple[float, float]) -> float:
        """How steep the sides of print are there, a pixel."""
        away = np.hypot(*(self._print[:, :2] - place).T)
        return float(np.median(self._print[np.argsort(away)[:NEIGHBOURS], 2]))


def _fills_cells(box: Box) -> bool:
    """Whether a thing reaches from lattice line to lattice line, as a tint does, whose sides are lost in the lines."""
    return all(abs(v - round(v)) <= ON_LINE for v in box) and min(box[2] - box[0], box[3] - box[1]) > 0.5


def _soft(ink: Grey, raster: Raster) -> tuple[Grey, Grey]:
    """Ink smoothed, and how steep it is a pixel."""
    soft = np.asarray(cv2.GaussianBlur(ink, (0, 0), SMOOTH * raster.cell), np.float32)
    across, down = (cv2.Sobel(soft, cv2.CV_32F, *way, ksize=3) / 8 for way in ((1, 0), (0, 1)))
    return soft, np.hypot(across, down)


def _steepness(own: npt.NDArray[np.uint8], free: Mask, soft: Grey, slope: Grey, noise: float, raster: Raster) -> Grey:
    """Along the outline of a thing the steepness of its side as a part of its contrast there. The outline runs where
    ink is half as strong as in the thing itself; beside ink that is not free it cannot be seen."""
    near = cv2.dilate(own, _square(NEAR, raster)) > 0
    beside = (cv2.dilate(own, _square(BESIDE, raster)) > 0) & ~near & free
    inside = (own > 0) & free
    if not beside.any() or not inside.any():
        return np.zeros(0, np.float32)
    half = (float(np.percentile(soft[beside], 30)) + float(np.percentile(soft[inside], 80))) / 2
    ink = ((soft > half) & near & free).astype(np.uint8)
    outline = (cv2.dilate(ink, np.ones((3, 3), np.uint8)) > ink) & (
        cv2.erode(free.astype(np.uint8), _square(NEAR, raster)) > 0
    )
    wide = _square(AROUND, raster)
    dark = cv2.dilate(np.where(free, soft, 0).astype(np.float32), wide)[outline]
    pale = cv2.erode(np.where(free, soft, 1).astype(np.float32), wide)[outline]
    steepest = cv2.dilate(np.where(free, slope, 0).astype(np.float32), _square(NEAR, raster))[outline]
    # Noise adds to a slope as the squares add up.
    own_slope = np.sqrt(np.maximum(steepest**2 - noise**2, 0))
    return np.asarray(own_slope / np.maximum(dark - pale, LEAST), np.float32)


def _square(reach: float, raster: Raster) -> npt.NDArray[np.uint8]:
    return np.ones((2 * raster.px(reach) + 1,) * 2, np.uint8)
