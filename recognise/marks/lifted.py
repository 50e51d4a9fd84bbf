"""Small numbers in the corners of cells, lifted off the lattice lines that they touch.

What takes the lattice out takes all that is close to its lines as well, and a figure that begins on a line loses a
part. Here a line is taken off with the ink that it has where no number stands, and with nothing else.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import numpy.typing as npt

from recognise.marks.text_ink import BLACK_LINE, DASH, RUNS, TINTED, WALL, Print
from recognise.marks.text_places import Place
from recognise.pixels.frame import Grey

OVER = 0.1
"""In cells: so far over the lattice lines of its cell a number in the corner may reach."""
BARE, MOSTLY = (0.48, 0.95), 70
"""In cells: from where to where, along these lines, no number stands; percentile of their ink there that is theirs, for
other marks cross them and dashes have gaps."""
LOST = 0.1
"""Part of the ink in a corner that goes with the lattice where a figure touches it."""

_Profile = npt.NDArray[np.floating]
"""Ink across a lattice line, pixel by pixel, from `OVER` before it."""


def lifted(places: Iterable[Place], seen: Print) -> tuple[Grey, list[Place]]:
    """The ink of corners of cells without their lattice lines, and those corners in which it is more than what is left
    where the lattice is taken out."""
    ink, regained = np.zeros_like(seen.whole), []
    for place in places:
        left, top = place.box[:2]
        right, bottom = left + 1 - WALL, top + 1 - WALL
        below = seen.whole[seen.raster.slices((left - OVER, top + BARE[0], right, top + BARE[1]))]
        beside = seen.whole[seen.raster.slices((left + BARE[0], top - OVER, left + BARE[1], bottom))]
        own = seen.raster.slices((left - OVER, top - OVER, right, bottom))
        upright, level = (
            _of_line(np.percentile(part, MOSTLY, axis=axis), seen) for part, axis in ((below, 0), (beside, 1))
        )
        line = np.maximum(upright[None], level[:, None])
        above = np.maximum(seen.whole[own] - line, 0) / np.maximum(1 - line, TINTED)
        ink[own] = np.where(line < BLACK_LINE, above, 0)
        corner = seen.raster.slices(place.box)
        lost = np.maximum(ink[corner] - np.maximum(seen.drawn[corner], seen.floor), 0)
        if float(lost.sum()) >= LOST * float(ink[corner].sum()) > 0:
            regained.append(place)
    return ink, regained


def _of_line(profile: _Profile, seen: Print) -> _Profile:
    """What of the ink across a lattice line is its own: from its middle on until it no longer falls towards paper.
    Beyond that it is of other marks."""
    middle, near = seen.raster.px(OVER), seen.raster.px(DASH)
    least = RUNS * float(profile[middle - near : middle + near].max(initial=0.0))
    steps, line = np.arange(len(profile)), np.zeros_like(profile)
    for way in (steps[middle:], steps[:middle][::-1]):
        last = 1.0
        for at in way:
            if profile[at] <= seen.floor or (last <= least and profile[at] >= last):
                break
            last = line[at] = profile[at]
    return line
