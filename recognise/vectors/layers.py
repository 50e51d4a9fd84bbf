"""The strokes of a rendered picture, each by itself: parted by their ink, rings from the lines that end in them, and
text beside the grid left out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Colour, Point
from recognise.colours import colours_apart
from recognise.evidence import Lattice
from recognise.pixels.frame import Mask
from recognise.vectors.rendered import PAPER, STROKE, Labels

CELL = 128
"""Pixels a cell of the picture that is drawn again: a grid of nine cells on a page at 300 ppi has about as many."""
MARGIN = 2.0
"""Cells around it."""
UNDER = 0.12
"""In cells: how far areas go on under strokes."""
SPECK = 5
"""Pixels: a piece of less is a rest of a rim."""
RESTS = 40
"""Pixels: what is smaller and has the colour of no area is a rest of a rim."""
NEXT = 8
"""Pixels from a stroke of a known colour to what goes with it: as far as across a lattice line."""
ONE_INK = 60
"""Grey levels by which strokes of one ink differ: thin ones are paler than they are meant."""
TEXT, APART, WORD = 0.45, 0.1, 5
"""In cells: characters of text are no higher, and stand no further apart than twice that; clues with their arrows have
fewer pieces."""
LEAST_RING, ROUND, THICKEST_WALL, RAYS = 0.2, 0.85, 0.1, 72
"""Rings that lines end in: their holes' radius in cells at least, the part of the circle around it that a hole fills at
least, the thickest wall in cells; and in how many directions that is measured."""
WALL_RIM, SLIVERS = 2, 40
"""Pixels by which the outer rim of a ring strays; what is left of fewer is its rim, and no line that ends in it."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One colour and where it is; `x` and `y` say in the picture where the mask begins."""

    colour: Colour
    mask: Mask
    x: int = 0
    y: int = 0


def pieces_of(strokes: Mask, image: npt.NDArray[np.uint8], colours: tuple[Colour, ...]) -> Iterator[Layer]:
    """Every stroke by itself, in its colour: that of an area, or of a stroke before it, where it is nearly so. A ring
    and the line that ends in it are two."""
    count, pieces, stats, _ = cv2.connectedComponentsWithStats(strokes.astype(np.uint8), connectivity=8)
    inks = list(colours[1:])
    for index in sorted(range(1, count), key=lambda one: -int(stats[one, cv2.CC_STAT_AREA])):
        x, y, width, height, area = (int(v) for v in stats[index])
        if area < SPECK:
            continue
        window = slice(y, y + height), slice(x, x + width)
        mask = pieces[window] == index
        colour = _ink(image[window][mask], inks)
        if area < RESTS and colour not in colours:
            continue
        for part in _without_rings(mask):
            yield Layer(colour, part, x, y)


def _ink(pixels: npt.NDArray[np.uint8], inks: list[Colour]) -> Colour:
    """The colour of a stroke: of its pixels the darker half counts, the others are rims."""
    dark = pixels[pixels.sum(axis=1) <= np.median(pixels.sum(axis=1))]
    red, green, blue = (int(v) for v in np.median(dark, axis=0))
    apart = [colours_apart(ink, (red, green, blue)) for ink in inks]
    if apart and min(apart) <= ONE_INK:
        return inks[apart.index(min(apart))]
    inks.append((red, green, blue))
    return red, green, blue


def by_ink(strokes: Mask, own: Labels, image: npt.NDArray[np.uint8], colours: tuple[Colour, ...]) -> Iterator[Mask]:
    """The strokes of each colour, dark ones last; pale strokes go on under dark ones."""
    known = strokes & (own > PAPER)
    labels = np.where(known, own, np.where(strokes, STROKE, PAPER))
    # What is too thin to show its colour, or crosses a lattice line, has that of what is next to it, or its own.
    if known.any():
        away, places = nearest(known)
        close = strokes & ~known & (away <= NEXT)
        labels[close] = own.ravel()[places[close]]
    count, pieces, stats, _ = cv2.connectedComponentsWithStats((labels == STROKE).astype(np.uint8), connectivity=8)
    for index in range(1, count):
        x, y, width, height = (int(v) for v in stats[index][:4])
        window = slice(y, y + height), slice(x, x + width)
        mask = pieces[window] == index
        ink = _ink(image[window][mask], list(colours[1:]))
        if ink in colours[1:]:
            labels[window][mask] = colours.index(ink)
    yield labels == STROKE
    inks = sorted(set(np.unique(labels[labels > PAPER]).tolist()), key=lambda index: -sum(colours[index]))
    disc = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * round(UNDER * CELL) + 1,) * 2)
    for place, index in enumerate(inks):
        mask = labels == index
        darker = np.isin(labels, inks[place + 1 :])
        if darker.any():
            mask = mask | ((cv2.morphologyEx(mask.astype(np.uint8), cv2.MORPH_CLOSE, disc) > 0) & darker)
        yield np.asarray(mask, np.bool_)


