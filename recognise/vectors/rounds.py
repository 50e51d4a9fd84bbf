"""The circles and capsules from which lines come, and how lines are carried on into them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from recognise.evidence import Disc
from recognise.geometry import extent, middle
from recognise.pixels.frame import Mask, Raster
from recognise.vectors.capsules import Capsule
from recognise.vectors.inks import Canvas, Ink
from recognise.vectors.marks import similar
from recognise.vectors.painting import THINNEST, polygon_area
from recognise.vectors.patches import CELL, Patch
from schema.cells import Cell

LEAST_CORNERS = 4
RIM = 0.07
"""In cells: how near to the rim of a circle a line ends that comes from it."""


FEWEST = 2
"""So many discs of one look that lie on ends of lines are no marks of cells that stand there by chance."""

SMALLEST, LARGEST, CENTRED = 0.15, 0.5, 0.06
"""In cells: from its middle to its nearest side the least and the largest frame in which a line may end, and how far
its middle is from that of its cell at most."""
BULGES = 1.02
"""How much larger its hull is than a frame at most: it has no bays."""


@dataclass(frozen=True, slots=True)
class Rounds:
    """What lines may come from: discs in the middle of cells, and capsules. The discs `on_ends` lie on the ends of
    lines of whatever colour."""

    discs: tuple[Disc, ...]
    capsules: tuple[Capsule, ...] = ()
    on_ends: tuple[Disc, ...] = ()


def framing(inks: Iterable[Ink], raster: Raster) -> Iterator[Disc]:
    """For each square, diamond and other frame without bays in the middle of a cell the discs in it and around it, of
    no colour: a line that ends in it is cut off at its side or corner, or as at the rim of a circle."""
    for ink in inks:
        points = ink.outlines[0].astype(np.float32)
        if len(ink.outlines) != 1 or not ink.closed[0] or extent(ink.box) > 1 or len(points) < LEAST_CORNERS:
            continue
        (x, y), hull = middle(ink.box), cv2.convexHull(points)
        cell = raster.cell_of(x, y)
        if cell is None or max(abs(x - cell.centre[0]), abs(y - cell.centre[1])) > CENTRED:
            continue
        inner, outer = cv2.pointPolygonTest(hull, (x, y), True), float(np.hypot(*(points - (x, y)).T).max())
        no_bay = cv2.contourArea(hull) <= BULGES * abs(polygon_area(ink.outlines[0]))
        if no_bay and SMALLEST <= inner <= LARGEST:
            yield from (Disc(cell.centre, radius, None, None, "vector") for radius in (inner, outer))


def touching(ink: Ink, rounds: Rounds) -> Rounds:
    """The circles that carry a line on to the middle of their cell: those of its own colour that it meets, and those
    of any colour at whose rim it ends; and the capsules that it meets."""
    left, top, right, bottom = ink.box
    discs = [
        disc
        for disc in rounds.discs
        if left - disc.radius - RIM <= disc.centre[0] <= right + disc.radius + RIM
        and top - disc.radius - RIM <= disc.centre[1] <= bottom + disc.radius + RIM
    ]
    own = [d for d in discs if similar(d.fill, ink.colour) or similar(d.outline, ink.colour) or _ends_at_rim(ink, d)]
    own += [d for d in rounds.on_ends if d in discs and d not in own and _ends_under(ink, d)]
    capsules = (
        c
        for c in rounds.capsules
        if left - RIM <= c.shape.box[2]
        and c.shape.box[0] <= right + RIM
        and top - RIM <= c.shape.box[3]
        and c.shape.box[1] <= bottom + RIM
    )
    return Rounds(tuple(own), tuple(capsules))


def discs_on_ends(inks: Iterable[Ink], discs: Sequence[Disc]) -> tuple[Disc, ...]:
    """The discs that print lays on the ends of lines in another colour than theirs, as dark bulbs on pale tubes: all of
    one look, and several, lie so, each line of its look has one, and they are wider than it."""
    strokes = [ink for ink in inks if ink.role == "stroke" and not any(ink.closed)]
    found: list[Disc] = []
    full = [disc for disc in discs if disc.fill is not None and disc.outline in (None, disc.fill)]
    for fill in {disc.fill for disc in full}:
        alike = [disc for disc in full if disc.fill == fill]
        under = [ink for ink in strokes if any(_ends_under(ink, disc) for disc in alike)]
        same = [ink for ink in strokes if any(_drawn_alike(ink, one) for one in under)]
        all_lie = all(any(_ends_under(ink, disc) for ink in under) for disc in alike)
        if len(alike) >= FEWEST and all_lie and len(same) == len(under):
            found += alike
    return tuple(found)


def _drawn_alike(one: Ink, other: Ink) -> bool:
    return similar(one.colour, other.colour) and abs(one.width - other.width) <= RIM


def _ends_under(ink: Ink, disc: Disc) -> bool:
    """Whether a line ends in the middle of a disc that is wider."""
    if ink.role != "stroke" or any(ink.closed) or 2 * disc.radius <= ink.width:
        return False
    ends = np.concatenate([points[[0, -1]] for points in ink.outlines])
    return bool(np.hypot(*(ends - disc.centre).T).min() <= RIM)


def _ends_at_rim(ink: Ink, disc: Disc) -> bool:
    """Whether a line ends at the rim of a disc and keeps out of it."""
    if ink.role == "fill":
        return _touches_rim(ink, disc)
    if any(ink.closed):
        return False
    for points in ink.outlines:
        away = np.hypot(*(points - disc.centre).T)
        ends = away[[0, -1]]
        if abs(float(ends.min()) - disc.radius) <= RIM and away.min() >= disc.radius - RIM:
            return True
    return False


def _touches_rim(ink: Ink, disc: Disc) -> bool:
    """The same for a line that is a filled area."""
    points = np.concatenate(ink.outlines)
    away = np.hypot(*(points - disc.centre).T)
    return bool(abs(float(away.min()) - disc.radius) <= RIM and extent(ink.box) > disc.radius)


def cell_under(point: tuple[float, float]) -> Cell:
    """The cell that a point lies in."""
    return Cell(int(point[1]) + 1, int(point[0]) + 1)


def spokes(mask: Mask, patch: Patch, ink: Ink, area: Mask, cells: Sequence[Cell], raster: Raster) -> set[Cell]:
    """Carry a line on from wherever it comes to a circle or capsule to the middle of the nearest of its cells, and
    give those cells. A line that is drawn up to the middle needs none."""
    contacts = (area[patch.window] & patch.mask).astype(np.uint8)
    count, _, _, middles = cv2.connectedComponentsWithStats(contacts, connectivity=8)
    reached = set()
    for x, y in middles[1:count].tolist():
        start = np.array((raster.to_cells(x + patch.left + 0.5), raster.to_cells(y + patch.top + 0.5)))
        cell = min(cells, key=lambda c: float(np.hypot(*(start - c.centre))))
        reached.add(cell)
        first, last = ((round(raster.at(px)), round(raster.at(py))) for px, py in (start.tolist(), cell.centre))
        if not mask[last[1], last[0]]:
            cv2.line(mask.view(np.uint8), first, last, 1, raster.px(max(ink.width, THINNEST)))
    return reached


def area(capsule: Capsule, canvas: Canvas) -> Mask:
    """A capsule and its rim."""
    area = np.zeros(canvas.shape, dtype=np.uint8)
    points = np.round(capsule.outline * CELL + canvas.raster.origin).astype(np.int32)
    cv2.fillPoly(area, [points], 1)
    cv2.polylines(area, [points], True, 1, canvas.raster.px(2 * RIM))
    return area.view(np.bool_)


def draw_discs(mask: Mask, discs: Iterable[Disc], raster: Raster) -> None:
    """Fill discs on a canvas."""
    for disc in discs:
        centre = (round(raster.at(disc.centre[0])), round(raster.at(disc.centre[1])))
        cv2.circle(mask.view(np.uint8), centre, round(disc.radius * CELL), 1, -1)
