"""Lattice lines that still bow in a flattened grid are followed and made straight.

The mesh bends from lattice point to lattice point; between two of them, and where smoothing held a point back at a
fold, paper may bend more. Each line is followed by dynamic programming along the darkest way near its place, as an
active contour with open ends; where it runs beside its place all along and nothing is left at the place, the picture is
taken from the page anew.
"""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

from ingest import channels
from recognise.evidence import Flat
from recognise.grids.flatten import taken_anew

Floats = npt.NDArray[np.float32]

REACH = 0.2
"""In cells: how far from its place a line is followed. Dashes of cages lie as near, but are not joined to the line."""
THICK = 5
"""Pixels across a line over which its ink is averaged: thick lines are as wide."""
MOST, MIDDLE = 0.25, 0.2
"""More ink than this makes no way better, for what crosses a line is no part of it; what the averaged ink counts."""
STRIDE = 2
"""Pixels along a line from one place to the next."""
STEEP = 2
"""Places along a line in which it moves by one pixel at most."""
TURN = 0.02
"""Ink that a pixel to the side must gain."""
OFF = 0.045
"""In cells: a line that lies less far off is where it should be: its own width hides it."""
BESIDE, NEARLY = 0.03, 0.7
"""In cells from its place, and part of its usual ink: where each line has so much ink all along, none is followed."""
CLEAR = 0.12
"""Ink by which a line stands out from what is on both sides of it."""
LEFT = 0.4
"""Part of a line's ink that is left at its place at most, where it runs beside it."""
GAPS = 25
"""Percentile of the ink at a place along a stretch that tells whether a line is left there."""
MIRROR = 2
"""Pixels by which the middle of a mark that stands on a line may be off."""
LEAST = 0.05
"""Ink that is none."""
ALL_ALONG = 0.5
"""Part of a line's usual ink that it has at every place."""
WINDOW = 0.12
"""In cells: over so much of a line its ink is averaged, so that dotted lines are lines."""
BAR, BARE, ASIDE = 0.35, 0.5, 0.2
"""In cells: a shorter stretch that strays is no bow of paper where the line breaks off on both sides of it, no farther
away than the last, to a part of its usual ink: that is the bar of a figure, on a patch that cuts the line off."""
SMOOTH = 0.06
"""In cells: smoothing of the way along a line."""


def straightened(flat: Flat) -> Flat:
    """The flattened grid, with lines that bow made straight; the same where none does."""
    ink = np.asarray((255 - channels.least(flat.image)) / np.float32(255), np.float32)
    down = _offsets(ink, flat.rows, flat.columns, flat)
    across = _offsets(np.ascontiguousarray(ink.T), flat.columns, flat.rows, flat)
    if flat.page is None or (not down.any() and not across.any()):
        return flat
    shift_y = _spread(down, flat.rows, flat, ink.shape)
    shift_x = _spread(across, flat.columns, flat, ink.shape[::-1]).T
    height, width = ink.shape
    x, y = np.meshgrid(np.arange(width, dtype=np.float32), np.arange(height, dtype=np.float32))
    x, y = (x + shift_x).astype(np.float32), (y + shift_y).astype(np.float32)
    map_x, map_y = (cv2.remap(part, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE) for part in
                    (flat.map_x, flat.map_y))  # fmt: skip
    return taken_anew(flat, np.asarray(map_x, np.float32), np.asarray(map_y, np.float32))


def _offsets(ink: Floats, lines: int, cells: int, flat: Flat) -> Floats:
    """For each line (lines + 1) and each pixel along it how far below its place it runs, in pixels; 0 where it is at
    its place or not surely followed."""
    origin, reach = round(flat.margin * flat.cell), round(REACH * flat.cell)
    along = slice(origin, origin + cells * flat.cell)
    rows = origin + flat.cell * np.arange(lines + 1)[:, None] + np.arange(-reach, reach + 1)
    bands = cv2.blur(ink, (STRIDE, 1))[:, along][:, ::STRIDE][rows]
    bands = np.maximum(bands - np.median(bands, axis=1, keepdims=True), 0)
    found = np.zeros((lines + 1, bands.shape[2]), np.float32)
    if not _strays(bands, reach, flat.cell):
        return np.zeros((lines + 1, cells * flat.cell), np.float32)
    # Along the middle of a thick line, not along its side.
    ways = _ways(np.minimum(bands, MOST) + MIDDLE * np.stack([cv2.blur(band, (1, THICK)) for band in bands]))
    for line in range(lines + 1):
        found[line] = _believed(bands[line], ways[line], reach, flat.cell)
    sigma = SMOOTH * flat.cell / STRIDE
    smooth = cv2.GaussianBlur(found, (0, 0), sigmaX=sigma, sigmaY=1e-6, borderType=cv2.BORDER_REPLICATE)
    return np.asarray(cv2.resize(smooth, (cells * flat.cell, lines + 1), interpolation=cv2.INTER_LINEAR), np.float32)


def _strays(bands: Floats, reach: int, cell: int) -> bool:
    """Whether any of the lines is not seen near its place all along."""
    off, window = round(BESIDE * cell), max(1, round(WINDOW * cell / STRIDE))
    near = cv2.blur(bands[:, reach - off : reach + off + 1].max(axis=1), (2 * window + 1, 1))
    return bool((near.min(axis=1) < NEARLY * np.median(near, axis=1)).any())


