"""Little arrows beside the grid that touch their numbers, taken out of the ink that the numbers are read from."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import numpy.typing as npt

from recognise.marks.text_ink import Print
from recognise.marks.text_places import Place
from recognise.pixels.frame import Grey

STROKE = 0.35
"""Part of the darkest ink of its place that a shaft has at least."""
LONGEST = 0.75
"""In cells along a row or column: an arrow is no longer, as a part of the way from the corner it points to."""
BEGINS, SHORTEST = 0.35, 0.08
"""The same: where its shaft begins at the latest, behind the head, and how long that is at least."""
WIDER = 1.5
"""As parts of its width: where a shaft is so wide its head is, or the figure that it runs into."""
THIN = 25
"""Percentile of the widths of all that lies along its axis, head and figure too, that is the shaft's own."""
SHARPEST = 2
"""Pixels by which the width of an even stroke differs from place to place."""
HEAD = 0.22
"""In cells: half the width of its head."""


def without_shafts(places: Iterable[Place], seen: Print) -> Grey:
    """The ink without the arrows that stand at some places, each from its tip up to where it ends or grows wide: there
    the figure begins that it touches."""
    freed = seen.drawn.copy()
    for place in places:
        window = seen.raster.slices(place.box)
        own = freed[window]
        for right, down in place.arrows:
            level = max(seen.floor, STROKE * float(own.max(initial=0.0)))
            own[_shaft(own > level, right, down, seen.raster.cell)] = 0.0
    return freed


def _shaft(ink: npt.NDArray[np.bool_], right: int, down: int, cell: int) -> npt.NDArray[np.bool_]:
    """The pixels of an arrow in the picture of its place, which points to one of its corners; none where no even stroke
    leads there."""
    rows, columns = np.arange(ink.shape[0])[:, None], np.arange(ink.shape[1])[None]
    from_right = ink.shape[1] - 1 - columns if right > 0 else columns
    from_bottom = ink.shape[0] - 1 - rows if down > 0 else rows
    along, across = from_right + from_bottom, from_right - from_bottom
    nothing = np.zeros_like(ink)
    reach = int(2 * LONGEST * cell)
    near = ink & (along < reach)
    if not near.any():
        return nothing
    # Of all lines towards the corner the shaft has most ink.
    offsets, counts = np.unique(across[near], return_counts=True)
    axis = int(offsets[np.argmax(np.convolve(counts, np.ones(3), "same"))])
    widths = _widths(ink, along, across - axis, reach)
    inked = np.flatnonzero(widths)
    if inked.size == 0:
        return nothing
    usual = float(np.percentile(widths[inked], THIN))
    even = (widths > 0) & (widths <= max(WIDER * usual, usual + SHARPEST))
    begins, ends = _longest_run(even)
    if begins > 2 * BEGINS * cell or ends - begins < 2 * SHORTEST * cell:
        return nothing
    head: npt.NDArray[np.bool_] = (along < begins) & (np.abs(across - axis) <= 2 * HEAD * cell)
    shaft: npt.NDArray[np.bool_] = (
        (along >= begins) & (along < ends) & (np.abs(across - axis) <= WIDER * usual + SHARPEST)
    )
    return head | shaft


def _widths(
    ink: npt.NDArray[np.bool_], along: npt.NDArray[np.integer], aside: npt.NDArray[np.integer], reach: int
) -> npt.NDArray[np.integer]:
    """How wide the ink is that runs on from the axis of an arrow to both sides, at each step from the corner. There is
    ink within `reach` of it."""
    widths = np.zeros(reach, np.int64)
    near = ink & (along < reach)
    order = np.lexsort((aside[near], along[near]))
    steps, places = along[near][order], aside[near][order]
    # On a diagonal of pixels neighbours differ by two.
    parted = (np.diff(steps) > 0) | (np.diff(places) > 2)
    begins, ends = np.flatnonzero(np.append(True, parted)), np.flatnonzero(np.append(parted, True))
    first, last, at = places[begins], places[ends], steps[begins]
    off = np.maximum(np.maximum(first, -last), 0)
    nearest = np.lexsort((off, at))
    own = nearest[np.unique(at[nearest], return_index=True)[1]]
    own = own[off[own] <= SHARPEST]
    widths[at[own]] = last[own] - first[own] + 2
    return widths


def _longest_run(even: npt.NDArray[np.bool_]) -> tuple[int, int]:
    """Where the longest run of places begins, and the place after its end."""
    steps = np.flatnonzero(np.diff(np.concatenate(([0], even.view(np.int8), [0]))))
    begins, ends = steps[::2], steps[1::2]
    longest = int(np.argmax(ends - begins))
    return int(begins[longest]), int(ends[longest])
