"""How many rows and columns: the finest even spacing at which lines run right across a candidate."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import cv2
import numpy as np
import numpy.typing as npt

from recognise.grids.candidates import Frame, Outline
from recognise.grids.ink import Contrast, Grey, across_columns, across_rows, odd
from recognise.grids.warp import Points, Pyramid

SIZES = range(4, 26)
SIDE = 640
"""Pixels of the longer side of a candidate laid flat: 25 pixels a cell for the finest grid."""
MARGIN = 0.06
"""Page shown around a candidate, as a share of its side."""
THRESHOLDS = (0.04, 0.08, 0.16, 0.3)
"""Contrasts above which a pixel counts as line; each candidate uses the one that shows its lattice best."""
NOISE_FACTOR = 3.0
"""A threshold below this many times the typical contrast of bare paper would count paper as line."""
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

Profile = npt.NDArray[np.float64]


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


def fit(pyramid: Pyramid, outline: Outline) -> Points | None:
    """The lattice points (rows + 1, columns + 1, 2) of a candidate, roughly; None where no lattice of evenly spaced
    lines with squarish cells fills it."""
    frame = Frame(outline)
    flat = _flat(pyramid, outline, frame)
    rows = _axes(across_rows(flat, _reach(flat)))
    columns = _axes(np.ascontiguousarray(across_columns(flat, _reach(flat)).T)) if rows else []
    aspect = flat.shape[1] / flat.shape[0]
    pairs = [(r, c) for r in rows for c in columns if 1 / SQUARISH <= aspect * r.count / c.count <= SQUARISH]
    if not pairs:
        return None
    best = max(r.quality + c.quality for r, c in pairs)
    good = [(r, c) for r, c in pairs if r.quality + c.quality >= NEARLY * best]
    row, column = min(good, key=lambda pair: _rank(aspect, *pair))
    u, v = np.meshgrid(column.places, row.places)
    return frame.page(u, v)


def _rank(aspect: float, row: Axis, column: Axis) -> tuple[int, int, float]:
    """Squarest cells first (within SQUARE_STEP), then the finest lattice, then the clearest."""
    skew = abs(float(np.log(aspect * row.count / column.count)))
    return round(skew / SQUARE_STEP), -row.count * column.count, -(row.quality + column.quality)


def _reach(flat: Grey) -> int:
    return odd(SIDE / 38)


def _flat(pyramid: Pyramid, outline: Outline, frame: Frame) -> Grey:
    edges = np.linalg.norm(outline.corners - np.roll(outline.corners, -1, 0), axis=1)
    width, height = (edges[0] + edges[2]) / 2, (edges[1] + edges[3]) / 2
    size = SIDE * np.array([width, height]) / max(width, height)
    shape = np.maximum(size * (1 + 2 * MARGIN), 64).astype(int)
    u, v = np.meshgrid(*(((np.arange(n) + 0.5) / n * (1 + 2 * MARGIN) - MARGIN) for n in shape))
    page = frame.page(u, v).astype(np.float32)
    return pyramid.sample(page[..., 0], page[..., 1], max(width, height) / SIDE)


def _axes(contrast: Contrast) -> list[Axis]:
    """The possible lattice lines along the rows of `contrast`, the best of each count."""
    floor = NOISE_FACTOR * float(np.median(contrast))
    best: dict[int, Axis] = {}
    for threshold in THRESHOLDS:
        if threshold >= floor:
            for axis in _spacings(_coverage(contrast, threshold)):
                if axis.count not in best or best[axis.count].quality < axis.quality:
                    best[axis.count] = axis
    return list(best.values())


def _coverage(contrast: Contrast, threshold: float) -> Profile:
    """For each row (axis 0) and each of STRIPS strips (axis 1) the share of its length that is inked, small gaps
    forgiven."""
    lines = cv2.dilate((contrast > threshold).astype(np.uint8), np.ones((3, 5), np.uint8))
    edges = np.linspace(MARGIN + 0.01, 1 - MARGIN - 0.01, STRIPS + 1) * lines.shape[1]
    strips = [lines[:, round(a) : round(b)].mean(axis=1) for a, b in pairwise(edges)]
    return np.asarray(np.stack(strips, axis=1), np.float64)


def _spacings(coverage: Profile) -> list[Axis]:
    """Evenly spaced lines from one outer line to the other that are all there."""
    return [axis for count in SIZES if (axis := _spaced(coverage, count)) is not None]


def _spaced(coverage: Profile, count: int) -> Axis | None:
    wander = max(1, round(WANDER * len(coverage) / (1 + 2 * MARGIN) / count))
    profile = cv2.dilate(coverage, np.ones((2 * wander + 1, 1), np.uint8)).mean(axis=1)
    places = ENDS[:, :1] + (ENDS[:, 1:] - ENDS[:, :1]) * np.arange(count + 1) / count
    straight = _at(coverage.mean(axis=1), places).mean(axis=1) - np.abs(ENDS - (0, 1)).sum(axis=1)
    values = _at(profile, places)
    best = int((values.mean(axis=1) + STRAIGHT * straight).argmax())
    places, inked = places[best], values[best]
    middles = _at(profile, (places[1:] + places[:-1]) / 2)
    faint = np.sort(inked)[1]
    quality = float(faint - middles.mean())
    if inked.mean() < LINE or faint < FAINT * inked.mean() or min(inked[0], inked[-1]) < OUTER:
        return None
    return Axis(places, quality) if quality > BETWEEN else None


def _at(profile: Profile, places: Profile) -> Profile:
    pixel = (places + MARGIN) / (1 + 2 * MARGIN) * len(profile) - 0.5
    return np.asarray(np.interp(pixel, np.arange(len(profile)), profile), np.float64)
