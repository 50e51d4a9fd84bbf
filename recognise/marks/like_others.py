"""Numbers on lattice lines that nobody could read, held against those of their page that were read.

Print that sets numbers right on the lines takes no notice of which line it is: one that a thick line runs through
looks, beside the line, like the same number on a thin one. So what is compared of two is what neither of their lines
covers, nor the wall of a cage that runs close by. Where a doubtful sign may be text, it is the text that it is a copy
of: paper on one side of a line and a tint on the other make a sign of what stands in a round gap."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
from numpy.lib.stride_tricks import sliding_window_view

from recognise.evidence import Glyph, Guess
from recognise.marks.text_ink import Wall
from recognise.marks.text_places import Place
from recognise.pixels.frame import Grey, Raster

SURE, UNSURE = 0.95, 0.7
"""From the first on a number is a pattern for others, and up to the second it is held against them."""
NEAR, ROOM = 0.2, 0.02
"""In cells: how near to the middle of its place the middle of a number stands, and the paper about one that is compared
with it."""
ACROSS = 0.2
"""In cells: so far to both sides of its place a lattice line is looked for."""
OFF = 0.025
"""In cells: print sets numbers no farther off the middles of edges; one that has lost a figure of two stands by a
quarter of its width, 0.04 and more, off it."""
SHIFT = 0.06
"""In cells: how far off its place a number may stand."""
BESIDE = (0.32, 0.45)
"""In cells: from the middle of its place along the line, where a number no longer stands and the line shows alone."""
WIDEST = 0.17
"""In cells: how wide a lattice line is at most, with its blur."""
RUNS, BLUR = 0.3, 1
"""Part of its darkest ink that a line has at least, and pixels of blur beside it."""
LEFT = 0.4
"""Part of the window that must be left to compare."""
ALIKE, AHEAD = 0.75, 0.06
"""Correlation from which on two are one number, and by how much the next number must be less alike."""
COPY = 0.85
"""Correlation from which on what may be no text at all, or was surely read as none, is one of the page."""
ON_EDGES, LIKE_SIGN = ("V", "X"), "V"
"""The letters that print sets on edges, and the one that may as well be a sign: what is like it is told by others."""
WALL = 0.04
"""In cells: half the width of a cage's wall, with its blur."""
DASH = 0.2
"""Ink from which on it is a dash, or the blur of one."""
OF_EACH = 3
"""So many of each number are compared at most."""
LIKELY = 0.6
"""How sure such a number is: a person looks at it."""

Flags = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Look:
    """What stands at a place: the ink of a window about it, half its width and height in cells, and which of its pixels
    no line covers."""

    half: tuple[float, float]
    ink: Grey
    free: Flags


@dataclass(frozen=True, slots=True)
class _Page:
    """The ink of a page, and which of its pixels no wall of a cage covers."""

    ink: Grey
    raster: Raster
    free: Flags


def like_others(
    places: Iterable[Place], glyphs: Sequence[Glyph], ink: Grey, raster: Raster, walls: Iterable[Wall] = ()
) -> list[Glyph]:
    """The glyphs, with those on edges that were unsure or not read as the text that others of the page have, where they
    look like one of these. `ink` is that of the page with its lattice, on which cages have `walls`."""
    bare = [place for place in places if place.on_lattice and not place.radius]
    at = {place: next((glyph for glyph in glyphs if _stands_at(place, glyph)), None) for place in bare}
    alone = {place for place in bare if sum(_stands_at(place, glyph) for glyph in glyphs) == 1}
    known = {place: glyph for place, glyph in at.items() if glyph and _is_text(glyph.text) and not place.perhaps}
    page = _Page(ink, raster, _without_walls(walls, ink, raster))
    looks = _patterns(
        {place: glyph for place, glyph in known.items() if place in alone and glyph.confidence >= SURE}, page
    )
    found = list(glyphs)
    for place, glyph in at.items():
        shorn = [(other, look) for other, look in looks if place in alone and glyph and _is_shorn(glyph, other, place)]
        sure = glyph is not None and glyph.confidence > UNSURE and _is_text(glyph.text)
        if not looks or (sure and not shorn):
            continue
        strange = glyph is not None and glyph.confidence > SURE and not _is_text(glyph.text)
        alike = _alike(place, shorn or looks, page, COPY if place.perhaps or strange else ALIKE)
        if alike is not None:
            found = [other for other in found if other is not glyph]
            found.append(_moved(alike, place))
    return found


def _is_shorn(glyph: Glyph, other: Glyph, place: Place) -> bool:
    """Whether a number may be another of its page that has lost a figure, to a wall of a cage or a line that touches
    it: it is a part of that, and stands to one side of its place."""
    off = max(abs(a - b) for a, b in zip(glyph.centre, place.middle, strict=True))
    return off > OFF and len(glyph.text) < len(other.text) and glyph.text in other.text


def _is_text(text: str) -> bool:
    """Whether characters are what print sets on edges: a number, or letters for one."""
    return text.isdecimal() or text in ON_EDGES


def _without_walls(walls: Iterable[Wall], ink: Grey, raster: Raster) -> Flags:
    """Which pixels of some ink no wall covers: between its dashes is paper, which tells as paper does elsewhere."""
    free = np.ones(ink.shape, np.bool_)
    for (x0, y0), (x1, y1) in walls:
        left, right, top, bottom = min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)
        own = raster.slices((left - WALL, top - WALL, right + WALL, bottom + WALL))
        free[own] &= ink[own] < DASH
    return free


