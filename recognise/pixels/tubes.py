"""The two layers in which lines are drawn: wide filled strokes, and tubes drawn as an outline."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from recognise.evidence import Trace
from recognise.pixels.blobs import measure_tones
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.ink import Ink, soften
from recognise.pixels.tracing import overshoots, painted, trace_layer

SMOOTH = 0.02
"""Smoothing in cells before thresholds: halftone dots of scans become a tone."""
STROKE = 0.045
"""Half the width, in cells, of the thinnest filled line (0.09): thinner ones are strokes of digits and outlines."""
OVER_TONE = 1.2
"""Tubes of one page may be so much darker than the tone measured: prints are uneven."""
HALF_TONE = 0.5
"""The edge of a filled area lies where its tone has fallen to half."""
EVEN = 0.35
"""Inside an area the least ink is at least this part of the most nearby; a blurred thin stroke falls to a fifth."""
WALL = 0.35
"""A wall is at least this part as dark as the darker ink of the grid: walls are thin and pale after smoothing."""
SEAM = 1
"""Pixels by which walls are closed before their inside is looked for: what taking out the grid opens."""
OPENING = 0.7
"""In cells: ground that lies along more of a cell's edge is not the inside of a tube; the widest tube has 0.62."""
BESIDE = 0.2
"""In cells: half the width of the widest lattice line."""
SPREAD = 0.2
"""In cells: how far sides grow into undecided ground, mostly what lies under the lattice."""
CHARACTER = 0.15
"""In square cells: the most that the strokes of a character cover."""
THICKEST_WALL = 0.08
"""In cells: the thickest wall, its blur included."""
WALLED = 0.5
"""A filled area of which more than this part lies within walls is what fills an outlined tube."""
SPARE = 0.06
"""In cells: how far ink may stand beside a line as traced and still be its own: mitred bends, square ends."""


@dataclass(frozen=True, slots=True)
class Tubes:
    """Traced lines, and the pixels of ink that they explain."""

    traces: tuple[Trace, ...]
    explained: Mask
    filled: Mask
    hollow: Mask


def trace_tubes(ink: Ink, drawn: Grey, raster: Raster, hidden: Mask | None = None) -> Tubes:
    """The lines of a grid. `drawn` is its ink without grid and without characters; `hidden` is where they stood."""
    smooth = soften(drawn, SMOOTH * raster.cell)
    # Characters that were not recognised are darker than the tube that they stand on: cut down to its tone they do not
    # hide how far it goes.
    tone = measure_tones(ink, raster).even
    level = soften(np.minimum(drawn, tone * OVER_TONE), SMOOTH * raster.cell) if tone > 0 else smooth
    filled = filled_layer(level, raster, ink.floor)
    hollow = hollow_layer(smooth, ink.grid, raster, ink.floor, hidden)
    filled, hollow = _told_apart(filled, hollow, raster)
    traces = trace_layer(filled, raster, ink.relative, hidden=hidden)
    outlined = trace_layer(hollow, raster, None, outlined=True, hidden=hidden)
    shape = drawn.shape
    explained = painted([*traces, *outlined], raster, (shape[0], shape[1]), SPARE)
    inked = cv2.dilate((filled | hollow).astype(np.uint8), _disc(raster.px(SPARE))) > 0
    explained |= overshoots([*traces, *outlined], raster, (shape[0], shape[1]), SPARE) & inked
    return Tubes((*traces, *outlined), explained, filled, hollow)


def _told_apart(filled: Mask, hollow: Mask, raster: Raster) -> tuple[Mask, Mask]:
    """Both layers without what is in both: a tube that is filled and has walls counts as outlined."""
    count, labels = cv2.connectedComponents(filled.astype(np.uint8), connectivity=8)
    size = np.bincount(labels.ravel(), minlength=count)
    shared = np.bincount(labels[hollow], minlength=count)
    walled = shared > WALLED * size
    walled[0] = False
    return filled & ~walled[labels], hollow


def _disc(pixels: int) -> cv2.typing.MatLike:
    return cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * pixels + 1, 2 * pixels + 1))


def filled_layer(smooth: Grey, raster: Raster, floor: float) -> Mask:
    """Areas of ink wider than a stroke, each bounded where its own tone has fallen to half."""
    disc = _disc(raster.px(STROKE))
    core = cv2.erode(smooth, disc)
    tone = cv2.dilate(core, disc)
    # `tone` is the ink of the widest stroke that covers a pixel; beside an area it falls to that of paper.
    local = cv2.dilate(tone, _disc(raster.px(STROKE)))
    # Smoothing spreads thin strokes too; what is left of one after erosion is far below its peak.
    even = core > EVEN * cv2.dilate(smooth, disc)
    area = cv2.dilate((even & (core > floor)).astype(np.uint8), disc) > 0
    mask = area & (smooth > HALF_TONE * local)
    return np.asarray(cv2.morphologyEx(mask.astype(np.uint8), cv2.MORPH_OPEN, disc), np.bool_)


