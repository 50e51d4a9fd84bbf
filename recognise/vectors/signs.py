"""Small marks that point: signs of two strokes that meet, and little arrows; also crosses. They are told by their area,
however many strokes or polygons draw them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

import cv2
import numpy as np

from ingest.page import Box
from recognise.evidence import Shape
from recognise.geometry import extent
from recognise.pixels.frame import Mask, Raster
from recognise.vectors.inks import Ink, near
from recognise.vectors.painting import SAME
from recognise.vectors.patches import CELL, Patch, joined_patches, touch
from recognise.vectors.place import Floats

LARGEST = 0.9
"""In cells: a mark on an edge or a little arrow beside the grid is no larger."""
LEAST = 0.06
ARM = 0.55
"""The part of its box that a sign fills at most; a filled triangle fills half and has no gap between arms."""
MIDDLE = 0.2
"""As a part of the height: how far a sign's point may lie off the middle."""
EVEN = 0.3
"""The part of its width by which the two sides of an arrow may differ."""
MIRROR = 0.015
"""In cells: how exactly the corners of an arrow that is one area match those on its other side."""
MOST_CORNERS = 40
"""An arrow drawn as one area has fewer; round joins count some each."""
SLIM = 0.65
"""As a part of its greatest width: how wide an arrow's shaft is at most."""
FRONT = 0.4
"""As a part of its length: behind this an arrow is at its widest nowhere."""
ON_SHAFT, STRAIGHT = 0.02, 0.98
"""In cells: how far the tip of a head lies off its shaft, and its other corners off their mirrored places; and the
cosine of the angle by which an arrow may point past its way."""
FLAT = 0.03
"""In cells: flat ends so long belong to the arms of a letter V: strokes are cut off square to their way."""
EDGE = 0.004
"""In cells: points whose places differ by less are level."""
CLOSE = 0.1
"""In cells: inks of one mark stand no further apart; a first look by their boxes."""

ON_EDGE = 0.15
"""In cells: how far a sign's middle may lie off the middle of its edge."""
CENTRED = 0.04
"""In cells: how far the middles of a cross's strokes may lie apart."""
SAME_MIDDLE = 0.05
"""In cells: how far the middles of a triangle and of its outline may lie apart."""
MOST_PATHS = 12
"""Of so many paths that touch pairs are tried."""
SLICE = 0.75
"""Half the width in pixels of the slices by which an arrow is measured; slanted ones miss pixels otherwise."""

LEAST_CORNERS = 5
"""Points that the outline of a figure has more of; heads of arrows have fewer."""

QUARTERS = ("right", "up", "left", "down")
"""Directions, a quarter turn against the clock each."""
WAYS: dict[str, tuple[float, float]] = {
    "right": (1, 0),
    "down-right": (1, 1),
    "down": (0, 1),
    "down-left": (-1, 1),
    "left": (-1, 0),
    "up-left": (-1, -1),
    "up": (0, -1),
    "up-right": (1, -1),
}


CONVEX = 0.96
"""The part of its hull that an area without bays fills, but for its pixels; head and shaft fill four fifths at most."""
SIDE, ALONG = 3, 0.85
"""Pixels in from a side of its box in which a frame runs, and the part of the side along which it does: corners may be
round."""
LEAST_STAR, INDENTED, REGULAR = 8, 0.75, 0.15
"""Corners of a star of four points, the least; how near to the middle the inner corners are, as a part of how far the
outer ones are; and how much those of one sort differ."""


@dataclass(frozen=True, slots=True)
class Compound:
    """Inks of one colour that touch and so are one mark."""

    inks: tuple[Ink, ...]
    patch: Patch

    @property
    def box(self) -> Box:
        """The box around them all, in cells."""
        boxes = [ink.box for ink in self.inks]
        return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)

    def paths(self) -> list[Compound]:
        """Each path by itself, fill and stroke together."""
        by_path: dict[tuple[int, int], list[Ink]] = {}
        for ink in self.inks:
            by_path.setdefault((ink.order, ink.part), []).append(ink)
        return [_compound(inks) for inks in by_path.values()]


def _compound(inks: Sequence[Ink]) -> Compound:
    patch = inks[0].whole
    for ink in inks[1:]:
        patch = joined_patches(patch, ink.whole)
    return Compound(tuple(sorted(inks, key=lambda ink: ink.order)), patch)


