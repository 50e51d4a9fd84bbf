"""A picture in which the light lines of a grid are dark and its tinted cells white, as the readers of marks know it."""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Image
from recognise.evidence import Lattice
from recognise.grids.ink import luminance
from recognise.grids.mesh import step
from recognise.grids.warp import Points, extended

DARK = 0.5
"""Cells are dark, and what stands in them is light, where they are this much darker than the lines between them."""
INK = 0.2
"""How bright a line is painted, compared with the paper: black would hide what is printed on it."""
WIDEST = 0.17
"""In cells: half the width of the widest gap between boxes."""
RIM = 0.12
"""In cells: nothing within this of a lattice line tells a cell's own colour, ..."""
SPOT = 0.06
"""... nor anything but what is so near to it the line's."""
DEGREE = 2
"""Light falls off over a page like a surface of this degree."""
ROUNDS = 5
"""Rounds of reweighting after which the surface has let go of cells of other tints."""
ALIKE = 0.04
"""Relative difference of brightness from which on a cell is half believed to be like the others."""
SAMPLES = 15
"""Points along a cell or an edge at which colours are taken."""
SMOOTH = 1 / 30
"""In cells: over so much the grain of a photograph is smoothed before it is told what is line."""
PALEST, SURE = 0.35, 0.7
"""Of the way from a cell's brightness to a line's: what is grain, and what is line."""
BROADER = 1.2
"""So much broader than measured a line may be in places."""
STROKE = 0.1
"""In cells: strokes on a white label are thinner."""
ISLAND = 0.36
"""In cells: labels on a line are no longer."""
AROUND = 3.0
"""In cells: how far around a grid its numbers stand."""
COARSE = 24
"""Points along a side at which a surface of light is known."""

Floats = npt.NDArray[np.float64]


def inked(image: Image, lattice: Lattice) -> Image:
    """The image (height x width x 3, RGB) with the lattice's light lines dark: the commonest colour of its cells
    becomes that of the lines, in every light, and the lines are painted as dark as ink where nothing lies on them, as
    wide as they are. Dark cells with light marks in them are turned into a negative, with dark paper
    around them; coloured marks keep their hue."""
    left, top, right, bottom = _window(image, lattice)
    part, at = image[top:bottom, left:right], np.array([left, top], np.float64)
    points = lattice.points - at
    cell = step(points)
    smooth = cv2.blur(part, (max(1, round(cell * SMOOTH)),) * 2)
    tile, line = (_surface(places, colours, part.shape) for places, colours in _samples(smooth, points))
    dim, bright = luminance(tile.astype(np.uint8)).astype(np.float32), luminance(line.astype(np.uint8))
    level = luminance(smooth).astype(np.float32)
    lighter = np.clip((level - dim) / np.maximum(bright - dim, 1.0), 0, 1)
    widths = _widths(lighter, points)
    within = _polygon(points, part.shape, float(np.median(np.concatenate(widths, axis=None))) * cell / 2)
    if float(np.median(dim / bright)) < DARK:
        painted = _negative(part, tile, line)
        if _is_dark_around(lighter, within, points):
            within[:] = True
    else:
        ink = np.clip((lighter - PALEST) / (SURE - PALEST), 0, 1)
        ink[~_band(points, part.shape, widths) | _areas(lighter * within, widths, cell)] = 0
        ink[_islands((ink > 0) & within, cell)] = 0
        white = np.minimum(part * line / np.maximum(tile, 1.0), np.maximum(line, part))
        painted = white * (1 - ink[..., None]) + INK * line * ink[..., None]
    out = image.copy()
    out[top:bottom, left:right][within] = np.clip(painted, 0, 255).astype(np.uint8)[within]
    return out


def _is_dark_around(lighter: npt.NDArray[np.float32], within: npt.NDArray[np.bool_], points: Points) -> bool:
    """Whether the paper beside the grid is as dark as its cells."""
    around = _polygon(points, within.shape, step(points)) & ~within
    return bool(around.any() and np.median(lighter[around]) < PALEST)


def _negative(part: Image, tile: npt.NDArray[np.float32], line: npt.NDArray[np.float32]) -> npt.NDArray[np.float32]:
    """The picture with light and dark changed for one another, between the colour of the cells and that of the lines;
    what is coloured keeps its hue, by which rules call it."""
    lit = np.maximum(line, 1.0)
    shown = part / lit
    turned = 1 + (tile / lit).mean(axis=-1) - shown.max(axis=-1) - shown.min(axis=-1)
    return np.asarray((shown + turned[..., None]) * lit, np.float32)


