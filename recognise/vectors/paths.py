"""Painted paths of a page to inks: taken apart into the things that they draw, cut to their clips, drawn as masks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import cv2
import numpy as np

from ingest.page import Colour, Point, VectorPath
from recognise.pixels.frame import Mask, Raster
from recognise.vectors.inks import Ink
from recognise.vectors.painting import SAME, areas_meet, filled, stroked, with_hairlines
from recognise.vectors.patches import Patch, canvas_mask
from recognise.vectors.place import Floats, Placement

Polygon = tuple[Point, ...]
MARGIN = 3
"""Cells around the grid that are looked at: clue rings two deep, and a bit."""
SPREAD = 1.1
"""In cells: a larger filled path may draw several things at once; a smaller one may be a character such as ÷."""
MOST_OUTLINES = 300
"""Of a path of more outlines only the boxes are held against each other: the pairs would take long."""
OFF_MIDDLE = 0.08
"""In cells: how far the corner of a line may lie off the middle of its cell, as the lines of a table lie off even
places."""

FLAT = 0.002
"""In cells: corners that lie no farther off a straight line lie on it."""


class Clips:
    """The masks of clip regions, each drawn once: a whole puzzle often lies in one."""

    def __init__(self, placement: Placement, raster: Raster, shape: tuple[int, int]) -> None:
        self._placement, self._raster, self._shape = placement, raster, shape
        self._masks: dict[Polygon, Mask] = {}

    def cut(self, patch: Patch, polygons: Iterable[Polygon]) -> Patch | None:
        """What all regions leave of a patch; None for nothing."""
        mask = patch.mask
        for polygon in polygons:
            mask = mask & self._mask(polygon)[patch.window]
        return Patch(patch.left, patch.top, mask) if mask.any() else None

    def _mask(self, polygon: Polygon) -> Mask:
        if polygon not in self._masks:
            outline = self._placement.to_cells(np.array(polygon, dtype=np.float64))
            area = canvas_mask(filled((outline,), True, self._raster, self._shape), self._shape)
            self._masks[polygon] = _without_bridges(area)
        return self._masks[polygon]


def _without_bridges(area: Mask) -> Mask:
    """A region without the seams of no width that join its pieces; one that is nowhere wider is what it is."""
    kernel = np.ones((3, 3), np.uint8)
    wide = cv2.dilate(cv2.erode(area.view(np.uint8), kernel), np.ones((5, 5), np.uint8)).view(np.bool_)
    return area & wide if wide.any() else area


def inks_of(
    path: VectorPath, placement: Placement, raster: Raster, shape: tuple[int, int], clips: Clips
) -> Iterator[Ink]:
    """The inks of a path, as far as they lie on the canvas and are not clipped away."""
    outlines = tuple(placement.to_cells(np.array(points, dtype=np.float64)) for points in path.subpaths)
    reach = path.width / placement.cell / 2 + 0.01
    for part in _parts(outlines, path.fill is not None, raster):
        joined = np.concatenate([outlines[number] for number in part])
        if _meets(joined.min(axis=0) - reach, joined.max(axis=0) + reach, raster):
            yield from _painted(path, outlines, part, clips, placement, raster, shape)


def _parts(outlines: tuple[Floats, ...], is_filled: bool, raster: Raster) -> list[list[int]]:
    """The outlines of a path by the things that they draw: each by itself where they are strokes; where they are
    filled, those together that meet, for one may be a hole in another, while slanting dashes stand apart though their
    boxes do not. Beside the grid a path is one thing, such as a line of text."""
    if not is_filled:
        return [[number] for number in range(len(outlines))]
    boxes = [(points.min(axis=0), points.max(axis=0)) for points in outlines]
    first, last = np.min([low for low, _ in boxes], axis=0), np.max([high for _, high in boxes], axis=0)
    beside = (last <= 0).any() or first[0] >= raster.columns or first[1] >= raster.rows
    if beside or (last - first).max() <= SPREAD:
        return [list(range(len(outlines)))]
    by_box = len(outlines) > MOST_OUTLINES
    parts: list[tuple[list[int], Floats, Floats]] = []
    for number, (low, high) in enumerate(boxes):
        for place in range(len(parts) - 1, -1, -1):
            numbers, its_low, its_high = parts[place]
            in_box = (low < its_high).all() and (high > its_low).all()
            if in_box and (by_box or any(areas_meet(outlines[number], outlines[other]) for other in numbers)):
                parts[place] = ([*numbers, number], np.minimum(low, its_low), np.maximum(high, its_high))
                break
        else:
            parts.append(([number], low, high))
    return [numbers for numbers, _, _ in parts]


def _painted(
    path: VectorPath,
    outlines: tuple[Floats, ...],
    part: list[int],
    clips: Clips,
    placement: Placement,
    raster: Raster,
    shape: tuple[int, int],
) -> Iterator[Ink]:
    """Fill and stroke of one part of a path, as far as they are not clipped away."""
    its = tuple(outlines[number] for number in part)
    closed = tuple(path.closed[number] or _meets_itself(outlines[number]) for number in part)
    cell = placement.cell
    width = path.width / cell
    if placement.uneven and path.fill is None and not any(closed) and not any(path.curved):
        its = tuple(_snapped(points, raster) for points in its)
    for role, colour in (("fill", path.fill), ("stroke", path.stroke)):
        if colour is None or (role == "fill" and path.stroke is not None and not any(map(_has_area, its))):
            continue
        if role == "fill":
            area = with_hairlines(filled(its, path.even_odd, raster, shape), its, raster, shape)
        else:
            area = stroked(its, closed, width, path.cap, raster, shape)
        patch = clips.cut(area, path.clip)
        if patch is not None:
            yield Ink(
                role=role,  # type: ignore[arg-type]
                outlines=its,
                closed=closed,
                curved=any(path.curved[number] for number in part if number < len(path.curved)),
                colour=_blended(colour, path.opacity),
                opaque=path.opacity > 0.98,
                width=width if role == "stroke" else 0.0,
                dash=tuple(length / cell for length in path.dash) if role == "stroke" else (),
                cap=path.cap,
                order=path.order,
                part=part[0],
                even_odd=path.even_odd,
                patch=patch,
                whole=patch,
                grain=tuple(placement.to_cells(np.array(each, dtype=np.float64)) for each in path.grain),
                painted=path.painted,
                pen=colour if path.opacity < 1 else None,
                is_sign=path.is_sign,
            )


def _snapped(points: Floats, raster: Raster) -> Floats:
    """A polyline with those of its corners that lie close to the middle of a cell put right there: over a table whose
    rows are not quite equal, lines are drawn as if they were."""
    middles = np.floor(points) + 0.5
    inside = ((points > 0) & (points < (raster.columns, raster.rows))).all(axis=1)
    close = inside & (np.abs(points - middles).max(axis=1) <= OFF_MIDDLE)
    return np.where(close[:, None], middles, points)


def _has_area(points: Floats) -> bool:
    """Whether an outline encloses anything. A straight line that a program fills as well as strokes, as they do that
    say nothing of the fill, has no more than its stroke."""
    away = points - points[0]
    way = away[int(np.hypot(*away.T).argmax())]
    off = away @ np.array([-way[1], way[0]]) / max(float(np.hypot(*way)), SAME)
    return bool(np.abs(off).max() > FLAT)


def _meets_itself(points: Floats) -> bool:
    """Whether an outline ends where it began, though nothing says that it is closed."""
    return len(points) > 3 and bool(np.abs(points[0] - points[-1]).max() < SAME)


def _blended(colour: Colour, opacity: float) -> Colour:
    """The colour as seen over white."""
    red, green, blue = (round(255 + (part - 255) * opacity) for part in colour)
    return red, green, blue


def _meets(low: Floats, high: Floats, raster: Raster) -> bool:
    size = np.array([raster.columns, raster.rows])
    return bool((high > -MARGIN).all() and (low < size + MARGIN).all())