def compounds(inks: Sequence[Ink]) -> list[Compound]:
    """Small inks put together with those of their colour that they touch; fill and outline of one path too."""
    boxes = np.array([ink.box for ink in inks]).reshape(-1, 4)
    free = np.ones(len(inks), dtype=bool)
    found = []
    for first in range(len(inks)):
        if not free[first]:
            continue
        free[first] = False
        own, fresh = [], [first]
        while fresh:
            place = fresh.pop()
            own.append(inks[place])
            close = (boxes[:, :2] <= boxes[place, 2:] + CLOSE) & (boxes[:, 2:] >= boxes[place, :2] - CLOSE)
            joined = [n for n in np.flatnonzero(free & close.all(axis=1)).tolist() if _together(inks[place], inks[n])]
            free[joined] = False
            fresh += joined
        found.append(_compound(own))
    return found


def _together(one: Ink, other: Ink) -> bool:
    if (one.order, one.part) == (other.order, other.part):
        return True
    small = max(extent(one.box), extent(other.box)) <= LARGEST
    return small and near(one.colour, other.colour) and touch(one.whole, other.whole)


def pointing(compound: Compound, raster: Raster) -> Shape | None:
    """The mark as a sign or cross on an edge, a cross in a cell, or an arrow beside the grid; None where it is none."""
    mask = _trimmed(compound.patch.mask)
    if not LEAST * CELL <= max(mask.shape) <= LARGEST * CELL:
        return None
    x0, y0, x1, y1 = compound.box
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    name, direction = "", None
    if not (0 < x < raster.columns and 0 < y < raster.rows):
        name, direction = "arrow", None if _are_letters(compound) else _arrow(mask, compound)
    elif _on_edge(x, y):
        name, direction = "sign", _sign(mask) or _triangle(compound)
    if direction is None:
        name, direction = "cross", _cross(compound.inks)
    if direction is None:
        return None
    return Shape(name, compound.box, compound.inks[0].colour, "vector", direction=direction)


def take_arrows(compound: Compound, raster: Raster) -> tuple[list[tuple[Compound, Shape]], list[Compound]]:
    """The arrows among paths that touch, each of a shaft and a head, and the other paths: an arrow's number may touch
    it, or the arrow of the clue beside it cross it."""
    paths = compound.paths()
    found: list[tuple[Compound, Shape]] = []
    taken: set[int] = set()
    for one, other in combinations(range(len(paths)), 2) if len(paths) <= MOST_PATHS else ():
        if not taken & {one, other}:
            both = _compound((*paths[one].inks, *paths[other].inks))
            shape = pointing(both, raster)
            if shape is not None and shape.name == "arrow":
                found.append((both, shape))
                taken |= {one, other}
    return found, [path for place, path in enumerate(paths) if place not in taken]


def is_figure(path: Compound) -> bool:
    """Whether a path is an area that may be the outline of a figure."""
    corners = sum(len(outline) for ink in path.inks for outline in ink.outlines)
    return all(ink.role == "fill" for ink in path.inks) and corners > LEAST_CORNERS


def _are_letters(compound: Compound) -> bool:
    """Whether several areas that may be figures stand side by side with paper between them: the shaft of an arrow
    reaches its head, and of two letters a slanting pair may be as even as an arrow."""
    paths = sorted(compound.paths(), key=lambda path: path.box[0])
    if len(paths) < 2 or not all(map(is_figure, paths)):
        return False
    return all(other.box[0] - one.box[2] > SAME for one, other in pairwise(paths))


def _on_edge(x: float, y: float) -> bool:
    off = sorted((abs(x - round(x)), abs(y - round(y))))
    return off[0] <= ON_EDGE and off[1] >= 0.5 - ON_EDGE


def _triangle(compound: Compound) -> str | None:
    """Where a triangle, filled, outlined or both, points: each outline is one, about the same middle. The corners of
    a pen's outer edge lie far off those of the area that it goes round."""
    corners = [_corners(outline) for ink in compound.inks for outline in ink.outlines]
    if any(len(points) != 3 for points in corners):
        return None
    ways = {triangle_way(points) for points in corners}
    middles = np.array([points.mean(axis=0) for points in corners])
    return ways.pop() if len(ways) == 1 and np.ptp(middles, axis=0).max() < SAME_MIDDLE else None


def _corners(points: Floats) -> Floats:
    return points[:-1] if len(points) > 1 and np.abs(points[0] - points[-1]).max() < EDGE else points


def _trimmed(mask: Mask) -> Mask:
    rows, columns = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
    return mask[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]


def _sign(mask: Mask) -> str | None:
    """Where the point of two strokes is."""
    if mask.mean() > ARM:
        return None
    for turns, direction in enumerate(QUARTERS):
        # Turned with the clock so often, the point is at the right.
        if _points_right(np.rot90(mask, -turns)):
            return direction
    return None


