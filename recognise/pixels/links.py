"""Which neighbouring cells a drawn line joins, told from a mask of its ink.

Every pair of cells that touch is a candidate link. Its score is how much of the straight way from centre to centre is
covered; its width is measured half-way, where neither a bulb nor a bend reaches. A way round a corner, a tube beside
or a gap between two ends leaves a hole in the middle of a wrong link, so a diagonal step and two orthogonal ones, two
parallel tubes and two ends in neighbouring cells cannot be taken for each other.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from recognise.pixels.frame import Mask, Raster
from schema.cells import Cell

Floats = npt.NDArray[np.float64]

STEPS = ((0, 1), (1, 1), (1, 0), (1, -1))
"""(rows, columns) to the four neighbours that come later in reading order; the other four are seen from there."""
STRAY = 0.06
"""How far, in cells, the centre line may lie off the line between cell centres: what flattening leaves."""
GAP = 0.05
"""The longest hole, in cells, that print and scan leave in a line."""
DOUBT = 0.12
"""A longer hole up to this is a link in doubt: two bulbs that nearly touch leave 0.15 or more."""
SEEN = 0.4
"""The part of a link that must be seen and not only be possible under a digit: two digits of 0.6 cells hide 0.6."""
STRETCHES = ((0.25, 0.33), (0.42, 0.58), (0.67, 0.75))
"""Where along a link its width is taken: a bulb reaches to 0.42 at most, another line crosses in the middle."""
MIDDLE = 1
"""Which of them is the middle."""
WIDEST = 0.7
"""In cells: a wider line would touch itself in the neighbouring cell (0.62 and what blur adds); what is wider is an
area."""
THINNEST = 0.03
"""In cells: two pixels; thinner is a remnant."""
WAIST = 0.4
"""The narrowest place of a link's middle as a part of its usual width: two discs that touch have a waist of nothing."""


@dataclass(frozen=True, slots=True)
class Link:
    """A drawn step between two cells that touch. `width` in cells, `score` 0 to 1 the covered part of the way."""

    first: Cell
    second: Cell
    width: float
    score: float
    sure: bool = True


def find_links(mask: Mask, raster: Raster, hidden: Mask | None = None) -> list[Link]:
    """All links that the mask shows; those with `sure` False have a hole that may be wear or may be a gap. `hidden`
    marks pixels that something else covers (a digit): a line may go on under them, as long as most of it is seen."""
    firsts, seconds = _candidates(raster)
    if len(firsts) == 0:
        return []
    patches = _straightened(mask, raster)
    covered = _covered(patches, raster)
    unseen = np.zeros_like(covered)
    if hidden is not None:
        behind = _straightened(hidden, raster)
        unseen = _covered(behind, raster) & ~covered
        patches |= behind
    seen = 1 - unseen.mean(axis=-1)
    score = covered.mean(axis=-1) / np.maximum(seen, SEEN)
    covered |= unseen
    longest = _longest_gap(covered) * 1.0 / raster.cell
    width, waist = _widths(patches, raster)
    links = []
    possible = (longest <= DOUBT) & (width >= THINNEST) & (width <= WIDEST) & (seen >= SEEN)
    for index in np.nonzero(possible)[0]:
        whole = longest[index] <= GAP and waist[index] >= WAIST * width[index]
        first, second = (Cell(int(r) + 1, int(c) + 1) for r, c in (firsts[index], seconds[index]))
        links.append(Link(first, second, float(width[index]), float(score[index]), bool(whole)))
    return links


def _candidates(raster: Raster) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.int64]]:
    """(row, column) counted from 0 of both ends of each candidate."""
    rows, columns = np.mgrid[: raster.rows, : raster.columns]
    cells = np.stack([rows.ravel(), columns.ravel()], axis=-1)
    firsts = np.concatenate([cells] * len(STEPS))
    seconds = np.concatenate([cells + np.array(step) for step in STEPS])
    inside = ((seconds >= 0) & (seconds < (raster.rows, raster.columns))).all(axis=-1)
    return firsts[inside], seconds[inside]