def nearest(there: Mask) -> tuple[npt.NDArray[np.float32], npt.NDArray[np.int64]]:
    """For each pixel how far it is to the nearest one that is there, and which that is, counted row by row."""
    away, numbers = cv2.distanceTransformWithLabels(
        (~there).astype(np.uint8), cv2.DIST_L2, 5, labelType=cv2.DIST_LABEL_PIXEL
    )
    places = np.zeros(int(numbers.max()) + 1, np.int64)
    found = np.flatnonzero(there.ravel())
    places[numbers.ravel()[found]] = found
    return np.asarray(away, np.float32), places[numbers]


def without_text(strokes: Mask, lattice: Lattice) -> Mask:
    """The strokes without running text beside the grid: small pieces close together, more than a clue has."""
    beside = strokes.copy()
    origin = round(MARGIN * CELL)
    beside[origin : origin + lattice.rows * CELL, origin : origin + lattice.columns * CELL] = False
    _, pieces, stats, middles = cv2.connectedComponentsWithStats(beside.astype(np.uint8), connectivity=8)
    small = stats[:, cv2.CC_STAT_HEIGHT] <= TEXT * CELL
    small[0] = False
    reach = 2 * round(APART * CELL) + 1
    spread = cv2.dilate(small[pieces].astype(np.uint8), np.ones((reach // 2, reach), np.uint8))
    _, lines = cv2.connectedComponents(spread, connectivity=8)
    of_line = lines[middles[:, 1].astype(int).clip(0, len(lines) - 1), middles[:, 0].astype(int)]
    many = np.bincount(of_line[small & (of_line > 0)], minlength=int(lines.max()) + 1) >= WORD
    return np.asarray(strokes & ~(many[lines] & small[pieces]), np.bool_)


def _without_rings(mask: Mask) -> Iterator[Mask]:
    """The rings in a mask, each by itself, and what else there is."""
    rest = mask.copy()
    contours, tree = cv2.findContours(mask.astype(np.uint8), cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    for contour, (_, _, _, parent) in zip(contours, tree[0] if tree is not None else (), strict=True):
        if parent < 0 or len(contour) < 3:
            continue
        (x, y), radius = cv2.minEnclosingCircle(contour)
        if radius < LEAST_RING * CELL or cv2.contourArea(contour) < ROUND * np.pi * radius**2:
            continue
        outer = _outer_rim(mask, (x, y), radius)
        rows, columns = np.ogrid[: mask.shape[0], : mask.shape[1]]
        away = np.hypot(rows - y, columns - x)
        others = rest & (away > outer + WALL_RIM)
        if outer < np.inf and np.count_nonzero(others) > SLIVERS:
            yield (away >= radius - 0.5) & (away <= outer + 0.5)
            rest = others
    if np.count_nonzero(rest) >= SPECK:
        yield rest


def _outer_rim(mask: Mask, middle: Point, radius: float) -> float:
    """How far from its middle the wall round a circular hole ends in most directions; infinite for no thin wall."""
    turns = np.linspace(0, 2 * np.pi, RAYS, endpoint=False)
    away = radius + np.arange(-2.0, THICKEST_WALL * CELL + 3)
    xs = np.clip(np.rint(middle[0] + np.outer(np.cos(turns), away)), 0, mask.shape[1] - 1).astype(int)
    ys = np.clip(np.rint(middle[1] + np.outer(np.sin(turns), away)), 0, mask.shape[0] - 1).astype(int)
    ends = [float(away[_end_of_run(ray)]) for ray in mask[ys, xs]]
    outer = float(np.median(ends))
    return outer if outer <= radius + THICKEST_WALL * CELL else np.inf


def _end_of_run(ray: Mask) -> int:
    """Where the first run along a ray ends; its last place where none does."""
    if not ray.any():
        return len(ray) - 1
    first = int(ray.argmax())
    return first + int(np.append(ray[first:], False).argmin()) - 1
