"""Edges on which something looks like a sign and is none.

A line that runs over a thick lattice line cuts it in two, and looks there as a sign of its width does that is printed
over one. But the signs of a page are printed with one ink: where nothing beside the lattice line is nearly as dark as
most of them are so far from theirs, there is none."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from ingest.page import Point
from recognise.geometry import box_at
from recognise.marks.edge_shapes import SIGNS
from recognise.marks.looking import Looking
from recognise.marks.same_look import SURE, line_under
from recognise.marks.sights import Sight
from recognise.pixels.frame import Grey

ENOUGH = 3
"""Sure signs that show how dark they are."""
HALF_WINDOW, DARKEST = 0.2, 97
"""In cells: half the side of the window that holds a sign, and the percentile of its ink that tells how dark it is."""
AS_DARK = 0.5
"""As a part of most signs: what is paler is none."""


def no_signs(sights: Iterable[Sight], looking: Looking) -> frozenset[Point]:
    """The middles of the edges on which the network doubtfully sees a sign and none is printed."""
    signs = [sight for sight in sights if sight.likeliest in SIGNS]
    sure = [sight for sight in signs if sight.told[sight.likeliest] >= SURE]
    if len(sure) < ENOUGH or len(sure) == len(signs):
        return frozenset()
    grey = looking.grey
    doubtful = [sight for sight in signs if sight not in sure]
    return frozenset(sight.place for sight in doubtful if _is_paler(sight, sure, grey, looking))


def _is_paler(sight: Sight, sure: Iterable[Sight], grey: Grey, looking: Looking) -> bool:
    """Whether nothing about an edge is nearly as dark as most sure signs are. Of a small sign hardly more than its ends
    stands out of a thick line: no nearer to theirs is looked at the sure ones."""
    line = line_under(sight.place, grey, looking)
    least = AS_DARK * float(np.median([_darkness(other, line, grey, looking) for other in sure]))
    return _darkness(sight, line, grey, looking) < least


def _darkness(sight: Sight, line: float, grey: Grey, looking: Looking) -> float:
    """How dark the darkest ink about an edge is beside a lattice line under it that reaches so far to both sides, in
    pixels."""
    window = 1 - grey[looking.raster.slices(box_at(sight.place, HALF_WINDOW))]
    along = 1 - sight.plane
    far = np.abs(np.arange(window.shape[along]) - (window.shape[along] - 1) / 2) > line
    beside = window[:, far] if along == 1 else window[far]
    return float(np.percentile(beside, DARKEST)) if beside.size else 1.0
