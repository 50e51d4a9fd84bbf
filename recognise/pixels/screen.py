"""Print screens smoothed away: tints and tubes that a scan shows as rows of dots.

A printing screen, and a scan in black and white, make every grey of dots that are finer than any mark. Where they are
seen one by one they are texture to a reader of tones and bits of characters to a reader of shapes. They tell themselves
by how many there are: in a screened area a dot and a gap follow each other every few pixels in both directions, which
neither strokes nor dashes nor small print do over any width.
"""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Flat
from recognise.pixels.frame import Raster

Grey = npt.NDArray[np.float32]
Bits = npt.NDArray[np.uint8]

FINE = 0.03
"""In cells: the smoothing by which dots are told from the tone around them."""
EVEN = 0.04
"""In cells: the smoothing that makes a tone of a screen's dots; dots are finer, and marks are not."""
DEEP, SHALLOW = 13.0, 8.0
"""By so many levels of 255 a dot is darker, and a gap lighter, than the tone around: grain and noise are less deep than
the first, and the dots of one screen, as the scan falls on them, at least as deep as the second."""
SURELY = 0.1
"""The part of a screened area that the deep dots alone show to be one."""
AROUND = 0.16
"""In cells: the width of the square in which dots are counted. The narrowest tube is wider."""
CROWDED = 0.04
"""Dots, and gaps, on each pixel from which on they are a screen: one in twenty-five. Small print has one in fifty."""
WIDTH = 0.14
"""In cells: a screened area is wider than this everywhere; what crowds in narrower places is a crossing of lines."""
GAPS = 0.2
"""In cells: places between two parts of one screened area, where dots happen to touch, are no wider."""
LEAST = 0.3
"""In square cells: the smallest screened area. A link of a tube covers as much."""
WALLS, INSIDE = 0.25, 0.15
"""In cells: how far from lattice lines dots and dashes of cages' walls crowd, counted as widely as they are; the part
of a screen that lies farther inside of its cells, a quarter in a tinted cell."""
ALL_OVER = 0.5
"""Part of the paper up to a cell around a grid that grain covers."""
TIE = 1e-4
"""Levels that each pixel rises over the one before it: pixels that are equally dark are not all low points."""
STROKE = 0.55
"""What is darker than this part of an area's tone is a stroke upon it, and stays sharp."""


LIGHTER = 1.0
"""How many times as light as the tone of an area a patch of paper with a character on it is at least."""
ALONG, ON_LATTICE, LINE = 0.3, 0.06, 0.8
"""Over so long a stretch a lattice line is darker than the last part of the tone around, so near its place (cells)."""


def descreened(flat: Flat) -> Flat:
    """The flattened grid with its screened areas as even tones; itself where it has none. The page closer by would show
    the screen again."""
    grey = np.asarray(cv2.cvtColor(flat.image, cv2.COLOR_RGB2GRAY), np.float32)
    raster = Raster.of(flat)
    screen = screened(grey, raster)
    inside = raster.grid_slices()
    if not screen[inside].any():
        return flat
    smooth = _tone(flat.image, screen, EVEN * flat.cell)
    soft = cv2.GaussianBlur(screen.astype(np.float32), (0, 0), FINE * flat.cell / 2)
    share = np.minimum(soft, cv2.erode(screen, np.ones((3, 3), np.uint8)))[inside][..., None]
    image = flat.image.copy()
    image[inside] = np.rint(image[inside] * (1 - share) + smooth[inside] * share)
    return replace(flat, image=image, screened=screen > 0, page=None)


def _tone(image: npt.NDArray[np.uint8], screen: Bits, width: float) -> Grey:
    """The tone of screened areas, of their own dots and gaps alone: what is darker beside or upon them, as a lattice
    line is, would leave its ink in it."""
    own = screen.astype(np.float32)
    sums = cv2.GaussianBlur(image * own[..., None], (0, 0), width)
    return np.asarray(sums / np.maximum(cv2.GaussianBlur(own, (0, 0), width), TIE)[..., None], np.float32)


