"""Outlines that a program draws side by side, each side a path of its own, put together again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from ingest.page import Point, VectorPath

LEAST = 12
"""Sides, those of which curves are made counted: larger rings of fewer may be a cell or a cage, of which each side is
told by itself."""
FRAME, FEWEST = 0.7, 3
"""In cells: no cell or cage is so small; it is a frame round a number, or a mark, of so many sides at least."""
JOINT = 0.05
"""Points: how far apart the end of a side and the start of the next are at most."""
OVERLAP = 0.55
"""As a part of the pen's width: the borders of a block of text reach over its whole outer side, each with its middle
half a width inside, so that two that meet at a corner lie so far apart."""
UNCUT = 0.9
"""Of a side's length, what the clip of a border leaves of it at least: it bevels the corners, no more."""


def rings_joined(paths: Sequence[VectorPath], cell: float) -> Iterator[VectorPath]:
    """The paths in paint order, those that follow each other round a ring, drawn with one pen, as one closed path.
    `cell` is the side of a cell in points."""
    start = 0
    while start < len(paths):
        end = _ring_from(paths, start, cell)
        if end > start:
            points = tuple(point for path in paths[start:end] if not _is_point(path) for point in path.subpaths[0][:-1])
            clip = _clip_of_all(paths[start:end])
            yield replace(paths[start], subpaths=(points,), closed=(True,), curved=(len(points) >= LEAST,), clip=clip)
            start = end
        else:
            yield paths[start]
            start += 1


def _ring_from(paths: Sequence[VectorPath], start: int, cell: float) -> int:
    """Past which path the ring ends that begins with path `start`; `start` itself where none does."""
    if not _is_side(paths[start]):
        return start
    side = paths[start].subpaths[0]
    first, at = side[0], side[-1]
    end, sides = start + 1, len(side) - 1
    while end < len(paths) and _goes_on(paths[start], at, paths[end]):
        side = paths[end].subpaths[0]
        at = side[-1]
        sides += 0 if _is_point(paths[end]) else len(side) - 1
        end += 1
        if _meet(at, first, paths[start]):
            while end < len(paths) and _is_point(paths[end]) and _goes_on(paths[start], at, paths[end]):
                end += 1
            return end if sides >= LEAST or _is_frame(paths[start:end], sides, cell) else start
    return start


def _is_frame(sides: Sequence[VectorPath], count: int, cell: float) -> bool:
    """Whether a ring of `count` sides is too small to be a cell or a cage."""
    points = np.array([point for side in sides for point in side.subpaths[0]])
    return count >= FEWEST and bool(np.ptp(points, axis=0).max() <= FRAME * cell)


def _is_side(path: VectorPath) -> bool:
    """Whether a path is a straight side, or an arc."""
    if path.fill is not None or path.stroke is None or len(path.subpaths) != 1 or path.closed[0]:
        return False
    return len(path.subpaths[0]) == 2 or (any(path.curved[:1]) and not _near(path.subpaths[0][0], path.subpaths[0][-1]))


def _is_point(path: VectorPath) -> bool:
    return _is_side(path) and len(path.subpaths[0]) == 2 and _near(*path.subpaths[0])


def _goes_on(pen: VectorPath, at: Point, path: VectorPath) -> bool:
    """Whether a path is a side that begins at a place and is drawn with the pen of another."""
    alike = all(getattr(pen, name) == getattr(path, name) for name in ("stroke", "width", "dash", "opacity"))
    if not alike or not _is_side(path) or not _meet(at, path.subpaths[0][0], pen):
        return False
    return pen.clip == path.clip or all(map(_is_bevelled, (pen, path), (path, pen)))


def _is_bevelled(side: VectorPath, other: VectorPath) -> bool:
    """Whether all clips that a side has by itself are about as large as the side with its width, as those of borders
    are that meet at a bevel."""
    if len(side.subpaths[0]) != 2:
        return False
    points = np.array(side.subpaths[0])
    low, high = points.min(axis=0) - side.width, points.max(axis=0) + side.width
    for polygon in side.clip:
        if polygon not in other.clip:
            corners = np.array(polygon)
            within = (corners >= low - JOINT).all() and (corners <= high + JOINT).all()
            if not within or np.ptp(corners, axis=0).max() < UNCUT * np.ptp(points, axis=0).max():
                return False
    return True


def _clip_of_all(sides: Iterable[VectorPath]) -> tuple[tuple[Point, ...], ...]:
    """The clips that all sides have."""
    first, *others = sides
    return tuple(polygon for polygon in first.clip if all(polygon in other.clip for other in others))


def _meet(end: Point, start: Point, pen: VectorPath) -> bool:
    """Whether a side that ends and one that starts so far apart meet, drawn with such a pen."""
    return bool(np.abs(np.subtract(end, start)).max() <= max(JOINT, OVERLAP * pen.width))


def _near(one: Point, other: Point) -> bool:
    return bool(np.abs(np.subtract(one, other)).max() <= JOINT)
