"""The ink that characters of a place are read from: what belongs to circles, lattice lines and walls cut off."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest import channels
from ingest.page import Box, Point
from recognise.components import components
from recognise.marks.text_places import SHORTEST, Place
from recognise.pixels.blobs import Blob, Pieces
from recognise.pixels.dashes import dashes
from recognise.pixels.frame import Colours, Grey, Raster
from recognise.quantiles import percentile

INSIDE = 0.78
"""As a part of its radius: what lies within is not the circle's own line."""
OTHER_INSIDES = (0.68, 0.9, 1.15)
"""The same where only a part seems to be read: circles are measured to a tenth, blurred ones to a quarter, and digits
may stand close to them."""
EDGE_INNER = 0.3
"""In cells: half the side of the part of a place on an edge in which a patch of paper cuts the lattice off."""
BEYOND = 0.5
"""In cells: so far beyond the corner dashes are looked at."""
FREE, WALL = 0.7, 0.22
"""In cells: from here on no total stands beside or below the corner of a cell; so far from the lattice line a wall
stands at most."""
RUNS = 0.3
"""Part of the darkest line along a cell's side that dashes, with their gaps, are at least."""
GROUND, TINTED = 40, 0.15
"""Percentile of the ink in a circle that is its ground's, figures covering less than half; ink from which on the ground
is tinted."""
COLOURED = 0.2
"""By how much less ink a coloured line has in its lightest channel than in its darkest."""
COLOURED_PART = 0.03
"""Part of a place that a coloured line covers at least; the edge of a black stroke has colour on some photos."""
BLACK_LINE = 0.88
"""Ink from which on nothing shows on a lattice line."""
BESIDE = ((-0.42, -0.32), (0.32, 0.42))
"""In cells: from the middle of a place along its lattice line, where no number stands any more."""
DARKEST = 98
"""Percentile of the ink of a place that is taken for its darkest: specks of noise are darker."""
MOSTLY_DISC = 75
"""Percentile of the ink of a dark disc that is the disc's own: light characters on it cover less than a quarter."""


ROUND_END = 0.045
"""In cells: so near to the corners of a frame's inside the line of a rounded one stands; it has less ink there than any
character."""
OF_LINE = 0.85
"""Part of a piece from side to side of a frame that lies at its round ends, at least, where it is the line of a
capsule: figures that touch both sides have two thirds there at most."""
DASH = 0.027
"""In cells: half the width of a dash of a cage's wall, with some of its blur."""

Wall = tuple[Point, Point]
"""The ends of a straight piece of a wall, in cells."""


@dataclass(frozen=True, slots=True)
class Print:
    """What characters are read from: `whole` is the ink with the lattice, `drawn` without it, `pieces` those of
    `drawn`; `floor` is the least that counts as ink."""

    whole: Grey
    drawn: Grey
    relative: Colours
    pieces: Pieces
    raster: Raster
    floor: float


def cut_out(places: Iterable[Place], seen: Print, inside: float = INSIDE) -> Grey:
    """The ink within the circles and frames, less that of their ground where they are tinted, and within the places on
    edges."""
    cut = np.zeros_like(seen.whole)
    for place in places:
        if place.radius:
            mask = disc(place, inside, seen) if place.frame is None else _boxed(place.frame, seen)
            own = seen.whole[mask]
            ground = float(np.percentile(own, GROUND)) if own.size else 0.0
            ground = ground if ground > TINTED else 0.0
            cut[mask] = np.maximum(own - ground, 0) / max(1 - ground, TINTED)
        elif place.on_lattice:
            window = seen.raster.slices(inner(place))
            cut[window] = seen.whole[window]
    return cut


def darker_than_lines(places: Iterable[Place], seen: Print) -> tuple[Grey, set[Place]]:
    """What is darker than the lattice line under it, of the places on edges whose line is not black, and these places:
    black figures differ from a coloured line in the channel in which that is lightest."""
    grey = neutral(seen)
    found = np.zeros_like(grey)
    clear = set()
    for place in places:
        light, dark = (line_beside(place, ink, seen.raster) for ink in (grey, seen.whole))
        coloured = float(dark.max(initial=0.0) - light.max(initial=0.0)) >= COLOURED
        ink, line = (grey, light) if coloured else (seen.whole, dark)
        window = seen.raster.slices(inner(place))
        if not place.radius and (coloured or float(line.max(initial=0.0)) < BLACK_LINE):
            found[window] = np.maximum(ink[window] - line, 0) / np.maximum(1 - line, TINTED)
            clear.add(place)
    return found, clear