def _straightened(mask: Mask, raster: Raster) -> npt.NDArray[np.bool_]:
    """The mask along each candidate, straightened: (links, along, across); `along` from centre to centre, `across` a
    pixel each, the centre line in the middle."""
    rows, columns = _ways(raster)
    return np.asarray(mask[rows, columns], np.bool_)


@lru_cache(maxsize=2)
def _ways(raster: Raster) -> tuple[npt.NDArray[np.int32], npt.NDArray[np.int32]]:
    """Row and column of the pixels along each candidate; (links, along, across)."""
    firsts, seconds = _candidates(raster)
    centres = raster.centres()
    start, end = centres[tuple(firsts.T)], centres[tuple(seconds.T)]
    step = end - start
    normal = np.stack([-step[:, 1], step[:, 0]], axis=-1) / np.linalg.norm(step, axis=-1)[:, None]
    along = np.linspace(0, 1, raster.cell + 1)
    half = raster.px(WIDEST / 2 + STRAY)
    across = np.arange(-half, half + 1)
    points = (
        start[:, None, None]
        + step[:, None, None] * along[None, :, None, None]
        + normal[:, None, None] * across[None, None, :, None]
    )
    places = points.astype(np.int32)
    return np.ascontiguousarray(places[..., 1]), np.ascontiguousarray(places[..., 0])


def _covered(patches: npt.NDArray[np.bool_], raster: Raster) -> npt.NDArray[np.bool_]:
    """Where along each link its centre line is covered."""
    middle, stray = patches.shape[2] // 2, raster.px(STRAY)
    return np.asarray(patches[:, :, middle - stray : middle + stray + 1].mean(axis=-1) > 0.35, np.bool_)


def _longest_gap(covered: npt.NDArray[np.bool_]) -> npt.NDArray[np.int64]:
    """The longest run of False in each row."""
    run = np.zeros(len(covered), dtype=np.int64)
    longest = run.copy()
    for place in covered.T:
        run = np.where(place, 0, run + 1)
        np.maximum(longest, run, out=longest)
    return longest


def _widths(patches: npt.NDArray[np.bool_], raster: Raster) -> tuple[Floats, Floats]:
    """Usual width of each link and the least of its middle, in cells. A bend near by widens one side, so the narrower
    side counts as far as the line may stand off centre; a bulb or a crossing line widens one stretch, so the narrowest
    stretch counts."""
    stretches = [_stretch_widths(patches, place, raster) for place in STRETCHES]
    usual = np.min([np.percentile(widths, 25, axis=-1) for widths in stretches], axis=0)
    return usual / raster.cell, stretches[MIDDLE].min(axis=-1) / raster.cell


def _stretch_widths(patches: npt.NDArray[np.bool_], stretch: tuple[float, float], raster: Raster) -> Floats:
    """The width at each place of a stretch of each link, in pixels; (links, places)."""
    first, last = (round(place * (patches.shape[1] - 1)) for place in stretch)
    part, middle = patches[:, first : last + 1], patches.shape[2] // 2
    left = _run(part[:, :, middle::-1])
    right = _run(part[:, :, middle + 1 :])
    off_centre = raster.px(STRAY) * np.ones_like(left)
    width = np.minimum(left + right, 2 * np.minimum(left, right) + off_centre)
    return np.where(left > 0, width, off_centre)


def _run(rays: npt.NDArray[np.bool_]) -> Floats:
    """How many pixels from the start each ray is covered."""
    return np.asarray(np.cumprod(rays, axis=-1, dtype=np.int32).sum(axis=-1), np.float64)


def polar(mask: Mask, raster: Raster, cells: list[Cell], directions: int, reach: float) -> npt.NDArray[np.bool_]:
    """The mask around each cell centre: (cells, directions, radii), a pixel a radius, direction 0 rightwards, turning
    clockwise as seen."""
    centres = np.array([[raster.at(c.centre[0]), raster.at(c.centre[1])] for c in cells])
    angles = np.arange(directions) * 2 * np.pi / directions
    radii = np.arange(1, raster.px(reach) + 1)
    rays = np.stack([np.cos(angles), np.sin(angles)], axis=-1)[:, None] * radii[None, :, None]
    points = np.rint(centres[:, None, None] + rays[None]).astype(np.int64)
    return mask[points[..., 1], points[..., 0]]
