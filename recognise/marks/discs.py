"""The circle around a place of which it is known that there is one: its radius, its fill, its outline."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Colour, Point
from recognise.pixels.frame import Colours, Grey, Raster

RAYS = 64
USUAL = 45
"""Percentile over the rays at which a circle shows: lines that run into it, and the lattice, cover fewer."""
OFF = 0.08
"""In cells: how far from its place the middle of a circle may be."""
FILLED = 0.35
"""A disc with at least this part of its outline's ink half-way to its middle is filled."""
EDGE = 0.5

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Round:
    """A circle as measured, in cells; `fill` and `outline` None for what it lacks."""

    centre: Point
    radius: float
    fill: Colour | None
    outline: Colour | None


def measure_round(
    place: Point, ink: Grey, relative: Colours, raster: Raster, floor: float, least: float, most: float
) -> Round | None:
    """The circle about a place whose radius is from `least` to `most` cells; None where none shows."""
    best: tuple[float, Point, Floats] | None = None
    for dx in (-OFF, 0.0, OFF):
        for dy in (-OFF, 0.0, OFF):
            centre = place[0] + dx, place[1] + dy
            rays = _rays(ink, centre, raster, most + OFF)
            profile = np.percentile(rays, USUAL, axis=0)
            score = float(np.abs(np.diff(profile)).max(initial=0.0)) - 0.02 * (abs(dx) + abs(dy)) / OFF
            if best is None or score > best[0]:
                best = score, centre, profile
    assert best is not None
    _, centre, profile = best
    low, high = raster.px(least), min(len(profile) - 2, raster.px(most))
    if high <= low or profile[: high + 2].max() <= floor:
        return None
    peak = float(profile[low : high + 1].max())
    if peak <= floor:
        return None
    above = np.nonzero(profile[: high + 2] > EDGE * peak)[0]
    outer = int(above[-1])
    rim = low + int(profile[low : outer + 1].argmax()) if outer >= low else outer
    colours = _rays_colours(relative, centre, raster, most + OFF)
    inner = float(np.median(profile[: max(1, round(0.75 * outer)) + 1]))
    outline = _colour(colours[:, rim])
    if inner >= FILLED * peak and inner > floor:
        fill = _colour(colours[:, max(1, outer // 2)])
        same = max(abs(a - b) for a, b in zip(fill, outline, strict=True)) < 40
        return Round(centre, (outer + 0.5) / raster.cell, fill, None if same else outline)
    return Round(centre, (outer + 0.5) / raster.cell, (255, 255, 255), outline)


def _rays(picture: Grey, centre: Point, raster: Raster, reach: float) -> Floats:
    """What stands along each ray from a place, a pixel a step."""
    turns = np.arange(RAYS) * 2 * np.pi / RAYS
    steps = np.arange(raster.px(reach) + 1)
    x = (raster.at(centre[0]) - 0.5 + np.cos(turns)[:, None] * steps).astype(np.float32)
    y = (raster.at(centre[1]) - 0.5 + np.sin(turns)[:, None] * steps).astype(np.float32)
    return np.asarray(cv2.remap(picture, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE), np.float64)


def _rays_colours(picture: Colours, centre: Point, raster: Raster, reach: float) -> Floats:
    return _rays(picture, centre, raster, reach)


def _colour(shades: Floats) -> Colour:
    red, green, blue = (round(255 * float(v)) for v in np.clip(np.median(shades, axis=0), 0, 1))
    return red, green, blue