def _points_right(mask: Mask) -> bool:
    height, width = mask.shape
    if not 0.25 <= width / height <= 2.5:
        return False
    gaps = []
    for part in (0.1, 0.3, 0.5):
        runs = _runs(mask[:, int(part * width)])
        if len(runs) != 2:
            return False
        gaps.append(runs[1][0] - runs[0][1])
    apex = np.flatnonzero(mask[:, max(0, round(0.97 * width) - 1)])
    in_middle = len(apex) > 0 and abs(float(apex.mean()) + 0.5 - height / 2) <= MIDDLE * height
    return bool(in_middle and np.ptp(apex) <= 0.5 * height and gaps[0] > gaps[1] > gaps[2])


def _runs(column: Mask) -> list[tuple[int, int]]:
    steps = np.flatnonzero(np.diff(np.concatenate([[0], column.astype(np.int8), [0]])))
    return [(int(first), int(last)) for first, last in steps.reshape(-1, 2)]


def _arrow(mask: Mask, compound: Compound) -> str | None:
    """Where a shaft with a head, or a bare triangle, points."""
    headed = _headed(compound)
    if headed is not None:
        return headed
    triangle = _triangle(compound)
    if (
        triangle is not None
        or _is_frame(mask)
        or _is_convex(mask)
        or all(_is_star(o) for ink in compound.inks for o in ink.outlines)
    ):
        return triangle
    rows, columns = np.nonzero(mask)
    points = np.stack([columns, rows], axis=1).astype(np.float64)
    points -= (points.min(axis=0) + points.max(axis=0)) / 2
    fits = {way: fit for way, step in WAYS.items() if (fit := _fit(points, np.array(step))) is not None}
    ink = compound.inks[0]
    one_area = len(compound.inks) == 1 and ink.role == "fill"
    even = [
        way
        for way, (uneven, _) in fits.items()
        if uneven <= EVEN and not (one_area and not _is_mirrored(ink, np.array(WAYS[way], dtype=np.float64)))
    ]
    # Backwards a stout arrow fits as well, but its head is then behind.
    return max(even, key=lambda way: fits[way][1]) if even else None


