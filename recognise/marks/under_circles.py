"""Totals that a circle on the corner of their cell touches."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import cv2
import numpy as np
import numpy.typing as npt

from recognise.geometry import overlap
from recognise.marks.text_places import Place
from recognise.pixels.frame import Grey, Raster

DARKEST, CLEAR = 90, 0.25
"""Percentile of the ink in a circle that is its own at the darkest, for what reaches into it covers less than a tenth;
how much darker is what shows on it."""
BLUR = 0.02
"""In cells: how far the line of a circle reaches beyond its radius."""


def touched_by(corner: Place, circles: Iterable[Place]) -> list[Place]:
    """The circles that reach into the place of a total; the lines of frames run as those of the lattice."""
    return [circle for circle in circles if circle.frame is None and overlap(corner.box, circle.box)]


def without_circles(ink: Grey, circles: Sequence[Place], raster: Raster) -> Grey:
    """The ink without that of circles and what stands in them."""
    bare = ink.copy()
    for circle in circles:
        bare[_within(circle, ink, raster)] = 0
    return bare


def darker_than_circles(ink: Grey, circles: Sequence[Place], raster: Raster) -> Grey:
    """The ink with circles and what stands in them taken off, so that what is darker than both shows whole."""
    darker = ink.copy()
    for circle in circles:
        disc = _within(circle, ink, raster)
        own = ink[disc]
        ground = float(np.percentile(own, DARKEST)) if own.size else 0.0
        if ground <= 1 - CLEAR:
            darker[disc] = np.maximum(own - ground, 0) / (1 - ground)
        else:
            darker[disc] = 0
    return darker


def _within(circle: Place, ink: Grey, raster: Raster) -> npt.NDArray[np.bool_]:
    """The pixels of a circle, its line among them."""
    disc = np.zeros(ink.shape, np.uint8)
    x, y = (round(raster.at(v)) for v in circle.middle)
    cv2.circle(disc, (x, y), raster.px(circle.radius + BLUR), 1, -1)
    return np.asarray(disc > 0)