def without_colours(places: Iterable[Place], seen: Print) -> tuple[Grey, list[Place]]:
    """What is darker than coloured lines, the lattice aside, in the channel in which they are lightest, and those of
    some places that such a line runs through: a number on it is one piece with it in all others."""
    grey = neutral(seen)
    # Where a lattice line was taken out nothing is known but that the coloured line runs on there.
    grey[seen.whole - seen.drawn >= COLOURED] = 0
    coloured = (seen.drawn - grey >= COLOURED) & (grey > 0)
    darker, lined = np.zeros_like(grey), []
    for place in places:
        own = seen.raster.slices(place.box)
        if np.mean(coloured[own]) >= COLOURED_PART:
            line = float(np.median(grey[own][coloured[own]]))
            window = seen.raster.slices(_around(place))
            darker[window] = np.maximum(grey[window] - line, 0) / max(1 - line, TINTED)
            lined.append(place)
    return darker, lined


def neutral(seen: Print) -> Grey:
    """How dark each pixel is in its lightest channel."""
    return np.asarray(1.0 - channels.most(seen.relative), np.float32)


def line_beside(place: Place, ink: Grey, raster: Raster) -> Grey:
    """How dark the lattice line is that runs under a place on an edge, across it, as seen to both sides of what stands
    there: a row or a column for the part of the place that is looked at."""
    return np.asarray(np.minimum(*lines_beside(place, ink, raster)), np.float32)


def lines_beside(place: Place, ink: Grey, raster: Raster) -> tuple[Grey, Grey]:
    """The same as seen to the one side of it and to the other."""
    x0, y0, x1, y1 = inner(place)
    x, y = place.middle
    if abs(x - round(x)) < abs(y - round(y)):
        one, other = (ink[raster.slices((x0, y + a, x1, y + b))].mean(axis=0)[None] for a, b in BESIDE)
    else:
        one, other = (ink[raster.slices((x + a, y0, x + b, y1))].mean(axis=1)[:, None] for a, b in BESIDE)
    return one, other


def runs_through(wall: Wall, place: Place) -> bool:
    """Whether a wall runs through the circle of a place."""
    (x0, y0), (x1, y1) = wall
    x, y = place.middle
    near = min(max(x, min(x0, x1)), max(x0, x1)), min(max(y, min(y0, y1)), max(y0, y1))
    return math.dist(near, (x, y)) < INSIDE * place.radius


def past_walls(ink: Grey, walls: Iterable[Wall], raster: Raster) -> Grey:
    """The ink without what lies on walls of cages."""
    freed = ink.copy()
    for (x0, y0), (x1, y1) in walls:
        box = min(x0, x1) - DASH, min(y0, y1) - DASH, max(x0, x1) + DASH, max(y0, y1) + DASH
        freed[raster.slices(box)] = 0.0
    return freed


def disc(place: Place, inside: float, seen: Print) -> npt.NDArray[np.bool_]:
    """The pixels within a part of the radius of a place's circle."""
    mask = np.zeros(seen.whole.shape, np.uint8)
    x, y = (round(seen.raster.at(v)) for v in place.middle)
    cv2.circle(mask, (x, y), seen.raster.px(inside * place.radius), 1, -1)
    return mask > 0


def _boxed(box: Box, seen: Print) -> npt.NDArray[np.bool_]:
    """The pixels within the box of a frame's inside, but for what a rounded frame has in its corners, or a capsule at
    its ends."""
    mask = np.zeros(seen.whole.shape, np.bool_)
    window = seen.raster.slices(box)
    own = seen.whole[window]
    if own.size:
        inked = own > float(np.percentile(own, GROUND)) + seen.floor
        _, labels, stats, _ = cv2.connectedComponentsWithStats(inked.astype(np.uint8), connectivity=4)
        end = seen.raster.px(ROUND_END)
        ends = (*range(end), *range(-end, 0))
        round_ends = labels[np.ix_(ends, ends)]
        bits = [n for n in np.unique(round_ends[round_ends > 0]) if stats[n, 4] < (SHORTEST * seen.raster.cell) ** 2]
        at_ends = _at_round_ends(own.shape[:2], end)
        across = [n for n in range(1, len(stats)) if stats[n, 2] == own.shape[1] or stats[n, 3] == own.shape[0]]
        # A figure in a box may reach from side to side of it as well.
        lines = [n for n in across if at_ends[labels == n].mean() >= OF_LINE]
        mask[window] = ~np.isin(labels, bits) & ~(np.isin(labels, lines) & at_ends)
    return mask