def _window(image: Image, lattice: Lattice) -> tuple[int, int, int, int]:
    low, high = lattice.points.min(axis=(0, 1)), lattice.points.max(axis=(0, 1))
    room = AROUND * step(lattice.points)
    left, top = (max(0, int(value - room)) for value in low)
    right, bottom = (int(value + room) for value in high)
    return left, top, min(right, image.shape[1]), min(bottom, image.shape[0])


def _samples(image: Image, points: Points) -> tuple[tuple[Points, Floats], tuple[Points, Floats]]:
    """Places and colours of the cells, and of the lines between them; n x 2 and n x 3."""
    # The rim inside each cell, beside what stands in its middle.
    along = np.linspace(RIM, 1 - RIM, SAMPLES)
    low, high = np.full(SAMPLES, RIM), np.full(SAMPLES, 1 - RIM)
    ring = np.concatenate([np.stack(pair, -1) for pair in ((along, low), (along, high), (low, along), (high, along))])
    tiles = _between(points, ring)
    colours = np.median(_taken(image, tiles), axis=2)
    on_line = np.concatenate(
        [np.stack([np.linspace(0.2, 0.8, SAMPLES), np.full(SAMPLES, off)], -1) for off in (-SPOT / 2, 0.0, SPOT / 2)]
    )
    down = _between(points, on_line)[1:]
    right = _between(points, on_line[:, ::-1])[:, 1:]
    lines = np.concatenate([part.reshape(-1, *part.shape[2:]) for part in (down, right)])
    line_colours = np.quantile(_taken(image, lines), 0.7, axis=1)
    return (tiles.mean(axis=2).reshape(-1, 2), colours.reshape(-1, 3)), (lines.mean(axis=1), line_colours)


def _between(points: Points, spots: Floats) -> Points:
    """Places in every cell, (rows, columns, spots, 2), of spots (x, y) within a cell."""
    u, v = spots[:, 0, None], spots[:, 1, None]
    corner = points[:-1, :-1, None], points[:-1, 1:, None], points[1:, :-1, None], points[1:, 1:, None]
    return np.asarray(
        corner[0] * (1 - u) * (1 - v) + corner[1] * u * (1 - v) + corner[2] * (1 - u) * v + corner[3] * u * v,
        np.float64,
    )


def _taken(image: npt.NDArray[np.generic], places: Points) -> Floats:
    x = np.clip(np.rint(places[..., 0]).astype(int), 0, image.shape[1] - 1)
    y = np.clip(np.rint(places[..., 1]).astype(int), 0, image.shape[0] - 1)
    return np.asarray(image[y, x], np.float64)


def _surface(places: Points, colours: Floats, shape: tuple[int, ...]) -> npt.NDArray[np.float32]:
    """The colour at each pixel of a picture that most samples agree on, whatever light falls on them."""
    middle, spread = places.mean(axis=0), np.ptp(places, axis=0).max() / 2
    basis = _terms((places - middle) / spread)
    grey = colours.mean(axis=1)
    # Cells of one tint begin as those near the commonest brightness, not the mean of all.
    weight = 1 / (1 + ((grey / _commonest(grey) - 1) / (4 * ALIKE)) ** 2)
    for _ in range(ROUNDS):
        root = np.sqrt(weight)[:, None]
        fitted = np.linalg.lstsq(basis * root, grey * root[:, 0], rcond=None)[0]
        weight = 1 / (1 + ((grey / np.maximum(basis @ fitted, 1) - 1) / ALIKE) ** 2)
    root = np.sqrt(weight)[:, None]
    fitted = np.linalg.lstsq(basis * root, colours * root, rcond=None)[0]
    height, width = shape[:2]
    # So smooth a surface is known by a few of its points.
    coarse = np.stack(
        np.meshgrid((np.arange(COARSE) + 0.5) * width / COARSE, (np.arange(COARSE) + 0.5) * height / COARSE), -1
    )
    few = np.clip(_terms((coarse - middle) / spread) @ fitted, 1, 255).astype(np.float32)
    return np.asarray(cv2.resize(few, (width, height), interpolation=cv2.INTER_LINEAR), np.float32)


def _terms(places: Floats) -> Floats:
    x, y = places[..., 0], places[..., 1]
    return np.stack([x**i * y**j for i in range(DEGREE + 1) for j in range(DEGREE + 1 - i)], axis=-1)