def screened(grey: Grey, raster: Raster) -> Bits:
    """The pixels (1) of screened areas in a picture, without the strokes upon them."""
    cell = raster.cell
    tone = cv2.GaussianBlur(grey, (0, 0), FINE * cell)
    deep, crowded = (_crowded(grey - tone, depth, cell) for depth in (DEEP, SHALLOW))
    if not crowded.any() or _is_grain(crowded, deep, raster):
        return np.zeros_like(crowded)
    whole = cv2.morphologyEx(crowded, cv2.MORPH_CLOSE, _disc(GAPS * cell))
    count, labels, stats, _ = cv2.connectedComponentsWithStats(whole, connectivity=8)
    seen = crowded > 0
    dots = np.maximum(np.bincount(labels[seen], minlength=count), 1)
    sums = np.bincount(labels[seen], weights=tone[seen], minlength=count)
    tones = np.maximum(sums / dots, 1.0)
    certain = np.bincount(labels[deep > 0], minlength=count)
    inside = np.bincount(labels[seen & ~_beside_lines(grey.shape, raster)], minlength=count)
    chosen = (stats[:, 4] >= LEAST * cell**2) & (certain >= SURELY * stats[:, 4]) & (inside >= INSIDE * dots)
    chosen[0] = False
    strokes = cv2.GaussianBlur(grey, (0, 0), FINE * cell / 2) < STROKE * tones[labels]
    strokes |= _lattice_lines(grey, tones[labels], raster) | patches((whole > 0) & ~seen, grey / tones[labels])
    return np.asarray(chosen[labels] & ~strokes, np.uint8)


def patches(between: npt.NDArray[np.bool_], light: npt.NDArray[np.float64]) -> npt.NDArray[np.bool_]:
    """The places between parts of screened areas that are paper, on which a character stands: where dots touch it is no
    lighter than elsewhere. `light` is how light each pixel is beside the tone of its area."""
    _, labels = cv2.connectedComponents(between.astype(np.uint8), connectivity=4)
    mean = np.bincount(labels.ravel(), weights=light.ravel()) / np.maximum(np.bincount(labels.ravel()), 1)
    return np.asarray((mean > LIGHTER)[labels] & between)


def _is_grain(crowded: Bits, deep: Bits, raster: Raster) -> bool:
    """Whether the paper around a grid is crowded as well, and not with dots as deep as those of a screen: evened out
    but for lines, the grain of a photo leaves bits of itself where these cross."""
    around = np.zeros(crowded.shape, np.bool_)
    around[raster.grid_slices(raster.cell)] = True
    around[raster.grid_slices()] = False
    return bool(crowded[around].mean() >= ALL_OVER > deep[around].mean())


def _beside_lines(shape: tuple[int, ...], raster: Raster) -> npt.NDArray[np.bool_]:
    """Where the dots of cages' walls may stand: along the lattice lines, on both sides of them."""
    near = [np.abs((np.arange(length) + 0.5 - raster.origin) / raster.cell % 1 - 0.5) > 0.5 - WALLS for length in shape]
    return np.asarray(near[0][:, None] | near[1][None, :], np.bool_)


def _lattice_lines(grey: Grey, tones: npt.NDArray[np.float64], raster: Raster) -> npt.NDArray[np.bool_]:
    """The lattice lines in screened areas of these tones: dark all along, where the dots of a screen make up a tone."""
    long = round(ALONG * raster.cell) | 1
    found = np.zeros(grey.shape, np.bool_)
    for axis, size in ((0, (long, 1)), (1, (1, long))):
        off = (np.arange(grey.shape[axis]) + 0.5 - raster.origin) / raster.cell
        near = np.abs(off - np.rint(off)) <= ON_LATTICE
        dark = cv2.blur(grey, size) < LINE * tones
        found |= dark & (near[:, None] if axis == 0 else near[None, :])
    return found


def _crowded(above: Grey, depth: float, cell: int) -> Bits:
    """Where dots and gaps of some depth crowd."""
    crowd = np.minimum(_crowd(above, depth, cell), _crowd(-above, depth, cell))
    rough = (crowd > CROWDED).astype(np.uint8)
    return np.asarray(cv2.morphologyEx(rough, cv2.MORPH_OPEN, _disc(WIDTH * cell)), np.uint8)


def _crowd(above: Grey, depth: float, cell: int) -> Grey:
    """How many low points of some depth there are for each pixel around it; even stretches of a line are none."""
    height, width = above.shape
    slope = np.float32(TIE) * (np.arange(width, dtype=np.float32) + np.arange(height, dtype=np.float32)[:, None])
    above = above + slope
    low = (above <= cv2.erode(above, np.ones((3, 3), np.uint8))) & (above < -depth)
    side = round(AROUND * cell) | 1
    return np.asarray(cv2.blur(low.astype(np.float32), (side, side)), np.float32)


def _disc(width: float) -> cv2.typing.MatLike:
    side = round(width) | 1
    return cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (side, side))