def _at_round_ends(shape: tuple[int, ...], line: int) -> npt.NDArray[np.bool_]:
    """The pixels of a rectangle that lie outside the capsule that fits into it, or on its line."""
    high, wide = shape
    within = np.zeros((high, wide), np.uint8)
    half = min(high, wide) // 2
    start, stop = (half, half), (wide - 1 - half, high - 1 - half)
    cv2.line(within, start, stop, 1, max(1, 2 * (half - line)))
    return np.asarray(within == 0, np.bool_)


def light_on_dark(places: Iterable[Place], seen: Print) -> Grey:
    """What is lighter than the dark discs of some places, as ink."""
    light = np.zeros(seen.whole.shape, np.float32)
    for place in places:
        mask = disc(place, INSIDE, seen)
        own = seen.whole[mask]
        if own.size:
            light[mask] = np.maximum(np.percentile(own, MOSTLY_DISC) - own, 0)
    return light


def without_walls(places: Iterable[Place], seen: Print) -> Grey:
    """The ink with the lattice, in corners of cells without what runs along the top and the left of the cell: walls of
    cages touch the totals that stand beside them. Where a wall ends shows where no total is."""
    peeled = np.zeros_like(seen.whole)
    for place in places:
        left, top = place.box[:2]
        beside = seen.whole[seen.raster.slices((left + FREE, top, left + 1 - WALL, top + WALL))]
        below = seen.whole[seen.raster.slices((left, top + FREE, left + WALL, top + 1 - WALL))]
        rows, columns = (_band(part.mean(axis=axis), seen.floor) for part, axis in ((beside, 1), (below, 0)))
        y, x = seen.raster.slices((left, top, left + 1, top + 1))
        inside = slice(y.start + rows, y.stop), slice(x.start + columns, x.stop)
        # What is left of the wall's own sides is paler than it, and hangs on to the number.
        left_over = np.zeros_like(seen.whole[y, x])
        left_over[: beside.shape[0]] = beside.mean(axis=1)[:, None]
        left_over[:, : below.shape[1]] = np.maximum(left_over[:, : below.shape[1]], below.mean(axis=0))
        peeled[inside] = np.maximum(seen.whole[inside] - left_over[rows:, columns:], 0)
    return peeled


def _band(profile: npt.NDArray[np.floating], floor: float) -> int:
    """Pixels from the lattice line to the end of what runs along it."""
    above = np.flatnonzero(profile > max(floor, RUNS * float(profile.max(initial=0.0))))
    return int(above[-1]) + 1 if above.size else 0


Window = tuple[slice, slice]


def darkest_at(places: Iterable[Place], cut: Grey, raster: Raster) -> list[tuple[Window, float]]:
    """Where something was cut out at each of some places, and how dark it is at its darkest."""
    found = []
    for place in places:
        window = raster.slices(_around(place))
        inked = cut[window]
        inked = inked[inked > 0]
        if inked.size:
            found.append((window, float(percentile(inked, DARKEST))))
    return found


def pieces_at(inked: Iterable[tuple[Window, float]], cut: Grey, share: float, seen: Print) -> Pieces:
    """The pieces of what was cut out, at a share of the darkest ink of each place. Nothing is put together: digits in a
    circle stand closer over one another than the parts of a broken one."""
    mask = np.zeros(cut.shape, np.uint8)
    for window, darkest in inked:
        mask[window] |= (cut[window] > max(seen.floor, share * darkest)).view(np.uint8)
    labels, stats = components(mask)
    set_aside = set(dashes(labels, stats[:, :4].astype(np.int64), np.arange(1, len(stats)), seen.raster.cell).tolist())
    found = enumerate(stats.tolist())
    blobs = tuple(Blob(x, y, w, h, area, (n,)) for n, (x, y, w, h, area) in found if n and n not in set_aside)
    return Pieces(labels, blobs, seen.pieces.tones)


def _around(place: Place) -> Box:
    """What is looked at of a place: in a corner more of the cell, so that rows of dashes show as such."""
    x0, y0, x1, y1 = place.box
    return place.box if place.on_lattice else (x0, y0, x1 + BEYOND, y1 + BEYOND)


def inner(place: Place) -> Box:
    """The part of a place on an edge in which a patch of paper cuts the lattice off."""
    x, y = place.middle
    return x - EDGE_INNER, y - EDGE_INNER, x + EDGE_INNER, y + EDGE_INNER
