"""How much ink stands at each pixel, and the same without the grid's own lines.

Ink is measured against the ground under it, in the colour channel where it shows most, so that pale yellow counts as
well as black. A lattice line is taken out by bridging its band from what stands on both sides: ink that crosses the
line (a tube, a digit that touches it, a thin stroke at any angle up to 45 degrees) stands on both and stays.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Edges, Flat
from recognise.pixels.bands import Lines, find_lines
from recognise.pixels.double_lines import with_second_strokes
from recognise.pixels.doubled import doubled_strips
from recognise.pixels.frame import Colours, Grey, Mask, Raster
from recognise.pixels.ground import Ground
from recognise.pixels.texture import print_mask, without_shade

NOISE_FLOOR = 0.05
"""Below this share of ink nothing is ink: paper grain and JPEG noise on clean scans reach 3 to 4 %."""
NOISE_TIMES = 4.0
"""Ink stands out by this many times the typical deviation of blank paper."""
WHOLE = 0.6
"""Where the band is dark all across, its faded sides too, to this part of the line's darkness, a mark stands on it."""
BEFORE = 3
"""Pixels before the band at which a stroke must already run in the direction in which it is carried across."""
FADE = 2
"""Pixels of antialiasing and blur at the sides of a band."""


@dataclass(frozen=True, slots=True)
class Ink:
    """`all` is the ink with the grid, `drawn` without it; `relative` is the picture as if on white paper (1 is paper).
    `grid` marks the pixels that the grid's lines cover, with a doubled frame. `floor` is the least that counts as ink
    here. `unsifted` is `drawn` before shade and texture of the paper were taken away, `level` without shade but with
    all texture: the guard that looks at all ink must not be blind to what the reader chose not to see. `paper` is the
    colour of the ground at each pixel, RGB, 0 to 255."""

    all: Grey
    drawn: Grey
    unsifted: Grey
    relative: Colours
    grid: Mask
    floor: float
    horizontal: Lines
    vertical: Lines
    level: Grey
    paper: Colours


def measure_ink(flat: Flat, ground: Ground) -> Ink:
    """Ink of a flattened grid with and without its lattice lines."""
    raster = Raster.of(flat)
    relative = np.minimum(flat.image / ground.colour, 1.0).astype(np.float32)
    ink = np.asarray(1.0 - np.minimum.reduce(cv2.split(relative)), np.float32)
    floor = _floor(ink, raster)
    horizontal = find_lines(ink, raster, floor)
    vertical = find_lines(ink.T, raster.turned, floor)
    horizontal, vertical = with_second_strokes(horizontal, vertical, ink, raster, floor)
    drawn, grid = ink.copy(), np.zeros(ink.shape, dtype=bool)
    _erase(drawn, grid, horizontal, raster)
    _erase(drawn.T, grid.T, vertical, raster.turned)
    for rows, columns, lies in doubled_strips(ink, raster, floor):
        grid[rows, columns] = True
        band, along, turned = (rows, columns, raster) if lies else (columns, rows, raster.turned)
        _bridge_over(drawn if lies else drawn.T, _outside(band, turned), along)
    unsifted = drawn
    level = without_shade(unsifted, raster)
    drawn = np.where(print_mask(level, raster, floor), level, np.float32(0))
    return Ink(ink, drawn, unsifted, relative, grid, floor, horizontal, vertical, level, ground.colour)


def edges_of(ink: Ink, raster: Raster) -> Edges:
    """The edges as measured here, for callers that have no better ones."""
    return Edges(
        ink.horizontal.width / raster.cell,
        ink.vertical.width.T / raster.cell,
        ink.horizontal.darkness,
        ink.vertical.darkness.T,
    )


def _floor(ink: Grey, raster: Raster) -> float:
    """What noise on blank paper does not reach, from the quieter half of the grid."""
    inside = ink[raster.grid_slices()][::2, ::2]
    quiet = inside[inside <= np.median(inside)]
    return max(NOISE_FLOOR, NOISE_TIMES * float(quiet.std()))


def _erase(ink: Grey, grid: Mask, lines: Lines, raster: Raster) -> None:
    """Take the horizontal lines out of `ink` (changed in place) and mark their pixels in `grid`."""
    start = raster.origin
    for line in range(raster.rows + 1):
        y = start + line * raster.cell
        firsts, lasts = _filled(lines, line)
        for first, last in set(zip(firsts.tolist(), lasts.tolist(), strict=True)):
            if first > last:
                continue
            same = (firsts == first) & (lasts == last)
            along = np.zeros(ink.shape[1], dtype=bool)
            along[start : start + raster.columns * raster.cell] = np.repeat(same, raster.cell)
            along = _widened(along, FADE + last - first)
            top, bottom = y + first - FADE, y + last + FADE
            span, inner = _reached(along, bottom - top + 2 + BEFORE)
            above, below = ink[[top - 1, top - 1 - BEFORE], span], ink[[bottom + 1, bottom + 1 + BEFORE], span]
            bridged = _bridge(above, below, bottom - top + 1)[:, inner]
            along, columns = along[span][inner], slice(span.start + inner.start, span.start + inner.stop)
            band = ink[top : bottom + 1, columns]
            whole = band.min(axis=0)
            bridged = np.maximum(bridged, np.where(whole > WHOLE * lines.darkness[line].max(), whole, 0))
            np.copyto(band, np.minimum(band, bridged), where=along)
            grid[top : bottom + 1, columns][:, along] = True


