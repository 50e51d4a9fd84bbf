"""Frames of two lines: beside the line that is taken for the outline of the grid there runs another, all along.

One of the two is the lattice's own, here the inner and there the outer one; what is left of the other is no mark."""

from __future__ import annotations

from collections.abc import Iterator

import cv2
import numpy as np

from recognise.pixels.frame import Grey, Mask, Raster

REACH = 0.2
"""In cells: how far from the outline of the grid both lines lie; a cage's walls lie as near, but not on all sides."""
TIMES = 2.0
"""Times what noise reaches at most that the ink of a line is."""
PALER = 0.35
"""Part of the darker line's ink that the other has; between them there is less, however blurred they are."""
FAINTER = 0.5
"""Of that: what it needs along the side that is left when three sides have two lines. A hairline falls between two
pixels of a scan along one side and not along another, and a frame is the same all round."""
ALL_ALONG, CLEAR, BLURRED = 0.8, 0.3, 0.55
"""Part of a side along which there are two lines, or a cage's wall beside them; the part of it along which there are
just two. Of a frame that has them on all sides the usual part is as large, and each side may have less: blur makes one
of them in places."""
SIDES = 3
"""Sides of the grid, of four, that have two lines; marks may hide them along one."""
OUTERMOST = (20, 80)
"""Percentiles of where the outer face of the one and the inner face of the other lie along a side."""
SHORT = 2
"""Widths of the band along a side: what is shorter in it is no line of the frame, but the rim of a ring that stands
beside it, or an end of its own line."""
FADE = 2
"""Pixels of blur beside a line."""


Strip = tuple[slice, slice, bool]
"""Rows, columns, and whether it lies along rows."""


def doubled_strips(ink: Grey, raster: Raster, floor: float) -> list[Strip]:
    """The strips that a frame of two lines takes up, with what lies between them; none where the frame is one line.
    `ink` is ink from 0 to 1 with the lattice, `floor` what paper and noise reach."""
    found = list(_strips(ink, raster, floor, PALER))
    strips = [strip for strip, part in found if part >= ALL_ALONG]
    if len(strips) == SIDES:
        fainter = [strip for strip, part in _strips(ink, raster, floor, FAINTER * PALER) if part >= ALL_ALONG]
        strips += [strip for strip in fainter if not any(_same_side(strip, other) for other in strips)]
    if len(strips) >= SIDES:
        return strips
    all_round = len(found) > SIDES and np.mean([part for _, part in found]) >= ALL_ALONG
    return [strip for strip, _ in found] if all_round else []


def _same_side(one: Strip, other: Strip) -> bool:
    """Whether two strips lie along the same side of a grid."""
    if one[2] != other[2]:
        return False
    (first, second) = ((strip[0] if strip[2] else strip[1]) for strip in (one, other))
    return bool(first.start < second.stop and second.start < first.stop)


def _strips(ink: Grey, raster: Raster, floor: float, paler: float) -> Iterator[tuple[Strip, float]]:
    """The strip along each side on which there are two lines, the paler with such a part of the other's ink, and the
    part of the side along which they are told apart."""
    reach = raster.px(REACH)
    rows, columns = raster.grid_slices()
    for horizontal, along, other in ((True, columns, rows), (False, rows, columns)):
        for side in (other.start, other.stop):
            across = slice(max(0, side - reach), side + reach + 1)
            band = ink[across, along] if horizontal else ink[along, across].T
            faces = _faces(band > np.maximum(TIMES * floor, paler * band.max(axis=0)))
            if faces is not None:
                strip = slice(max(0, across.start + faces[0] - FADE), across.start + faces[1] + 1 + FADE)
                wide = slice(max(0, along.start - reach), along.stop + reach)
                yield ((strip, wide, True) if horizontal else (wide, strip, False)), faces[2]


def _faces(inked: Mask) -> tuple[int, int, float] | None:
    """Where, across a band (across, along), two lines begin and end, and along which part of it there are two; None
    where there are not."""
    # A dashed or broken line is one: along the line its gaps are closed.
    closed = cv2.morphologyEx(inked.astype(np.uint8), cv2.MORPH_CLOSE, np.ones((1, 2 * len(inked) // 2 + 1), np.uint8))
    _, labels, stats, _ = cv2.connectedComponentsWithStats(closed, connectivity=8)
    closed &= (stats[:, cv2.CC_STAT_WIDTH] >= SHORT * len(inked))[labels]
    begins = np.diff(np.pad(closed, ((1, 1), (0, 0))).astype(np.int8), axis=0) > 0
    lines = begins.sum(axis=0)
    two, part = lines == 2, float(np.mean(lines >= 2))
    if part < BLURRED or two.mean() < CLEAR:
        return None
    firsts = closed[:, two].argmax(axis=0)
    lasts = len(closed) - 1 - closed[::-1, two].argmax(axis=0)
    low, high = OUTERMOST
    return int(np.percentile(firsts, low)), int(np.percentile(lasts, high)), part
