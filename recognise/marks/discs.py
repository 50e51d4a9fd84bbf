"""The circle around a place of which it is known that there is one: its radius, its fill, its outline."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Colour, Point
from recognise.colours import colours_apart
from recognise.pixels.frame import Colours, Grey, Raster

RAYS = 64
USUAL = 45
"""Percentile over the rays at which a circle shows: lines that run into it, and the lattice, cover fewer."""
OFF = 0.08
"""In cells: how far from its place the middle of a circle may be."""
STEPS, FINE_STEPS = 2, 6
"""So many steps to each side in which the middle is sought: a thin ring is lost from a middle that is off by two of
its widths."""
FILLED = 0.35
"""A disc with at least this part of its outline's ink half-way to its middle is filled."""
EDGE = 0.5
"""Part of its darkest ink at which a circle ends: half-way, so that blur does not widen it."""

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Round:
    """A circle as measured, in cells; `fill` and `outline` None for what it lacks."""

    centre: Point
    radius: float
    fill: Colour | None
    outline: Colour | None


def measure_round(
    place: Point,
    ink: Grey,
    relative: Colours,
    raster: Raster,
    floor: float,
    least: float,
    most: float,
    *,
    ring: bool = False,
) -> Round | None:
    """The circle about a place whose radius is from `least` to `most` cells; None where none shows. A `ring` is bare
    inside, and is sought in finer steps."""
    low = raster.px(least)
    best = _steepest(place, ink, raster, low, most, ring=ring)
    if best is None:
        return None
    centre, profile = best
    high = min(len(profile) - 2, raster.px(most))
    if high <= low or profile[: high + 2].max() <= floor:
        return None
    peak = float(profile[low : high + 1].max())
    if peak <= floor:
        return None
    above = np.nonzero(profile[: high + 2] > EDGE * peak)[0]
    outer = int(above[-1])
    rim = low + int(profile[low : outer + 1].argmax()) if outer >= low else outer
    colours = rays_from(relative, np.array([centre]), raster, most + OFF)[0]
    inner = float(np.median(profile[: max(1, round(0.75 * outer)) + 1]))
    outline = _colour(colours[:, rim])
    if inner >= FILLED * peak and inner > floor:
        fill = _colour(colours[:, max(1, outer // 2)])
        same = colours_apart(fill, outline) < 40
        return Round(centre, (outer + 0.5) / raster.cell, fill, None if same else outline)
    return Round(centre, (outer + 0.5) / raster.cell, (255, 255, 255), outline)


def evenest(places: Sequence[Point], radius: float, relative: Colours, raster: Raster) -> Colour:
    """The colour half-way out of a filled circle, about that of some places at which it may have its middle about which
    it is most even: what touches a circle draws the middle off, and then its rim is measured as well."""
    half = rays_from(relative, np.array(places), raster, radius / 2)[:, :, -1]
    return _colour(half[int(half.std(axis=1).sum(axis=-1).argmin())])


def _steepest(
    place: Point, ink: Grey, raster: Raster, low: int, most: float, *, ring: bool
) -> tuple[Point, Floats] | None:
    """The middle near a place about which a circle shows most clearly, of more than `low` pixels, and the ink from
    there outwards; None where nowhere a ring is bare inside."""
    steps = FINE_STEPS if ring else STEPS
    offsets = np.linspace(-OFF, OFF, 2 * steps + 1)
    moves = np.array([(dx, dy) for dx in offsets for dy in offsets])
    rays = rays_from(ink, np.add(place, moves), raster, most + OFF)
    profiles = np.sort(rays, axis=1)[:, round((RAYS - 1) * USUAL / 100)]
    if ring:
        bare = profiles[:, low // 2] <= FILLED * profiles.max(axis=1)
        moves, profiles = moves[bare], profiles[bare]
    if not len(moves):
        return None
    high = min(profiles.shape[1] - 2, raster.px(most))
    steepest = np.abs(np.diff(profiles[:, max(0, low - 1) : high + 2])).max(axis=1, initial=0.0)
    best = int((steepest - 0.02 * np.abs(moves).sum(axis=1) / OFF).argmax())
    return (float(place[0] + moves[best, 0]), float(place[1] + moves[best, 1])), profiles[best]


def rays_from(picture: Grey | Colours, centres: Floats, raster: Raster, reach: float) -> Floats:
    """What stands along each ray from each place (n, 2), a pixel a step."""
    turns = np.arange(RAYS) * 2 * np.pi / RAYS
    steps = np.arange(raster.px(reach) + 1)
    middles = (centres * raster.cell + raster.origin - 0.5)[:, :, None, None]
    x = (middles[:, 0] + np.cos(turns)[:, None] * steps).astype(np.float32).reshape(-1, len(steps))
    y = (middles[:, 1] + np.sin(turns)[:, None] * steps).astype(np.float32).reshape(-1, len(steps))
    seen = cv2.remap(picture, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(seen, np.float64).reshape(len(centres), RAYS, len(steps), *picture.shape[2:])


def _colour(shades: Floats) -> Colour:
    red, green, blue = (round(255 * float(v)) for v in np.clip(np.median(shades, axis=0), 0, 1))
    return red, green, blue