def _reached(along: npt.NDArray[np.bool_], most: int) -> tuple[slice, slice]:
    """The part of a row that strokes can be carried over from to the pixels `along` a line, `most` pixels away, and
    where in it these are."""
    there = np.flatnonzero(along)
    first, stop = int(there[0]), int(there[-1]) + 1
    start = max(0, first - most)
    return slice(start, min(len(along), stop + most)), slice(first - start, stop - start)


def _outside(band: slice, raster: Raster) -> slice:
    """The part of a band of rows that lies outside of the grid: within, walls of cages run along its frame."""
    grid = raster.grid_slices()[0]
    middle = (grid.start + grid.stop) / 2
    return (
        slice(band.start, min(band.stop, grid.start))
        if band.start < middle
        else slice(max(band.start, grid.stop), band.stop)
    )


def _bridge_over(ink: Grey, band: slice, along: slice) -> None:
    """Take what stands in a band of rows out of `ink` (changed in place), but for what runs through it: a little arrow
    that touches the outer line of a frame is parted from it."""
    if not BEFORE < band.start < band.stop < len(ink) - BEFORE:
        return
    part = ink[:, along]
    above, below = part[[band.start - 1, band.start - 1 - BEFORE]], part[[band.stop, band.stop + BEFORE]]
    np.minimum(part[band], _bridge(above, below, band.stop - band.start), out=part[band])


def _filled(lines: Lines, line: int) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.int64]]:
    """First and last offset for each cell along a line. Where no line was seen (there is none, or a tube hides it) the
    band of the others on it is taken: what crosses a band survives its bridging, so one too many does no harm."""
    seen = lines.darkness[line] > 0
    if not seen.any():
        return np.ones(seen.shape, dtype=np.int64), np.zeros(seen.shape, dtype=np.int64)
    usual_first, usual_last = (int(np.median(band[line][seen])) for band in (lines.first, lines.last))
    return np.where(seen, lines.first[line], usual_first), np.where(seen, lines.last[line], usual_last)


def _widened(flags: npt.NDArray[np.bool_], by: int) -> npt.NDArray[np.bool_]:
    return np.convolve(flags, np.ones(2 * by + 1), mode="same") > 0.5


def _bridge(above: Grey, below: Grey, height: int) -> Grey:
    """`height` rows between two pairs of rows (nearest first): at each pixel the strongest ink that a straight stroke,
    up to 45 degrees off the perpendicular, carries from one pair to the other."""
    most = height + 1 + BEFORE
    rows = np.concatenate([above, below])
    shifted = _shifts(rows, most)
    best = np.zeros((height, rows.shape[1]), dtype=np.float32)
    for shift in _ways_across(height):
        np.maximum(best, shifted[np.arange(len(rows))[:, None], most - shift].min(axis=0), out=best)
    return best


@lru_cache(maxsize=64)
def _ways_across(height: int) -> npt.NDArray[np.int64]:
    """For each straight way across `height` rows how many pixels to the side it goes from each row of the two pairs
    beside them (above, below; nearest first) to each row between them: ways x 4 x rows."""
    places = np.arange(1, height + 1)
    away = [far + np.sign(far[0]) * before for far in (places, places - (height + 1)) for before in (0, BEFORE)]
    slopes = np.arange(-(height + 1), height + 2) / (height + 1)
    return np.asarray(np.rint(slopes[:, None, None] * np.array(away)), np.int64)


def _shifts(rows: Grey, most: int) -> Grey:
    """Rows of pixels, each moved by -`most` to `most` pixels to the left, one below the other; their ends go on
    outside."""
    wide = cv2.copyMakeBorder(rows, 0, 0, most, most, cv2.BORDER_REPLICATE)
    return np.asarray(np.lib.stride_tricks.sliding_window_view(wide, rows.shape[1], axis=1))


def soften(ink: Grey, sigma: float) -> Grey:
    """Gaussian smoothing, `sigma` in pixels."""
    return np.asarray(cv2.GaussianBlur(ink, (0, 0), sigma), np.float32)
