"""Edges of hard shadows: paper that grows darker within a cell, as no tint does and no mark.

The light of a grid is measured cell by cell, and between cells it changes evenly. Along the edge of a hard shadow it
does not, and bare paper passes for broad pale ink there. Light that follows such an edge is the picture without all
that is dark and narrow: closed by a disc that no stroke, figure or line holds (J. Serra, Image Analysis and
Mathematical Morphology, 1982). A broad mark holds it as well, but ends sharply, and a shadow fades."""

from __future__ import annotations

from functools import cached_property

import cv2
import numpy as np
import numpy.typing as npt

from recognise.pixels.frame import Grey, Mask, Raster
from recognise.quantiles import percentile

COARSE = 4
"""By how much the picture is made smaller first: light has no detail."""
BLUR = 0.025
"""In cells: smoothing that evens out the grain of a photo and leaves strokes."""
DISC = 0.5
"""In cells: how wide the disc is; lines and strokes are narrower."""
AROUND = 0.6
"""In cells: how far around a piece the edge of its shadow lies."""
BARE, AREA = 0.03, 0.001
"""Ink of bare paper, against that light, at most; in square cells, what more ink covers at least that is a mark."""
FADES = 0.25
"""In cells: how wide the edge of a shadow is at least; those of print, as blurred as may be read, are half as wide."""
STEEPEST = 99
"""Percentile of the steepness of light that counts as its steepest."""
CONTRAST = 0.05
"""By how much paper is darker within a shadow at least, in log brightness."""
GRAIN = 0.1
"""The part of the edge of a shadow that the grain of a photo, coarse in the dark, makes pass for more than bare paper;
of a character half is darker, also where it stands on that edge, and of one in blur more."""

Indices = tuple[npt.NDArray[np.intp], npt.NDArray[np.intp]]


class Shadows:
    """The shadows of a picture, RGB, of a grid whose lines run where `lattice` is."""

    def __init__(self, image: npt.NDArray[np.uint8], raster: Raster, lattice: Mask) -> None:
        self._raster = raster
        self._bright = image.mean(axis=-1, dtype=np.float32)
        self._lattice = cv2.dilate(lattice.astype(np.uint8), np.ones((2 * raster.px(BLUR) + 1,) * 2, np.uint8)) > 0

    def casts(self, thing: Mask, place: tuple[int, int]) -> bool:
        """Whether a thing is the edge of a shadow and nothing else. `thing` are its pixels in a window of the picture,
        `place` (y, x) is where that begins."""
        rows, columns = self._beside_lines(thing, place)
        inked = np.count_nonzero(self._ink[rows, columns] > BARE)
        return bool(len(rows) and inked < AREA * self._raster.cell**2) and self._fades_at(rows, columns)

    def is_all_of(self, character: Mask, place: tuple[int, int]) -> bool:
        """Whether what was read as a character is the edge of a shadow: it is larger than stray ink, and more of it may
        be grain. `character` are its pixels in a window of the picture, `place` (y, x) is where that begins."""
        rows, columns = self._beside_lines(character, place)
        inked = np.count_nonzero(self._ink[rows, columns] > BARE)
        return bool(len(rows) and inked <= GRAIN * len(rows)) and self._fades_at(rows, columns)

    def _beside_lines(self, thing: Mask, place: tuple[int, int]) -> Indices:
        """The rows and columns of the pixels of a thing where no lattice line runs."""
        pixels = np.argwhere(thing) + place
        rows, columns = pixels[~self._lattice[pixels[:, 0], pixels[:, 1]]].T
        return rows, columns

    def _fades_at(self, rows: npt.NDArray[np.intp], columns: npt.NDArray[np.intp]) -> bool:
        """Whether the light around some pixels is that of the edge of a shadow."""
        pad = self._raster.px(AROUND)
        window = tuple(
            slice(max(0, int(at.min()) - pad) // COARSE, (int(at.max()) + pad) // COARSE + 1) for at in (rows, columns)
        )
        return self._fades(window)

    def _fades(self, window: tuple[slice, ...]) -> bool:
        """Whether the light in a window changes, and nowhere as suddenly as print."""
        bare = self._bare[window]
        if not bare.any():
            return False
        light, slope = np.log(self._light[window])[bare], self._slope[window][bare]
        contrast = float(percentile(light, 98) - percentile(light, 2))
        steepest = float(percentile(slope, STEEPEST)) * self._raster.cell / COARSE
        return contrast >= CONTRAST and contrast >= FADES * steepest

    @cached_property
    def _coarse(self) -> Grey:
        height, width = (-(-side // COARSE) for side in self._bright.shape)
        return np.asarray(cv2.resize(self._bright, (width, height), interpolation=cv2.INTER_AREA), np.float32)

    @cached_property
    def _light(self) -> Grey:
        size = max(3, round(DISC * self._raster.cell / COARSE)) | 1
        disc = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (size, size))
        closed = cv2.morphologyEx(self._coarse, cv2.MORPH_CLOSE, disc)
        return np.maximum(np.asarray(closed, np.float32), np.float32(1))

    @cached_property
    def _ink(self) -> Grey:
        """The ink of the picture against that light."""
        light = cv2.resize(self._light, self._bright.shape[::-1], interpolation=cv2.INTER_LINEAR)
        smooth = cv2.GaussianBlur(self._bright, (0, 0), BLUR * self._raster.cell)
        return np.asarray(1 - smooth / light, np.float32)

    @cached_property
    def _bare(self) -> Mask:
        """Where the light is that of bare paper, in the smaller picture."""
        bare = (self._coarse >= (1 - BARE) * self._light).astype(np.uint8)
        return np.asarray(cv2.erode(bare, np.ones((3, 3), np.uint8)) > 0, np.bool_)

    @cached_property
    def _slope(self) -> Grey:
        """How fast the light changes, in log brightness a pixel of the smaller picture."""
        light = np.log(self._light)
        across, down = (cv2.Sobel(light, cv2.CV_32F, *way, ksize=3) / 8 for way in ((1, 0), (0, 1)))
        return np.asarray(np.hypot(across, down), np.float32)