def _commonest(grey: Floats) -> float:
    """The brightness that most samples are near to."""
    near = np.abs(grey[:, None] / np.maximum(grey, 1) - 1) < 2 * ALIKE
    return float(grey[near.sum(axis=0).argmax()])


def _widths(lighter: npt.NDArray[np.float32], points: Points) -> tuple[Floats, Floats]:
    """How wide each edge's light line is, in cells: (rows + 1, columns) of those along the rows, (columns + 1, rows) of
    the others. What lies beyond the outer lines is as light as they are: they are as wide as most."""
    widths = []
    for net in (points, points.swapaxes(0, 1)):
        along = (np.arange(SAMPLES) + 0.5) / SAMPLES * 0.6 + 0.2
        across = np.linspace(-WIDEST, WIDEST, SAMPLES)
        ends = net[:, :-1, None], net[:, 1:, None]
        places = ends[0] * (1 - along[:, None]) + ends[1] * along[:, None]
        down = np.gradient(net, axis=0)
        normal = (down[:, :-1] + down[:, 1:]) / 2
        profile = places[:, :, None] + across[:, None, None] * normal[:, :, None, None]
        level = np.median(_taken(lighter, profile), axis=-1)
        wide = np.clip((level - PALEST) / (SURE - PALEST), 0, 1).mean(axis=-1) * 2 * WIDEST
        wide[[0, -1]] = np.median(wide[1:-1])
        widths.append(np.asarray(wide, np.float64))
    return widths[0], widths[1]


def _band(points: Points, shape: tuple[int, ...], widths: tuple[Floats, Floats]) -> npt.NDArray[np.bool_]:
    """The pixels so near to lattice lines that they may be of one."""
    band, cell = np.zeros(shape[:2], np.uint8), step(points)
    for net, wide in zip((points, points.swapaxes(0, 1)), widths, strict=True):
        middle = np.median(wide, axis=1)
        for line, edges, typical in zip(np.rint(net).astype(int).tolist(), wide, middle, strict=True):
            for start, end, width in zip(line, line[1:], edges, strict=False):
                # An edge under a mark is as wide as the others of its line.
                broad = max(float(width), float(typical)) * BROADER + SPOT
                cv2.line(band, start, end, 1, max(1, round(min(broad, 2 * WIDEST) * cell)))
    return np.asarray(band > 0, np.bool_)


def _areas(lighter: npt.NDArray[np.float32], widths: tuple[Floats, Floats], cell: float) -> npt.NDArray[np.bool_]:
    """The pixels of white areas broader than any line, what is printed on them too: labels, discs."""
    widest = float(np.quantile(np.concatenate(widths, axis=None), 0.98))
    light = cv2.morphologyEx((lighter > SURE).astype(np.uint8), cv2.MORPH_CLOSE, _square(STROKE * cell))
    return np.asarray(cv2.morphologyEx(light, cv2.MORPH_OPEN, _square((widest * BROADER + SPOT) * cell)) > 0, np.bool_)


def _islands(line: npt.NDArray[np.bool_], cell: float) -> npt.NDArray[np.bool_]:
    """The pixels of lines that are cut off all round and short: the inside of labels and rings upon a line."""
    _, labels, stats, _ = cv2.connectedComponentsWithStats(line.astype(np.uint8), connectivity=4)
    extents = stats[:, [cv2.CC_STAT_WIDTH, cv2.CC_STAT_HEIGHT]].max(axis=1)
    short = extents < ISLAND * cell
    short[0] = False
    return np.asarray(short[labels], np.bool_)


def _square(side: float) -> npt.NDArray[np.uint8]:
    return np.ones((max(1, round(side)),) * 2, np.uint8)


def _polygon(points: Points, shape: tuple[int, ...], room: float) -> npt.NDArray[np.bool_]:
    """The pixels of the grid and of so many pixels around it."""
    share = room / step(points)
    net = extended(points, 1)
    outer = points.copy()
    outer[0] += (net[0, 1:-1] - net[1, 1:-1]) * share
    outer[-1] += (net[-1, 1:-1] - net[-2, 1:-1]) * share
    outer[:, 0] += (net[1:-1, 0] - net[1:-1, 1]) * share
    outer[:, -1] += (net[1:-1, -1] - net[1:-1, -2]) * share
    ring = np.concatenate([outer[0], outer[1:, -1], outer[-1, -2::-1], outer[-2:0:-1, 0]])
    inside = np.zeros(shape[:2], np.uint8)
    cv2.fillPoly(inside, [np.rint(ring).astype(np.int32)], 1)
    return np.asarray(inside > 0, np.bool_)