def _ways(bands: Floats) -> npt.NDArray[np.int64]:
    """The darkest way along each band (lines, places across, places along): the place across at each place along."""
    lines, height, length = bands.shape
    best = np.zeros((lines, height), np.float32)
    came = np.zeros((length, lines, height), np.int8)
    moves = np.full((3, lines, height), -np.inf, bands.dtype)
    for at in range(length):
        if at % STEEP == 0:
            moves[0, :, 1:] = best[:, :-1] - TURN
            moves[1] = best
            moves[2, :, :-1] = best[:, 1:] - TURN
            move = moves.argmax(axis=0)
            best = np.take_along_axis(moves, move[None], 0)[0]
            came[at] = move - 1
        best = best + bands[:, :, at]
    ways = np.zeros((lines, length), np.int64)
    here = best.argmax(axis=1)
    for at in range(length - 1, -1, -1):
        ways[:, at] = here
        here = here + came[at, np.arange(lines), here]
    return ways


def _believed(band: Floats, way: npt.NDArray[np.int64], reach: int, cell: int) -> Floats:
    """How far the way runs beside the middle of the band, 0 over each stretch where that is not sure."""
    places = np.arange(band.shape[1])
    window = max(1, round(WINDOW * cell / STRIDE))
    on_way = _averaged(band[way, places], window)
    own = _averaged(_width(band, way), window) / np.float32(2)
    off = (way - reach).astype(np.float32)
    nearer = _nearer(np.asarray(cv2.blur(band, (2 * window + 1, 1)), np.float32), off, own, reach)
    beside = np.abs(off) >= 1
    result = np.zeros_like(off)
    usual = float(np.median(on_way))
    strays = _without_bars(np.abs(off) >= OFF * cell, band[way, places] <= BARE * usual, cell)
    for start, stop in _runs(beside):
        part = slice(start, stop)
        far = strays[part]
        if not far.any() or usual < CLEAR or on_way[part].min() < ALL_ALONG * usual:
            continue
        # A dark wall of a cage beside a pale line: what is left is measured by the line.
        nothing = LEFT * min(on_way[part][far].mean(), usual)
        if np.percentile(nearer[part][far], GAPS) <= nothing:  # text that stands there has gaps
            result[part] = off[part]
    return result


def _without_bars(strays: npt.NDArray[np.bool_], bare: npt.NDArray[np.bool_], cell: int) -> npt.NDArray[np.bool_]:
    """Where a way strays from its line, without the bars of figures; `bare` is where it has no ink."""
    left, aside = strays.copy(), max(1, round(ASIDE * cell / STRIDE))
    for start, stop in _runs(strays):
        breaks_off = bare[max(0, start - aside) : start].any() and bare[stop : stop + aside].any()
        if breaks_off and stop - start <= BAR * cell / STRIDE:
            left[start:stop] = False
    return left


def _nearer(band: Floats, off: Floats, own: Floats, reach: int) -> Floats:
    """The most ink at each place along a band that is as near to its middle as the way, on either side, and not the
    way's own: `own` is half its width, for a thick line covers its place although it runs beside it. What runs there is
    the line itself, or the other side of an outline about it, a white bar's."""
    aside = (np.arange(len(band))[:, None] - reach) * np.sign(off)
    near = (aside >= -np.abs(off) - MIRROR) & (aside < np.abs(off) - own - 1)
    return np.asarray(np.where(near, band, 0).max(axis=0), np.float32)


def _width(band: Floats, way: npt.NDArray[np.int64]) -> Floats:
    """How wide the line is at each place, in pixels: what hangs together across with at least half of its ink."""
    places = np.arange(band.shape[1])
    inked = band >= np.maximum(band[way, places] / 2, LEAST)
    wide = inked[way, places].astype(np.float32)
    for side in (-1, 1):
        goes_on = inked[way, places]
        for step in range(1, THICK + 2):
            goes_on &= inked[np.clip(way + side * step, 0, len(band) - 1), places]
            wide += goes_on
    return wide


def _averaged(values: Floats, window: int) -> Floats:
    return np.asarray(cv2.blur(values.reshape(1, -1).astype(np.float32), (2 * window + 1, 1))[0], np.float32)


def _runs(flags: npt.NDArray[np.bool_]) -> list[tuple[int, int]]:
    """First and one past the last place of each run of True."""
    ends = np.flatnonzero(np.diff(np.concatenate([[0], flags.astype(np.int8), [0]])))
    return list(zip(ends[::2].tolist(), ends[1::2].tolist(), strict=True))


def _spread(offsets: Floats, lines: int, flat: Flat, shape: tuple[int, ...]) -> Floats:
    """Offsets of lines spread over the whole picture: between two lines by their distances, beside the grid fading."""
    origin = round(flat.margin * flat.cell)
    field = np.zeros(shape, np.float32)
    place = (np.arange(shape[0]) - origin) / flat.cell
    known = np.concatenate([[-1.0], np.arange(lines + 1), [lines + 1.0]])
    values = np.pad(offsets, ((1, 1), (0, 0)))
    low = np.clip(np.searchsorted(known, place, side="right") - 1, 0, len(known) - 2)
    part = np.clip((place - known[low]) / (known[low + 1] - known[low]), 0, 1)[:, None].astype(np.float32)
    whole = values[low] * (1 - part) + values[low + 1] * part
    field[:, origin : origin + offsets.shape[1]] = whole
    field[:, :origin] = whole[:, :1]
    field[:, origin + offsets.shape[1] :] = whole[:, -1:]
    return field
