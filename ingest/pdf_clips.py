"""What clips leave of a thing that a PDF page draws."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from ingest import pdf_raw as raw
from ingest.page import Box, Point
from ingest.pdf_boxes import box_of, grown, is_upright, meets, points_of, within
from ingest.pdf_frame import Matrix, Points

_LEVEL = 0.01
"""Points by which an upright line may lean."""
_SHARED = 0.02
"""As a part of its way from the middle of a form: how far its outline may lie beyond the side of a clip."""
_OVER = 0.1
"""Points by which a form may reach beyond the area that it is cut out of."""


@dataclass(frozen=True, slots=True)
class Clip:
    """One clip region as a polygon; pieces of a region are joined by bridges of no width. `upright` is its box where
    it is an upright rectangle."""

    polygon: tuple[Point, ...]
    box: Box
    upright: bool
    pieces: tuple[raw.SubPath, ...] = field(compare=False)


@dataclass(frozen=True, slots=True)
class Context:
    """What a form XObject hands down to its objects."""

    to_frame: Matrix
    clips: tuple[Clip, ...] = ()
    opacity: float = 1.0
    depth: int = 0


def clips_of(thing: raw.PageObject, context: Context) -> tuple[Clip, ...]:
    """The clips in force for an object of a content stream, with those that its form hands down."""
    clips = list(context.clips)
    for pieces in raw.clip_polygons(thing, context.to_frame):
        areas = [piece for piece in pieces if len(piece[0]) > 2]
        if not areas:
            continue
        outlines = [points for points, _, _ in areas]
        polygon = _bridged(outlines)
        upright = len(outlines) == 1 and is_upright(outlines[0])
        clips.append(Clip(points_of(polygon), box_of(polygon), upright, tuple(areas)))
    return tuple(clips)


def _bridged(outlines: list[Points]) -> Points:
    """Several outlines as one polygon: out to each and back again along the same way."""
    if len(outlines) == 1:
        return outlines[0]
    start = outlines[0][:1]
    return np.concatenate([part for outline in outlines for part in (outline, outline[:1], start)])


def cut_by(box: Box, clips: tuple[Clip, ...]) -> tuple[Clip, ...] | None:
    """The clips that cut something off a box; None when nothing of it is left."""
    if any(not meets(box, clip.box) for clip in clips):
        return None
    return tuple(clip for clip in clips if not (clip.upright and within(box, clip.box)))


def cut_out(pieces: list[raw.SubPath], clips: tuple[Clip, ...]) -> tuple[list[raw.SubPath], tuple[Clip, ...]] | None:
    """The form that a clip cuts out of a filled rectangle, or out of the rim of one, and the other clips: so style
    sheets draw round corners. None where no clip of one piece lies wholly within the area."""
    if len(pieces) > 2 or any(curved or len(points) not in (4, 5) for points, _, curved in pieces):
        return None
    areas = [points for points, _, _ in pieces]
    around = grown(box_of(np.concatenate(areas)), _OVER)
    for clip in clips:
        inside = within(clip.box, around) and _is_in(np.mean(clip.pieces[0][0], axis=0), areas)
        if len(clip.pieces) == 1 and inside and not clip.upright and not _is_around(clip.box, areas):
            others = (other for other in clips if other is not clip and not _holds(other, clip.pieces))
            return list(clip.pieces), tuple(others)
    return None


def _holds(clip: Clip, forms: tuple[raw.SubPath, ...]) -> bool:
    """Whether a clip cuts nothing off forms but what rounding makes of sides that they share."""
    inner = (points + _SHARED * (points.mean(axis=0) - points) for points, _, _ in forms)
    return all(_is_in(point, [np.array(clip.polygon)]) for points in inner for point in points)


def _is_around(box: Box, areas: list[Points]) -> bool:
    """Whether a box reaches across the hole that a second outline cuts into the first."""
    boxes = [box_of(area) for area in areas]
    hole = min(boxes, key=lambda each: (each[2] - each[0]) * (each[3] - each[1]))
    return len(boxes) > 1 and meets(box, grown(hole, -_OVER))


def _is_in(point: Points, outlines: list[Points]) -> bool:
    """Whether a point lies in the area of outlines, by the even-odd rule."""
    crossings = 0
    for outline in outlines:
        start, stop = outline, np.roll(outline, -1, axis=0)
        spans = (start[:, 1] > point[1]) != (stop[:, 1] > point[1])
        (x0, y0), (x1, y1) = start[spans].T, stop[spans].T
        crossings += int((x0 + (point[1] - y0) * (x1 - x0) / (y1 - y0) > point[0]).sum())
    return crossings % 2 == 1


def shortened(pieces: list[raw.SubPath], clips: tuple[Clip, ...], width: float) -> list[raw.SubPath] | None:
    """Upright straight strokes cut off where upright clips end; None where a piece is anything else. A line may run far
    beyond the grid whose clip it is drawn in."""
    low = np.max([clip.box[:2] for clip in clips], axis=0)
    high = np.min([clip.box[2:] for clip in clips], axis=0)
    left: list[raw.SubPath] = []
    for points, closed, curved in pieces:
        if len(points) != 2 or closed or curved or np.ptp(points, axis=0).min() > _LEVEL:
            return None
        seen = (points.max(axis=0) > low - width / 2).all() and (points.min(axis=0) < high + width / 2).all()
        if seen:
            # Across its way it stays where it is: of a line on the clip's side half the width is seen.
            along = int(np.argmax(np.ptp(points, axis=0)))
            short = points.copy()
            short[:, along] = np.clip(short[:, along], low[along], high[along])
            left.append((short, closed, curved))
    return left
