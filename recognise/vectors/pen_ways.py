"""The way of a pen, from the outline of what it drew: two sides that run along each other."""

from __future__ import annotations

import numpy as np

from recognise.vectors.inks import Ink
from recognise.vectors.place import Floats

WIDEST = 0.12
"""In cells: a wider line covers the middles of its cells though its bends are rounded."""
LEAST = 1.2
"""In cells: a shorter line bends through no cell."""
EVEN = 0.02
"""In cells: how much the distance of the sides differs along most of the way."""
STEPS, STRIDE = 960, 4
"""Places along an outline that are looked at, some forty in a cell of a usual line on either side; and at every which
of them a side may begin."""
END = 0.08
"""The part of the way, at either end, in which a head would be wider than the line."""


def pen_way(ink: Ink) -> tuple[Floats, float] | None:
    """The middle line of a filled area, as points, and its width, in cells; None where it is no thin line, or one with
    a head."""
    if ink.role != "fill" or len(ink.outlines) != 1 or np.ptp(ink.outlines[0], axis=0).max() < LEAST:
        return None
    one, other = _sides(_evenly(ink.outlines[0]))
    apart = np.hypot(*(one[:, None] - other[None]).transpose(2, 0, 1))
    nearest, wide = apart.argmin(axis=1), apart.min(axis=1)
    # Round a bend the outer side is farther from the inner one, and at the ends the sides come together.
    least, width, most = (float(part) for part in np.percentile(wide, (10, 50, 90)))
    end = round(END * len(wide))
    if most > WIDEST or most - least > EVEN or max(wide[:end].max(), wide[-end:].max()) > width + EVEN:
        return None
    return (one + other[nearest]) / 2, width


def _sides(around: Floats) -> tuple[Floats, Floats]:
    """The two halves of an outline that lie nearest to each other place by place, both from one end to the other."""
    back = np.arange(STEPS // 2 + 1)
    starts = range(0, STEPS // 2, STRIDE)
    halves = [(around[(start + back) % STEPS], around[(start - back) % STEPS]) for start in starts]
    return min(halves, key=lambda sides: float(np.hypot(*(sides[0] - sides[1]).T).mean()))


def _evenly(outline: Floats) -> Floats:
    """Points at even distances around an outline."""
    ring = np.concatenate([outline, outline[:1]])
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(ring, axis=0).T))])
    places = np.linspace(0, along[-1], STEPS, endpoint=False)
    return np.stack([np.interp(places, along, ring[:, axis]) for axis in (0, 1)], axis=1)
