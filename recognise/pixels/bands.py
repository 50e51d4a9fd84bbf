"""Where the drawn lines of the lattice run: their band on each edge, told from walls of cages and bars beside them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from recognise.pixels.frame import Grey, Raster

Floats = npt.NDArray[np.float64]
Band = tuple[int, int]
"""First and last index of a line in a profile across it."""

REACH = 0.2
"""How far from its lattice line, in cells, a drawn line may reach: heavy frames are a third of a cell wide."""
OFF = 0.08
"""How far from its lattice line, in cells, the darkest part of a drawn line may lie: what flattening leaves."""
FLANK = 0.3
"""A line's band ends where its profile falls below this share of its peak."""
DENSE = 30
"""Percentile along an edge at which a drawn line shows its width: marks that stand on the line cover less than the
rest. Dotted lines do not show there; they are measured by the median."""
ASIDE, OVER = 1, 3
"""Pixels beside its band at which a line's middle may lie, where paper is not quite flat; and pixels by which the two
sides of a white bar may be unevenly far from it."""
ALIKE = 2
"""Times as dark as the other one a side of a bar is at most."""
STEADY = 2
"""Pixels by which the places of one line differ from cell to cell at most, once paper is laid flat."""


@dataclass(frozen=True, slots=True)
class Lines:
    """The drawn line on each edge of the lattice: `first` and `last` pixel offset of its band from the lattice line
    and its `darkness`, 0 where none is drawn. Shape of each: (lines, cells along the line)."""

    first: npt.NDArray[np.int64]
    last: npt.NDArray[np.int64]
    darkness: Floats

    @property
    def width(self) -> npt.NDArray[np.int64]:
        """Pixels across each band, 0 where no line is drawn."""
        return np.where(self.darkness > 0, self.last - self.first + 1, 0)


def find_lines(ink: Grey, raster: Raster, floor: float) -> Lines:
    """The horizontal lines; hand over the transposed picture and raster for the vertical ones."""
    reach = raster.px(REACH)
    columns = raster.grid_slices()[1]
    first = np.zeros((raster.rows + 1, raster.columns), dtype=np.int64)
    last, darkness = first.copy(), np.zeros(first.shape)
    for line in range(raster.rows + 1):
        y = raster.origin + line * raster.cell
        band = ink[y - reach : y + reach + 1, columns].reshape(2 * reach + 1, raster.columns, raster.cell)
        dense, usual = np.percentile(band, (DENSE, 50), axis=-1)
        profiles = np.where(dense.max(axis=0) > usual.max(axis=0) / 2, dense, usual)
        found = [list(_bands(profile, floor, raster.px(OFF))) for profile in profiles.T]
        track = _track(found, 2 * reach)
        for column, bands in enumerate(found):
            if bands:
                start, stop = min(bands, key=lambda band: abs(sum(band) - track))
                first[line, column], last[line, column] = start - reach, stop - reach
                darkness[line, column] = profiles[start : stop + 1, column].max()
        darkness[line] *= ~_beside(first[line], last[line], darkness[line], profiles)
    return Lines(first, last, darkness)


def _track(found: Sequence[Sequence[Band]], middle: int) -> int:
    """Where a line runs, as first and last index of its band added up: where bands lie on most of its edges, and of
    such places the nearest to `middle`. Walls of cages, often darker than a thin line, run beside it in some of its
    cells, now on one side and now on the other."""

    def support(place: int) -> tuple[int, int]:
        near = sum(any(abs(sum(band) - place) <= 2 * STEADY for band in bands) for bands in found)
        return near, -abs(place - middle)

    return max((sum(band) for bands in found for band in bands), key=support, default=middle)


def _beside(
    first: npt.NDArray[np.int64], last: npt.NDArray[np.int64], darkness: Floats, profiles: npt.NDArray[np.floating]
) -> npt.NDArray[np.bool_]:
    """Which bands along a lattice line lie beside it, with as much ink on its other side: those of white bars, which
    hide the line. A line that bows has none there, and the wall of a cage is darker than it."""
    seen = darkness > 0
    if not seen.any():
        return seen
    middle = np.median((first + last)[seen]) / 2
    aside = (first - ASIDE > middle) | (middle > last + ASIDE)
    over = np.rint(2 * middle - (first + last) / 2).astype(np.int64) + len(profiles) // 2
    near = np.clip(over + np.arange(-OVER, OVER + 1)[:, None], 0, len(profiles) - 1)
    mirrored = np.take_along_axis(profiles, near, axis=0).max(axis=0)
    alike = (darkness / ALIKE < mirrored) & (mirrored < darkness * ALIKE)
    return np.asarray(seen & aside & alike, np.bool_)


def _bands(profile: npt.NDArray[np.floating], floor: float, off: int) -> Iterator[Band]:
    """The lines in a profile across an edge. The darkest part of each lies within `off` of the middle."""
    base = float(np.minimum(profile[0], profile[-1]))
    middle = len(profile) // 2
    near = np.arange(middle - off, middle + off + 1)
    for peak in near[profile[near] >= base + floor].tolist():
        band = _band(profile, base, peak)
        if band is not None and peak == band[0] + int(profile[band[0] : band[1] + 1].argmax()):
            yield band


def _band(profile: npt.NDArray[np.floating], base: float, peak: int) -> Band | None:
    """First and last index of the line that is darkest at `peak`; None where it does not end."""
    above = profile > base + FLANK * (float(profile[peak]) - base)
    first = last = peak
    while first > 0 and above[first - 1]:
        first -= 1
    while last < len(above) - 1 and above[last + 1]:
        last += 1
    if first == 0 or last == len(above) - 1:
        return None
    return first, last
