"""Which simple figure stands about a place: how far its ink reaches in each direction, held against circle, square,
diamond and bar."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from ingest.page import Point
from recognise.marks.discs import RAYS, rays_from
from recognise.pixels.frame import Grey, Raster

Floats = npt.NDArray[np.float64]

FIGURES = ("circle", "square", "diamond", "bar")
EDGE = 0.5
"""A figure reaches as far as its ink is at least this part of its peak."""
LATTICE = math.radians(22)
"""Directions so near to that of a lattice line under the figure say nothing: its ink goes on there."""
OFF = 0.06
"""By how much of its size the reach of a figure differs from that of its ideal, blurred print being what it is."""
LEAST = 0.02
"""No figure is held less likely than this next to the best one."""
SLIM = (1.7, 2.4, 3.4)
"""Bars are so many times as long as they are wide."""

_TURNS = np.arange(RAYS) * 2 * np.pi / RAYS
_COS, _SIN = np.abs(np.cos(_TURNS)), np.abs(np.sin(_TURNS))


def _oblong(wide: float, tall: float) -> Floats:
    return np.asarray(1 / np.maximum(_COS / wide, _SIN / tall))


_IDEALS: dict[str, tuple[Floats, ...]] = {
    "circle": (np.ones(RAYS),),
    "square": (_oblong(1, 1),),
    "diamond": (1 / (_COS + _SIN),),
    "bar": tuple(_oblong(*sides) for slim in SLIM for sides in ((slim, 1.0), (1.0, slim))),
}


def silhouette(
    place: Point, ink: Grey, raster: Raster, floor: float, sizes: tuple[float, float], along: float | None = None
) -> dict[str, float] | None:
    """How likely each figure makes the ink about a place, next to the likeliest (1). `sizes` are the least and the most
    that the figure reaches from its middle, in cells; `along` is the direction in radians of a lattice line that runs
    under it. None where no figure of such a size stands."""
    reach = _reach(place, ink, raster, floor, sizes[1])
    free = np.ones(RAYS, np.bool_) if along is None else np.abs(np.sin(_TURNS - along)) > math.sin(LATTICE)
    if reach is None or not sizes[0] <= float(np.median(reach[free])) <= sizes[1]:
        return None
    off = {figure: min(_misfit(reach[free], ideal[free]) for ideal in ideals) for figure, ideals in _IDEALS.items()}
    best = min(off.values())
    return {figure: max(LEAST, math.exp((best**2 - own**2) / (2 * OFF**2))) for figure, own in off.items()}


def _misfit(reach: Floats, ideal: Floats) -> float:
    """How far the reach differs from that of a figure of the size that fits best: the root of the mean square, as part
    of that size, over all directions but the quarter that fits worst, in which other ink may stand."""
    ratio = reach / ideal
    off = np.sort(np.abs(ratio / np.median(ratio) - 1))
    return float(np.sqrt(np.mean(off[: max(1, 3 * len(off) // 4)] ** 2)))


def _reach(place: Point, ink: Grey, raster: Raster, floor: float, most: float) -> Floats | None:
    """How far the ink about a place reaches in each direction, in cells, hollow or not."""
    rays = rays_from(ink, np.array([place]), raster, most)[0]
    peaks = rays.max(axis=1)
    peak = float(np.median(peaks))
    if peak <= floor:
        return None
    inked = rays > EDGE * peak
    last = rays.shape[1] - 1 - np.argmax(inked[:, ::-1], axis=1)
    return np.where(inked.any(axis=1), (last + 0.5) / raster.cell, 0.0)


def together(found: Sequence[dict[str, float] | None]) -> dict[str, float] | None:
    """What figures say that look alike: n of them, seen through the same blur, count as the root of n."""
    known = [one for one in found if one is not None]
    if not known:
        return None
    sums = {figure: sum(math.log(one[figure]) for one in known) / math.sqrt(len(known)) for figure in FIGURES}
    best = max(sums.values())
    return {figure: max(LEAST, math.exp(value - best)) for figure, value in sums.items()}
