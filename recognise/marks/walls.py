"""Where the outline of a long mark runs that the network tells by its cells alone: every publication draws it as near
to the sides of the cells as it likes."""

from __future__ import annotations

import numpy as np

from ingest.page import Box
from recognise.pixels.frame import Grey, Raster

NEAREST, FARTHEST = 0.02, 0.36
"""In cells: how far inside its cells an outline runs."""
ROUNDED = 0.42
"""In cells: so far from the corners of its cells the outline may be round."""
MIDDLE = 0.08
"""In cells: half of what is looked at of a side that is round all along."""
FADING = 0.5
"""Part of its darkest from which on ink is that of a wall."""


def walled(cells: Box, usual: Box, drawn: Grey, raster: Raster, floor: float) -> Box:
    """The box of an outline within the box of its `cells`, as its walls stand in the ink (`drawn`, from 0 to 1 without
    the lattice); a side of which no wall is seen is where it is `usual`."""
    x0, y0, x1, y1 = cells
    sides = (
        _wall(drawn, raster, floor, cells, axis=0, inwards=1),
        _wall(drawn, raster, floor, cells, axis=1, inwards=1),
        _wall(drawn, raster, floor, cells, axis=0, inwards=-1),
        _wall(drawn, raster, floor, cells, axis=1, inwards=-1),
    )
    left, top, right, bottom = (
        start + inset if inset is not None else place
        for start, inset, place in zip((x0, y0, x1, y1), sides, usual, strict=True)
    )
    return left, top, right, bottom


def _wall(drawn: Grey, raster: Raster, floor: float, cells: Box, axis: int, inwards: int) -> float | None:
    """How far inside (with its sign) the outer face of the wall along one side lies; axis 0 for the left and right
    one; None where there is none."""
    side = cells[axis] if inwards > 0 else cells[axis + 2]
    low, high = cells[1 - axis], cells[3 - axis]
    rim = min(ROUNDED, (high - low) / 2 - MIDDLE)
    along = np.arange(raster.at(low + rim), raster.at(high - rim)).round().astype(int)
    insets = np.arange(raster.px(NEAREST), raster.px(FARTHEST) + 1)
    across = np.rint(raster.at(side) + inwards * insets).astype(int)
    band = drawn[np.ix_(along, across)] if axis == 0 else drawn[np.ix_(across, along)].T
    profile = np.median(band, axis=0)
    if profile.max() < 2 * floor:
        return None
    first = int(np.argmax(profile >= FADING * profile.max()))
    return inwards * float(insets[first]) / raster.cell
