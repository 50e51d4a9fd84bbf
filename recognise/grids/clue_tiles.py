"""Dark tiles beside a grid with a light number on each, in pictures: turned into dark numbers on paper, as all readers
of clues know them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Flat
from recognise.geometry import beside, extent, middle
from recognise.grids.ink import luminance
from recognise.pixels.frame import Mask, Raster

DARK = 0.8
"""Part of the brightness of the paper around it that a tile has at most."""
AROUND = 0.95
"""In cells: over so much the paper is looked for; tiles are smaller."""
SMALLEST, LARGEST, TALL = 0.28, 0.9, 0.75
"""In cells: the sides of tiles; and how wide one is at least, as a part of its height: figures are narrower."""
FULL = 0.88
"""Part of its box that a tile fills, its corners being round; a nought fills less, its hole included."""
FIGURES = (0.03, 0.45)
"""Part of a tile that its number leaves light: less is grain, more the paper in a frame."""
RIM, UNBROKEN = 0.05, 0.95
"""In cells: the rim of a tile, and the part of it that is dark."""
CLEAR = 0.3
"""By so much of the paper's brightness a number is lighter than its tile at least."""
LEAST, ALIKE = 2, 0.08
"""So many tiles tell that a page has them; in cells, how much these differ in size: words and pictures do more."""
CENTRED = 0.2
"""In cells: how far from the middle of its row or column one stands at most."""
BEYOND = 0.04
"""In cells: how far the blur of a tile reaches."""

Floats = npt.NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class _Tile:
    """Where a tile stands in the picture and in cells, and its area without its rim."""

    window: tuple[slice, slice]
    box: tuple[float, float, float, float]
    inner: Mask


def with_dark_numbers(flat: Flat) -> Flat:
    """The flattened grid with the numbers on dark tiles beside it dark on paper; as it was where there are no such."""
    raster = Raster.of(flat)
    reach = 2 * round(AROUND * raster.cell / 2) + 1
    paper = cv2.blur(cv2.dilate(flat.image, np.ones((reach, reach), np.uint8)), (reach, reach)).astype(np.float32)
    bright = (luminance(flat.image) / np.maximum(luminance(paper.astype(np.uint8)), 1)).astype(np.float32)
    tiles = _alike(list(_tiles(bright, raster)))
    if not tiles:
        return flat
    image = flat.image.copy()
    for tile in tiles:
        own, paper_here = bright[tile.window], paper[tile.window]
        level = float(np.median(own[tile.inner]))
        light = np.clip((own - level) / max(1 - level, DARK - level), 0, 1) * tile.inner
        colour = np.median(flat.image[tile.window][tile.inner], axis=0)
        image[tile.window] = (paper_here + (colour - paper_here) * light[..., None]).astype(np.uint8)
    return replace(flat, image=image)


def _alike(tiles: Sequence[_Tile]) -> list[_Tile]:
    """The tiles that are as high as most, where there are enough of them."""
    if not tiles:
        return []
    usual = float(np.median([tile.box[3] - tile.box[1] for tile in tiles]))
    alike = [tile for tile in tiles if abs(tile.box[3] - tile.box[1] - usual) <= ALIKE]
    return alike if len(alike) >= LEAST else []


def _tiles(bright: Floats, raster: Raster) -> Iterator[_Tile]:
    """What may be tiles, each in the middle of a row or column. `bright` is brightness as a part of the paper's."""
    dark = (bright < DARK).astype(np.uint8)
    dark[raster.slices((-BEYOND, -BEYOND, raster.columns + BEYOND, raster.rows + BEYOND))] = 0
    contours, _ = cv2.findContours(dark, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    for contour in contours:
        x, y, wide, high = cv2.boundingRect(contour)
        box = raster.box(x, y, wide, high)
        fits = min(wide, high) >= SMALLEST * raster.cell and extent(box) <= LARGEST and wide >= TALL * high
        if not fits or not _is_centred(box, raster) or cv2.contourArea(contour) < FULL * (wide - 1) * (high - 1):
            continue
        pad = raster.px(BEYOND)
        window = slice(max(0, y - pad), y + high + pad), slice(max(0, x - pad), x + wide + pad)
        area = np.zeros(bright[window].shape, np.uint8)
        cv2.drawContours(area, [contour], 0, 1, cv2.FILLED, offset=(-window[1].start, -window[0].start))
        inner = cv2.erode(area, np.ones((2 * raster.px(RIM) + 1,) * 2, np.uint8)) > 0
        if inner.any() and _holds_a_number(bright[window], (area > 0) & ~inner, inner):
            yield _Tile(window, box, inner)


def _holds_a_number(bright: Floats, rim: Mask, inner: Mask) -> bool:
    """Whether a tile is dark all round and something on it is light."""
    level = float(np.median(bright[rim]))
    light = bright[inner] > level + CLEAR / 2
    dark_all_round = (bright[rim] <= DARK).mean() >= UNBROKEN
    clear = float(np.percentile(bright[inner], 99)) >= level + CLEAR
    return bool(dark_all_round and clear and FIGURES[0] <= light.mean() <= FIGURES[1])


def _is_centred(box: tuple[float, float, float, float], raster: Raster) -> bool:
    at = beside(middle(box), raster.rows, raster.columns)
    return at is not None and abs(at.off) <= CENTRED
