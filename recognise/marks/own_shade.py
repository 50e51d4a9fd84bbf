"""Numbers on lattice lines, told by their own shade: print sets grey figures on black lines as on paper.

Such a figure is dark on paper and light on its line. What tells it from both is the shade that it shows beside the
line. Where the line has that shade itself, as its edges do, nothing tells it, and what lies before and behind says what
is there.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import numpy.typing as npt

from recognise.marks.text_ink import BLACK_LINE, COLOURED, TINTED, Print, inner, lines_beside, neutral
from recognise.marks.text_places import Place
from recognise.pixels.frame import Grey

OWN_SHADE = 80
"""Percentile of the ink beside a line that is of the figures themselves: their blurred rims are paler."""
APART = 0.08
"""Ink by which a line is darker or paler at least, pixel by pixel across it, than figures that can be told from it; the
grain of paper has half of that."""
LEAST = 0.01
"""Part of a place that figures, or a coloured line, cover at least."""


def in_own_shade(places: Iterable[Place], seen: Print) -> tuple[Grey, list[Place]]:
    """How surely each pixel is of figures by their shade, and the places on edges where something has one. Where a
    line hides all of a figure that stands beside it elsewhere, its shade is that of the others: print has one."""
    found, grey = np.zeros_like(seen.whole), neutral(seen)
    looks = {place: _without_colours(place, grey, seen) for place in places if not place.radius}
    own = {place: _shade(*look, seen.floor) for place, look in looks.items()}
    known = [shade for shade in own.values() if shade is not None]
    if not known:
        return found, []
    usual = float(np.median(known))
    for place, (ink, sides) in looks.items():
        found[seen.raster.slices(inner(place))] = _of_shade(ink, sides, own[place] or usual)
    return found, list(looks)


def _shade(ink: Grey, sides: tuple[Grey, Grey], floor: float) -> float | None:
    """The shade of what stands beside a line, as seen to both of its sides; None where nothing does."""
    beside = np.broadcast_to(np.maximum(*sides) <= floor, ink.shape)
    own = ink[beside & (ink > TINTED)]
    return float(np.percentile(own, OWN_SHADE)) if own.size >= LEAST * ink.size else None


def _without_colours(place: Place, grey: Grey, seen: Print) -> tuple[Grey, tuple[Grey, Grey]]:
    """The ink of the part of a place that is looked at, and that of its lattice line to both sides; without that of a
    coloured line, if one runs there too. `grey` is the ink of the lightest channel."""
    window = seen.raster.slices(inner(place))
    coloured = (seen.whole[window] - grey[window] >= COLOURED) & (grey[window] < BLACK_LINE)
    if coloured.mean() < LEAST:
        return seen.whole[window], lines_beside(place, seen.whole, seen.raster)
    tint = float(np.median(grey[window][coloured]))
    one, other = lines_beside(place, grey, seen.raster)
    ink, one, other = (np.maximum(own - tint, 0) / (1 - tint) for own in (grey[window], one, other))
    return ink, (one, other)


def _of_shade(ink: Grey, sides: tuple[Grey, Grey], shade: float) -> Grey:
    """How far ink is from that of the line alone on the way to the shade of figures, and no paler than these. A line
    that leans begins and ends elsewhere on its two `sides`."""
    paler, darker = np.minimum(*sides), np.maximum(*sides)
    told = (darker <= shade - APART) | (paler >= shade + APART)
    line = np.where(darker < shade, darker, paler)
    over = np.clip((ink - line) / np.where(told, shade - line, 1.0), 0, 1)
    return np.asarray(_bridged(np.minimum(over, ink / shade), told), np.float32)


def _bridged(values: Grey, told: npt.NDArray[np.bool_]) -> Grey:
    """Values, with those across the line that are not `told` put between the nearest that are."""
    if told.shape[0] == 1:
        return _bridged(values.T, told.T).T
    at, known = np.arange(len(values)), told[:, 0]
    return np.stack([np.interp(at, at[known], column[known]) for column in values.T], axis=1) if known.any() else values