def _patterns(sure: Mapping[Place, Glyph], page: _Page) -> list[tuple[Glyph, Look]]:
    """What the numbers look like that were surely read, a few of each: those that lines and walls cover least."""
    own = [
        (glyph, _look(place, _half(glyph, place), _line(place, page), page, (0, 0))) for place, glyph in sure.items()
    ]
    seen = Counter[str]()
    looks = []
    for glyph, look in sorted(own, key=lambda pair: -float(pair[1].free.mean())):
        seen[glyph.text] += 1
        if seen[glyph.text] <= OF_EACH:
            looks.append((glyph, look))
    return looks


def _stands_at(place: Place, glyph: Glyph) -> bool:
    return math.dist(glyph.centre, place.middle) <= NEAR


def _half(glyph: Glyph, place: Place) -> tuple[float, float]:
    """Half the width and half the height of the window about a place that holds a number, in cells."""
    (x0, y0, x1, y1), (x, y) = glyph.box, place.middle
    return max(x - x0, x1 - x) + ROOM, max(y - y0, y1 - y) + ROOM


def _alike(place: Place, looks: Sequence[tuple[Glyph, Look]], page: _Page, least: float) -> Glyph | None:
    """The number that what stands at a place looks like, to so much at `least`; None where it is like none, or like
    several."""
    reach = page.raster.px(SHIFT)
    shifts = [(dx, dy) for dx in range(-reach, reach + 1) for dy in range(-reach, reach + 1)]
    covered = _line(place, page)
    best: dict[str, tuple[float, Glyph]] = {}
    for glyph, look in looks:
        fit = max(_correlation(look, _look(place, look.half, covered, page, shift)) for shift in shifts)
        if fit > best.get(glyph.text, (0.0, glyph))[0]:
            best[glyph.text] = fit, glyph
    ordered = sorted(best.values(), key=lambda pair: -pair[0])
    if not ordered or ordered[0][0] < least or ordered[0][1].text == LIKE_SIGN:
        return None
    return ordered[0][1] if len(ordered) == 1 or ordered[0][0] - ordered[1][0] >= AHEAD else None


def _look(
    place: Place,
    half: tuple[float, float],
    covered: Sequence[int],
    page: _Page,
    off: tuple[int, int],
) -> Look:
    """What stands about a place, so many pixels off it, and what of that its line, `covered`, leaves free."""
    x, y = (round(page.raster.at(v)) + by for v, by in zip(place.middle, off, strict=True))
    wide, tall = map(page.raster.px, half)
    own = slice(y - tall, y + tall + 1), slice(x - wide, x + wide + 1)
    free = page.free[own].copy()
    upright = _is_upright(place)
    first = x - wide if upright else y - tall
    for at in covered:
        if 0 <= at - first < free.shape[1 if upright else 0]:
            free[(slice(None), at - first) if upright else at - first] = False
    return Look(half, page.ink[own], free)


def _is_upright(place: Place) -> bool:
    """Whether the lattice line under a place runs up and down."""
    x, y = place.middle
    return abs(x - round(x)) < abs(y - round(y))


def _line(place: Place, page: _Page) -> Sequence[int]:
    """The columns of an upright lattice line under a place, or the rows of a level one, in pixels of the picture."""
    (x, y), upright = place.middle, _is_upright(place)
    profiles = []
    for side in (-1, 1):
        near, far = sorted(side * end for end in BESIDE)
        level = (x + near, y - ACROSS, x + far, y + ACROSS)
        box = (x - ACROSS, y + near, x + ACROSS, y + far) if upright else level
        rows, columns = page.raster.slices(box)
        profiles.append(np.where(page.free[rows, columns], page.ink[rows, columns], 0).mean(axis=0 if upright else 1))
        start = columns.start if upright else rows.start
    profile = np.minimum(*profiles) if profiles[0].shape == profiles[1].shape else profiles[0]
    profile = profile - _ground(profile, page.raster.px(WIDEST))
    dark = np.flatnonzero(profile > RUNS * float(profile.max(initial=0.0)))
    return range(start + int(dark[0]) - BLUR, start + int(dark[-1]) + BLUR + 1) if dark.size else ()


def _ground(profile: Grey, wide: int) -> Grey:
    """The ink on which a line runs that is no wider than so many pixels: paper, or a tint on one side of it."""
    half = wide // 2
    eroded = sliding_window_view(np.pad(profile, half, mode="edge"), 2 * half + 1).min(axis=-1)
    opened = sliding_window_view(np.pad(eroded, half, mode="edge"), 2 * half + 1).max(axis=-1)
    return np.asarray(opened, np.float32)


def _correlation(one: Look, other: Look) -> float:
    """How alike two windows are where neither is covered; 0 where too little is left."""
    if one.ink.shape != other.ink.shape:
        return 0.0
    free = one.free & other.free
    if free.mean() < LEFT:
        return 0.0
    a, b = (ink[free] - ink[free].mean() for ink in (one.ink, other.ink))
    return float((a * b).sum() / max(float(np.sqrt((a * a).sum() * (b * b).sum())), 1e-9))


def _moved(glyph: Glyph, place: Place) -> Glyph:
    """A number as it stands at another place."""
    (x0, y0, x1, y1), (x, y) = glyph.box, place.middle
    wide, tall = (x1 - x0) / 2, (y1 - y0) / 2
    return replace(glyph, box=(x - wide, y - tall, x + wide, y + tall), guesses=(Guess(glyph.text, LIKELY),))