def hollow_layer(smooth: Grey, grid: Mask, raster: Raster, floor: float, hidden: Mask | None = None) -> Mask:
    """The insides of outlines that are tubes, with their walls. `hidden` (characters) may hold a piece of wall.

    Where the lattice was taken out (`grid`) a corner of a wall may be gone with it, and one hole lets the inside of a
    tube run out. So the ground is cut along the lattice into pieces, each told to be inside or outside by its own
    shape; what lies under the lattice then goes with the nearer side."""
    rows, columns = raster.grid_slices(raster.px(0.3))
    part, lattice = smooth[rows, columns], grid[rows, columns]
    peak = float(np.percentile(part[part > floor], 90)) if (part > floor).any() else 1.0
    walls = (part > max(floor, WALL * peak)).astype(np.uint8)
    covered = walls.copy()
    if hidden is not None:
        covered |= hidden[rows, columns].view(np.uint8)
    covered = cv2.morphologyEx(covered, cv2.MORPH_CLOSE, np.ones((2 * SEAM + 1, 2 * SEAM + 1), np.uint8))
    inside, outside = _sides(covered, lattice, raster, (columns.start, rows.start))
    tube = _spread(inside, outside, covered == 0, raster.px(SPREAD))
    near = cv2.dilate(tube.view(np.uint8), _disc(raster.px(THICKEST_WALL))) > 0
    hollow = np.zeros(smooth.shape, dtype=bool)
    whole = tube | (near & ((walls > 0) | (covered > 0) & lattice))
    hollow[rows, columns] = whole | _enclosed(whole, walls, raster)
    return hollow


def _enclosed(tube: Mask, ink: npt.NDArray[np.uint8], raster: Raster) -> Mask:
    """Holes of a tube that are ink: strokes of characters that nobody recognised."""
    count, labels, stats, _ = cv2.connectedComponentsWithStats((~tube).astype(np.uint8), connectivity=4)
    inked = np.bincount(labels[ink > 0], minlength=count)
    holes = (stats[:, cv2.CC_STAT_AREA] <= CHARACTER * raster.cell**2) & (inked > stats[:, cv2.CC_STAT_AREA] / 2)
    holes[0] = False
    return np.asarray(holes[labels], np.bool_)


def _sides(covered: npt.NDArray[np.uint8], lattice: Mask, raster: Raster, corner: tuple[int, int]) -> tuple[Mask, Mask]:
    """The pieces of open ground that are inside a tube, and those outside; others are left to their neighbours.
    `corner` is the picture's place (x, y) in the raster.

    A tube passes over the middle of its cells and leaves them by a part of an edge; ground beside it, and all of an
    empty cell, lies along most of some edge."""
    ground = ((covered == 0) & ~lattice).astype(np.uint8)
    count, labels = cv2.connectedComponents(ground, connectivity=4)
    origin = np.array([raster.origin - corner[0], raster.origin - corner[1]])
    outside = _along_edges(labels, count, lattice, raster, origin) > OPENING * raster.cell
    rim = np.concatenate([labels[0], labels[-1], labels[:, 0], labels[:, -1]])
    outside[rim] = True
    inside = np.zeros(count, dtype=bool)
    middles = np.rint(raster.centres().reshape(-1, 2) - corner).astype(np.int64)
    inside[labels[middles[:, 1], middles[:, 0]]] = True
    inside &= ~outside
    inside[0] = outside[0] = False
    return inside[labels], outside[labels]


def _along_edges(
    labels: npt.NDArray[np.int32], count: int, lattice: Mask, raster: Raster, origin: npt.NDArray[np.int64]
) -> npt.NDArray[np.int64]:
    """For each label, how many pixels of it lie along one edge of a cell at most."""
    most = np.zeros(count, dtype=np.int64)
    for turned in (False, True):
        picture, band = (labels.T, lattice.T) if turned else (labels, lattice)
        x0, y0 = (int(v) for v in (origin[::-1] if turned else origin))
        lines, cells = (raster.columns, raster.rows) if turned else (raster.rows, raster.columns)
        for line in range(lines + 1):
            y = y0 + line * raster.cell
            for side in (-1, 1):
                beside = _beside(picture, band, y, side, raster.px(BESIDE))[x0 : x0 + cells * raster.cell]
                counted = np.bincount(
                    beside + np.repeat(np.arange(cells) * count, raster.cell), minlength=cells * count
                )
                np.maximum(most, counted.reshape(cells, count).max(axis=0), out=most)
    return most


def _beside(picture: npt.NDArray[np.int32], band: Mask, y: int, side: int, reach: int) -> npt.NDArray[np.int32]:
    """The labels in the first row past a lattice line's band on one side."""
    column_has = band[y : y + side * reach : side]
    depth = int(np.max(np.nonzero(column_has.mean(axis=1) > 0.5)[0], initial=0)) + 1
    return np.asarray(picture[y + side * (depth + 1)], np.int32)


def _spread(inside: Mask, outside: Mask, free: Mask, pixels: int) -> Mask:
    """`inside` grown over `free` ground, step by step and no further than `pixels`, while `outside` grows too; pieces
    left over (beside a character, mostly) go with the side that they touch more of."""
    cross = cv2.getStructuringElement(cv2.MORPH_CROSS, (3, 3))
    inner, outer, ground = (side.astype(np.uint8) for side in (inside, outside, free))
    for _ in range(pixels):
        onward, backward = cv2.dilate(inner, cross) & ground, cv2.dilate(outer, cross) & ground
        inner |= onward & ~outer & ~(backward & ~inner)
        outer |= backward & ~inner
    left = ground & ~inner & ~outer & 1
    count, labels = cv2.connectedComponents(left, connectivity=4)
    touched = [np.bincount(labels[(cv2.dilate(side, cross) & left) > 0], minlength=count) for side in (inner, outer)]
    taken = touched[0] > touched[1]
    taken[0] = False
    return np.asarray((inner > 0) | taken[labels], np.bool_)
