"""Rectangular frames and capsules that print sets characters in on the lattice, where only their place is known."""

from __future__ import annotations

from ingest.page import Point
from recognise.geometry import extent
from recognise.marks.looking import Looking
from recognise.pixels.framing import Frame, capsule_around, frame_around

LARGEST, LEAST_INSIDE, LEAST_BESIDE = 0.8, 0.22, 0.18
"""In cells: the longer side of a frame; the shorter one of the inside of one that holds a digit: what is so small is
round in pixels. On a page that sets its digits in frames it is one still."""
HELD = ((0.2, 0.2), (0.2, 0.12), (0.12, 0.2), (0.16, 0.16), (0.12, 0.12), (0.04, 0.04))
"""In cells: half the width and height of what the characters in a frame may take up: four, two, or one. They part the
paper in it where they stand close to its line."""


def frame_at(place: Point, looking: Looking, least: float = LEAST_INSIDE) -> Frame | None:
    """The rectangular frame or the capsule about a place on the lattice, given in cells, of which the inside is no
    lower or narrower than the `least`; None where none, or a ring, is seen."""
    capsule = capsule_around(place, looking.whole, looking.relative, looking.raster)
    if capsule is not None and _is_as_large(capsule, least):
        return capsule
    x, y = place
    ink = looking.whole, looking.relative, looking.raster, looking.floor
    frames = (frame_around((x - w, y - h, x + w, y + h), *ink, about=True) for w, h in HELD)
    frame = next((frame for frame in frames if frame is not None), None)
    if frame is None or frame.is_round or extent(frame.box) > LARGEST:
        return None
    return frame if _is_as_large(frame, least) else None


def _is_as_large(frame: Frame, least: float) -> bool:
    x0, y0, x1, y1 = frame.inside
    return min(x1 - x0, y1 - y0) >= least
