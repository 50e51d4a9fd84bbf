"""Circles on corners that hide the walls of cages under them: print lays some as discs of paper over all else, and then
no wall has to be taken out of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt

from recognise.marks.text_ink import INSIDE, Print, Wall
from recognise.marks.text_places import Place
from recognise.pixels.glyphs import DIGITS

ACROSS = 0.012
"""In cells: half the width in which the darkest ink of a wall is looked for; it is measured to about that."""
ASIDE = (0.07, 0.085)
"""In cells: where, on the side away from the lattice line, paper lies beside a wall."""
BEYOND = 1.3
"""As a part of its radius: from here on a wall is clear of a circle, its line and its blur."""
HIDDEN = 0.45
"""As a part of how much darker than the paper beside them walls are elsewhere: below it they do not run on in circles.
Digits make it no more than a fifth where circles hide them; where they run on it is three quarters or more."""
ON_LINE = 0.03
"""In cells: a wall nearer to a lattice line is not told from it."""
LEAST = 0.8
"""In cells: so much of walls has to cross circles before that is told: two circles with a wall through each."""

_Samples = npt.NDArray[np.float64]


def crossing(walls: Sequence[Wall], places: Iterable[Place], seen: Print) -> Sequence[Wall]:
    """The walls as they matter to what stands in the circles of a page: none, where these hide them."""
    circles = [place for place in places if _is_circle_on_corner(place)]
    set_in = [wall for wall in walls if _set_in(wall) >= ON_LINE]
    if not circles or not set_in:
        return walls
    inside, outside = _darker(set_in, circles, seen)
    if inside.size < LEAST * seen.raster.cell or not outside.size:
        return walls
    return () if inside.mean() < HIDDEN * outside.mean() else walls


def _is_circle_on_corner(place: Place) -> bool:
    return place.radius > 0 and place.frame is None and not place.dark and place.allowed == DIGITS


def _darker(walls: Sequence[Wall], circles: Sequence[Place], seen: Print) -> tuple[_Samples, _Samples]:
    """How much darker walls are than the paper beside them, pixel by pixel along them, in circles and clear of them."""
    centres = np.array([circle.middle for circle in circles])
    radii = np.array([circle.radius for circle in circles])
    inside, outside = [], []
    for wall in walls:
        points, away = _along(wall, seen.raster.cell)
        on = np.max([_ink_at(points + off * away, seen) for off in (-ACROSS, 0.0, ACROSS)], axis=0)
        darker = on - np.min([_ink_at(points + off * away, seen) for off in ASIDE], axis=0)
        far = np.linalg.norm(points[:, None] - centres, axis=-1) / radii
        inside.append(darker[(far < INSIDE).any(axis=1)])
        outside.append(darker[(far > BEYOND).all(axis=1)])
    return np.concatenate(inside), np.concatenate(outside)


def _along(wall: Wall, cell: int) -> tuple[_Samples, _Samples]:
    """Points along a wall, one a pixel, in cells, and the step at each of them away from the lattice line beside it."""
    start, end = np.array(wall)
    count = max(2, round(float(np.abs(end - start).max()) * cell))
    points = start + np.linspace(0.0, 1.0, count)[:, None] * (end - start)
    across = _across(wall)
    away = np.zeros_like(points)
    away[:, across] = np.sign(points[:, across] - np.round(points[:, across]))
    return points, away


def _across(wall: Wall) -> int:
    """Which coordinate (0 or 1) leads across a wall."""
    (x0, y0), (x1, y1) = wall
    return int(abs(x1 - x0) > abs(y1 - y0))


def _set_in(wall: Wall) -> float:
    """How far from the nearest lattice line a wall runs, in cells."""
    at = float(np.mean([end[_across(wall)] for end in wall]))
    return abs(at - round(at))


def _ink_at(points: _Samples, seen: Print) -> _Samples:
    """The ink at points in cells."""
    tall, wide = seen.whole.shape
    x, y = np.floor(points * seen.raster.cell + seen.raster.origin).astype(int).T
    return np.asarray(seen.whole[y.clip(0, tall - 1), x.clip(0, wide - 1)], np.float64)
