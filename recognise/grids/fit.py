"""How many rows and columns: the finest even spacing at which lines run right across a candidate."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache

import cv2
import numpy as np
import numpy.typing as npt

from recognise.grids.candidates import Frame, Outline
from recognise.grids.ink import Contrast, Grey, across_rows, odd
from recognise.grids.warp import Points, Pyramid
from recognise.quantiles import median

BLOCKS, COARSE, FINE = range(3, 4), range(4, 8), range(8, 26)
"""Counts of cells looked for. Lines are told from areas by their thickness: a frame around few cells may be as thick as
a cell of many. Three are the blocks of a grid whose thin lines are lost."""
THICKEST = 0.22
"""The thickest line, in cells of the coarsest spacing looked for."""
SIDE = 640
"""Pixels of the longer side of a candidate laid flat: 25 pixels a cell for the finest grid."""
MARGIN = 0.06
"""Page shown around a candidate, as a share of its side."""
THRESHOLDS = (0.04, 0.08, 0.16, 0.3)
"""Contrasts above which a pixel counts as line; each candidate uses the one that shows its lattice best."""
NOISE_FACTOR = 3.0
"""A threshold below this many times the typical contrast of bare paper would count paper as line."""
GRAIN, GRAINY = 7, 0.08
"""Pixels along the lines over which grain is evened out where it is so strong, against which paper is no line: pale
lines stay, for they go on, and the grain of a photo in dim light does not."""
KEENLY = 0.04
"""The same where a page seems to have no puzzle: otherwise the tables beside it pass for grids in such grain."""
EVENED = (0.04, 0.055, 0.08, 0.16, 0.3)
"""The same of what grain is evened out of: the palest lines stand out a little more than grain does."""
SHIFTS = np.arange(-4, 5) * 0.005
ENDS = np.stack(np.meshgrid(SHIFTS, 1 + SHIFTS), -1).reshape(-1, 2)
"""Where the outermost lines may lie: half a thick frame off the outline."""
SQUARISH = 1.67
"""Cells of a puzzle are square: foreshortened by a slanting camera, they are at most this much longer than wide."""
SQUARE_STEP = 0.35
"""Cells are equally square when the logarithms of their aspects differ by less than half of this."""
STRIPS = 10
"""A line is followed in so many strips: on a curled page it wanders."""
WANDER = 0.2
"""How far, as a share of the spacing, a line may lie from its even place in a strip."""
STRAIGHT = 0.3
"""Weight of lines straight and on the outline, where others fit as well."""
LINE = 0.5
"""A lattice line is inked along at least this much of its length, on average."""
FAINT = 0.6
"""... and the second faintest along this share of that: digits and marks ink 0.3 of lines that are none."""
OUTER = 0.3
"""An outer line is inked along this much at least: part of it may be worn off or cut off."""
BETWEEN = 0.2
"""The second faintest line is inked so much more than the middles between lines."""
NEARLY = 0.75
"""A finer spacing is believed when it is this good compared with the best one: every third line of nine fits too."""
READINGS = 3
"""Pairs of row and column counts of one candidate that are worth a closer look."""

Profile = npt.NDArray[np.float64]
Strips = npt.NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Axis:
    """Lines along one axis: their places in unit coordinates, and how much more of the second faintest is inked than
    of the middles between them."""

    places: Profile
    quality: float

    @property
    def count(self) -> int:
        """Cells along this axis."""
        return len(self.places) - 1


class LaidFlat:
    """A candidate laid flat, to be looked at more than once."""

    def __init__(self, pyramid: Pyramid, outline: Outline) -> None:
        self.frame = Frame(outline)
        self.grey = _flat(pyramid, outline, self.frame)

    @cached_property
    def graininess(self) -> float:
        """Contrasts that the grain of the picture swallows."""
        return NOISE_FACTOR * median(across_rows(self.grey, odd(THICKEST * SIDE / FINE[0])))


def fits(laid: LaidFlat, counts: Sequence[range] = (COARSE, FINE), *, keen: bool = False) -> Iterator[Points]:
    """The lattice points (rows + 1, columns + 1, 2) of a candidate, roughly, the likeliest of its few best readings
    first; nothing where no lattice of evenly spaced lines with squarish cells fills it. `counts` are the numbers of
    cells along a side that are looked for, in ranges of lines alike in thickness; a `keen` look evens weak
    grain out as well."""
    frame, flat = laid.frame, laid.grey
    aspect = flat.shape[1] / flat.shape[0]
    for grain in (1, GRAIN) if laid.graininess > (KEENLY if keen else GRAINY) else (1,):
        pairs = _pairs(flat, counts, grain)
        best = max((r.quality + c.quality for r, c in pairs), default=0.0)
        good = [(r, c) for r, c in pairs if r.quality + c.quality >= NEARLY * best]
        for row, column in sorted(good, key=lambda pair: _rank(aspect, *pair))[:READINGS]:
            yield frame.page(column.places[None, :], row.places[:, None])


def _pairs(flat: Grey, counts: Sequence[range], grain: int = 1) -> list[tuple[Axis, Axis]]:
    """The possible lines along the rows and along the columns of a candidate laid flat that make squarish cells, with
    so many pixels of `grain` evened out along them."""
    thresholds = EVENED if grain > 1 else THRESHOLDS
    rows = _axes(_evened(flat, grain), counts, thresholds)
    columns = _axes(_evened(np.ascontiguousarray(flat.T), grain), counts, thresholds) if rows else []
    aspect = flat.shape[1] / flat.shape[0]
    return [(r, c) for r in rows for c in columns if 1 / SQUARISH <= aspect * r.count / c.count <= SQUARISH]


def _evened(flat: Grey, grain: int) -> Grey:
    return np.asarray(cv2.blur(flat, (grain, 1)), np.uint8) if grain > 1 else flat


def _rank(aspect: float, row: Axis, column: Axis) -> tuple[int, int, float]:
    """Squarest cells first (within SQUARE_STEP), then the finest lattice, then the clearest."""
    skew = abs(float(np.log(aspect * row.count / column.count)))
    return round(skew / SQUARE_STEP), -row.count * column.count, -(row.quality + column.quality)


def _flat(pyramid: Pyramid, outline: Outline, frame: Frame) -> Grey:
    edges = np.linalg.norm(outline.corners - np.roll(outline.corners, -1, 0), axis=1)
    width, height = (edges[0] + edges[2]) / 2, (edges[1] + edges[3]) / 2
    size = SIDE * np.array([width, height]) / max(width, height)
    across, down = np.maximum(size * (1 + 2 * MARGIN), 64).astype(int)
    page = frame.page(_unit(across)[None, :], _unit(down)[:, None]).astype(np.float32)
    return pyramid.sample(page[..., 0], page[..., 1], max(width, height) / SIDE)


def _unit(count: int) -> Profile:
    """Unit coordinates of the pixels along one side of a candidate laid flat."""
    return np.asarray((np.arange(count) + 0.5) / count * (1 + 2 * MARGIN) - MARGIN, np.float64)


def _axes(flat: Grey, counts: Sequence[range], thresholds: Sequence[float]) -> list[Axis]:
    """The possible lattice lines along the rows of a candidate laid flat, the best of each count."""
    best: dict[int, Axis] = {}
    for sizes in counts:
        contrast = across_rows(flat, odd(THICKEST * SIDE / sizes[0]))
        for threshold in thresholds:
            # Bare paper has the median of the contrasts. Whether half of them are so low is counted, which takes a
            # tenth of the time that finding the median does.
            if 2 * np.count_nonzero(contrast <= _of_paper(threshold)) > contrast.size:
                for axis in _spacings(_coverage(contrast, threshold), sizes):
                    if axis.count not in best or best[axis.count].quality < axis.quality:
                        best[axis.count] = axis
    return list(best.values())


@cache
def _of_paper(threshold: float) -> np.float32:
    """The highest contrast of bare paper with which a threshold does not count paper as line."""
    highest = np.float32(threshold / NOISE_FACTOR)
    return highest if NOISE_FACTOR * float(highest) <= threshold else np.nextafter(highest, np.float32(0))


def _coverage(contrast: Contrast, threshold: float) -> Strips:
    """For each row (axis 0) and each of STRIPS strips (axis 1) the share of its length that is inked, small gaps
    forgiven."""
    lines = cv2.dilate((contrast > threshold).astype(np.uint8), np.ones((3, 5), np.uint8)).astype(np.float32)
    rim = round((MARGIN / (1 + 2 * MARGIN) + 0.01) * lines.shape[1])
    length = (lines.shape[1] - 2 * rim) // STRIPS
    strips = lines[:, rim : rim + length * STRIPS].reshape(-1, STRIPS, length)
    return np.asarray(strips.mean(axis=2), np.float32)


def _spacings(coverage: Strips, sizes: range) -> list[Axis]:
    """Evenly spaced lines from one outer line to the other that are all there."""
    return [axis for count, near in _wandering(coverage, sizes) if (axis := _spaced(coverage, near, count)) is not None]


def _wandering(coverage: Strips, sizes: range) -> Iterator[tuple[int, Profile]]:
    """For each count, finest first, how much is inked in each row or so near it as a line may wander."""
    pixels, reach = len(coverage) / (1 + 2 * MARGIN), 0
    for count in reversed(sizes):
        wander = max(1, round(WANDER * pixels / count))
        if wander > reach:
            coverage = np.asarray(cv2.dilate(coverage, np.ones((2 * (wander - reach) + 1, 1), np.uint8)), np.float32)
            reach = wander
        yield count, np.asarray(coverage.mean(axis=1), np.float64)


def _spaced(coverage: Strips, near: Profile, count: int) -> Axis | None:
    lines, middles = _pixels(len(near), count)
    values = near[lines]
    means = values.mean(axis=1)
    if means.max() < LINE:
        return None
    straight = coverage.mean(axis=1)[lines].mean(axis=1) - np.abs(ENDS - (0, 1)).sum(axis=1)
    best = int((means + STRAIGHT * straight).argmax())
    inked = values[best]
    faint = np.sort(inked)[1]
    quality = float(faint - near[middles[best]].mean())
    if means[best] < LINE or faint < FAINT * means[best] or min(inked[0], inked[-1]) < OUTER:
        return None
    return Axis(_places(count)[best], quality) if quality > BETWEEN else None


def _places(count: int) -> Profile:
    """Where evenly spaced lines lie in unit coordinates, for each of ENDS, (ENDS, count + 1)."""
    return np.asarray(ENDS[:, :1] + (ENDS[:, 1:] - ENDS[:, :1]) * np.arange(count + 1) / count, np.float64)


@lru_cache(maxsize=256)
def _pixels(length: int, count: int) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.intp]]:
    """The pixels of evenly spaced lines and of the middles between them in a profile of that length."""
    places = _places(count)
    middles = (places[:, 1:] + places[:, :-1]) / 2
    lines, between = (((at + MARGIN) / (1 + 2 * MARGIN) * length).astype(np.intp) for at in (places, middles))
    return lines, between
