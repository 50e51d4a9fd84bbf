"""What clips leave of a thing that a PDF page draws."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ingest import pdf_raw as raw
from ingest.page import Box, Point
from ingest.pdf_boxes import box_of, is_upright, meets, points_of, within
from ingest.pdf_frame import Matrix, Points

_LEVEL = 0.01
"""Points by which an upright line may lean."""


@dataclass(frozen=True, slots=True)
class Clip:
    """One clip region as a polygon; pieces of a region are joined by bridges of no width. `upright` is its box where
    it is an upright rectangle."""

    polygon: tuple[Point, ...]
    box: Box
    upright: bool


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
        outlines = [points for points, _, _ in pieces if len(points) > 2]
        if not outlines:
            continue
        polygon = _bridged(outlines)
        clips.append(Clip(points_of(polygon), box_of(polygon), len(outlines) == 1 and is_upright(outlines[0])))
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