def _is_convex(mask: Mask) -> bool:
    """Whether an area, with all that its outline encloses, has no bays as there are beside an arrow's shaft: a frame
    round a number, be it in the shape of a house, or its tile."""
    contours, _ = cv2.findContours(mask.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    around = max(contours, key=cv2.contourArea)
    return cv2.contourArea(around) >= CONVEX * cv2.contourArea(cv2.convexHull(around))


def _headed(compound: Compound) -> str | None:
    """Where a straight stroke with a filled triangle on it points: by the corner on the stroke, for a head may
    be longer than what is seen of its shaft."""
    heads = [ink for ink in compound.inks if ink.role == "fill"]
    outlined = {(head.order, head.part) for head in heads}
    shafts = [ink for ink in compound.inks if ink.role == "stroke" and (ink.order, ink.part) not in outlined]
    if len(heads) != 1 or len(shafts) != 1 or len(heads[0].outlines) != 1:
        return None
    corners, shaft = _corners(heads[0].outlines[0]), np.concatenate(shafts[0].outlines)
    if len(corners) != 3 or len(shaft) != 2:
        return None
    along = (shaft[1] - shaft[0]) / max(float(np.linalg.norm(shaft[1] - shaft[0])), EDGE)
    off = (corners - shaft[0]) @ np.array([-along[1], along[0]])
    tip = int(np.abs(off).argmin())
    one, other = np.delete(off, tip)
    if abs(off[tip]) > ON_SHAFT or abs(one + other) > 2 * ON_SHAFT:
        return None
    way = corners[tip] - np.delete(corners, tip, axis=0).mean(axis=0)
    name = max(WAYS, key=lambda each: float(way @ np.array(WAYS[each]) / np.linalg.norm(WAYS[each])))
    straight = float(way @ np.array(WAYS[name])) / float(np.linalg.norm(way) * np.linalg.norm(WAYS[name]))
    return name if straight >= STRAIGHT else None


def _is_star(points: Floats) -> bool:
    """Whether the corners of an outline lie by turns far from its middle and near to it, as those of a star do."""
    corners = _corners(points)
    if len(corners) < LEAST_STAR or len(corners) % 2:
        return False
    away = np.hypot(*(corners - corners.mean(axis=0)).T)
    far, near = sorted((away[::2], away[1::2]), key=lambda part: -float(part.mean()))
    return bool(near.max() <= INDENTED * far.min() and max(np.ptp(far), np.ptp(near)) <= REGULAR * far.max())


def _is_frame(mask: Mask) -> bool:
    """Whether an area reaches along all four sides of its box, as a frame round a number does."""
    sides = (mask[:SIDE].any(axis=0), mask[-SIDE:].any(axis=0), mask[:, :SIDE].any(axis=1), mask[:, -SIDE:].any(axis=1))
    return all(side.mean() >= ALONG for side in sides)


def _is_mirrored(ink: Ink, step: Floats) -> bool:
    """Whether every corner of an area has its like across the axis along `step`; figures, as paths, have none such."""
    if len(ink.outlines) != 1 or len(ink.outlines[0]) > MOST_CORNERS:
        return False
    corners = _corners(ink.outlines[0])
    along = corners @ step / np.linalg.norm(step)
    aside = corners @ np.array([-step[1], step[0]]) / np.linalg.norm(step)
    mirrored = np.stack([along, 2 * aside.mean() - aside], axis=1)
    apart = np.abs(mirrored[:, None] - np.stack([along, aside], axis=1)[None]).max(axis=2).min(axis=1)
    return bool(apart.max() <= MIRROR)


def _fit(points: Floats, step: Floats) -> tuple[float, float] | None:
    """How uneven an area is about an arrow's way, as a part of its width, and where on its length it is widest; None
    where it is no arrow that way."""
    along = points @ step / np.linalg.norm(step)
    aside = points @ np.array([-step[1], step[0]]) / np.linalg.norm(step)
    place = along - along.min()
    length = float(place.max())
    slices = [aside[np.abs(place - s) <= SLICE] for s in np.arange(length + 1)]
    width = np.array([float(np.ptp(part)) if len(part) else 0.0 for part in slices])
    widest = int(np.argmax(width))
    tail, tip = aside[place <= 0.25 * length], aside[place >= 0.95 * length]
    axis = float(np.median(tip))
    is_pointed = width[-max(2, len(width) // 12) :].mean() <= 0.6 * width[widest] and widest >= FRONT * length
    has_shaft = np.ptp(tail) <= SLIM * width[widest] and abs(float(np.median(tail)) - axis) <= 0.15 * width[widest] + 1
    if not (is_pointed and has_shaft and length >= width[widest]):
        return None
    # How far the middle of each slice strays from the axis, on the whole and where the head is widest.
    strays = [abs(float(part.max() + part.min()) / 2 - axis) for part in slices if len(part)]
    head = aside[np.abs(place - widest) <= 1] - axis
    uneven = max(abs(float(head.max() + head.min())), 4 * float(np.mean(strays))) / max(float(width[widest]), 1.0)
    return uneven, widest / length


def _cross(inks: Sequence[Ink]) -> str | None:
    """No direction for two straight strokes that cross in their middles; None for anything else."""
    if len(inks) != 2 or any(len(ink.outlines) > 1 for ink in inks):
        return None
    middles = [np.array(((ink.box[0] + ink.box[2]) / 2, (ink.box[1] + ink.box[3]) / 2)) for ink in inks]
    straight = all(len(_corners(ink.outlines[0])) == (2 if ink.role == "stroke" else 4) for ink in inks)
    return "" if straight and np.abs(middles[0] - middles[1]).max() <= CENTRED else None


def triangle_way(points: Floats) -> str | None:
    """Where a filled triangle points: from the middle of a side to the corner across from it, along the rows, the
    columns or the diagonals; of several such ways, that in which it is evenest. None where there is none."""
    best: tuple[float, str] | None = None
    for number in range(3):
        apex, one, other = points[number], points[(number + 1) % 3], points[(number + 2) % 3]
        way = apex - (one + other) / 2
        length = float(np.linalg.norm(way))
        uneven = abs(float(np.linalg.norm(apex - one) - np.linalg.norm(apex - other))) / max(length, 1e-6)
        name = max(WAYS, key=lambda each: float(way @ np.array(WAYS[each]) / np.linalg.norm(WAYS[each])))
        off = 1 - float(way @ np.array(WAYS[name]) / np.linalg.norm(WAYS[name])) / max(length, 1e-6)
        if off < 0.02 and uneven < 0.3 and (best is None or uneven + 0.1 * ("-" in name) < best[0]):
            best = uneven + 0.1 * ("-" in name), name
    return best[1] if best else None


def is_letter(compound: Compound) -> bool:
    """Whether an area like a sign with its point down is a V: its arms end flat along the row."""
    if any(ink.role == "stroke" for ink in compound.inks):
        return False
    points = np.concatenate([outline for ink in compound.inks for outline in ink.outlines])
    flat = 0.0
    for ink in compound.inks:
        for outline in ink.outlines:
            nxt = np.roll(outline, -1, axis=0)
            level = (np.abs(outline[:, 1] - points[:, 1].min()) < EDGE) & (
                np.abs(nxt[:, 1] - points[:, 1].min()) < EDGE
            )
            flat += float(np.abs(nxt[level, 0] - outline[level, 0]).sum())
    return flat >= FLAT
