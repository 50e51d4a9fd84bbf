"""Ink that is the edge of a shadow: as dark as what lies around it, or bare paper beside that edge.

The light of a page is measured smoothly, and a hard shadow is not smooth: beside its edge bare paper passes for pale
ink, in a broad strip of which other marks, lattice lines and what they claim leave odd pieces. A mark, however pale, is
darker than the paper around it on most sides."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ingest.page import Box
from recognise.draft import Polygon
from recognise.evidence import Flat
from recognise.geometry import filled
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.shadows import Shadows

DARKEST, PALE = 95, 0.35
"""Percentile of ink at which a piece shows how dark it is, and how dark a shadow is at most that passes for ink."""
NEAR, FAR = 0.04, 0.12
"""In cells: what lies around a piece begins beyond its blur, and ends before the next mark."""
SHOWN = 0.4
"""The part of what lies around a piece that no mark takes, at least."""
AS_DARK = 0.7
"""As a part of the ink of a piece, how dark half of what lies around it is at least where it is a shadow."""


def without_shaded(
    boxes: Sequence[Box], level: Grey, floor: float, claimed: Sequence[Polygon], lattice: Mask, flat: Flat
) -> list[Box]:
    """The boxes of ink without those of shadows. `level` is ink from 0 to 1 without the lattice's lines, whose pixels
    are `lattice`, `floor` what paper and noise reach; `claimed` what other marks take."""
    if not boxes:
        return []
    free = (filled(flat, claimed) == 0) & ~lattice.astype(np.bool_)
    raster = Raster.of(flat)
    shadows = Shadows(flat.image, raster, lattice)

    def is_edge(box: Box) -> bool:
        rows, columns = raster.slices(box)
        ink = (level > floor) & free
        return shadows.casts(ink[rows, columns], (rows.start, columns.start))

    return [box for box in boxes if not _is_shaded(box, level, free, raster) and not is_edge(box)]


def _is_shaded(box: Box, level: Grey, free: Mask, raster: Raster) -> bool:
    """Whether ink is pale, and paper around it hardly paler."""
    inside, outside = raster.slices(box, raster.px(NEAR)), raster.slices(box, raster.px(FAR))
    around = np.zeros(level.shape, np.bool_)
    around[outside] = True
    around[inside] = False
    shown = level[around & free]
    dark = float(np.percentile(level[raster.slices(box)], DARKEST))
    enough = shown.size >= SHOWN * np.count_nonzero(around)
    return bool(dark <= PALE and enough and float(np.median(shown)) >= AS_DARK * dark)
