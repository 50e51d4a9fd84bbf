"""Lines that run on behind a panel: ruled or squared paper as the ground of a page, on which a white area was laid for
the grid. They cross the grid's lines only where nobody sees it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ingest.page import Box, Page
from recognise.vectors.painting import polygon_area
from recognise.vectors.place import Floats, frame_to_image

SMALLEST = 72.0
"""Points: a panel on which a grid stands is no narrower. Smaller areas lie under characters and marks."""
FULL = 0.98
"""The part of its box that a panel fills, whose corners may be round."""
MOST_CORNERS = 64
"""Points of its outline at most."""
HIDDEN, INSIDE = 0.3, 2.0
"""The part of a line behind a panel from which on it is ground, and in points, how far from the panel's edges this is
measured: the frame of a grid runs along them."""


@dataclass(frozen=True, slots=True)
class Panel:
    """An opaque upright rectangle: its place in the paint order, and its box in frame units of the upright page."""

    order: int
    box: Box


def panels_of(page: Page) -> list[Panel]:
    """The areas of a page that hide what was painted before them."""
    found = []
    for path in page.vectors.paths if page.vectors else ():
        whole = path.fill is not None and path.opacity == 1.0 and path.painted == 1.0 and not path.clip
        if not whole or len(path.subpaths) != 1 or len(path.subpaths[0]) > MOST_CORNERS:
            continue
        points = frame_to_image(page, np.array(path.subpaths[0], dtype=np.float64)) / page.scale
        (left, top), (right, bottom) = points.min(axis=0), points.max(axis=0)
        across, down = right - left, bottom - top
        if min(across, down) >= SMALLEST and abs(polygon_area(points)) >= FULL * across * down:
            found.append(Panel(path.order, (float(left), float(top), float(right), float(bottom))))
    return found


def not_behind(segments: Floats, order: int, panels: Sequence[Panel]) -> Floats:
    """Those of straight pieces (n x 2 x 2), painted in that place of the order, that do not run on behind a panel."""
    low, high = segments.min(axis=1), segments.max(axis=1)
    hidden = np.zeros(len(segments), dtype=bool)
    for panel in panels:
        if panel.order <= order:
            continue
        first, last = np.array(panel.box[:2]) + INSIDE, np.array(panel.box[2:]) - INSIDE
        within = np.minimum(high, last) - np.maximum(low, first)
        meets = (within >= 0).all(axis=1)
        hidden |= meets & (within.max(axis=1) >= HIDDEN * (high - low).max(axis=1))
    return segments[~hidden]
