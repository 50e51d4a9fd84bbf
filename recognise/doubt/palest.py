"""How pale small marks of this very page are: as pale as those that were read.

Fine grey signs are fainter, to the filter that looks for small marks, than what a page in black leaves of dust. Where
several such marks of one kind were read, one more of them that was missed must not pass for dust."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

import cv2
import numpy as np

from recognise.draft import Draft, Given, Polygon
from recognise.geometry import bounds, extent
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.standout import SPOT, SPOT_BLUR, Kind

SMALL = 0.75
"""In cells: marks that are larger are told from paper by more than how dark they are."""
ENOUGH = 3
"""Marks of a kind that tell how pale it is: one may be hidden by the lattice, or be none."""
SHARE, COVERED = 0.6, 0.35
"""Parts of what the middle one of a kind answers, and covers, that each of it does: others lie in worse light, or under
a thick line that takes most of them away."""
LEAST = 0.06
"""Ink (0 to 1) that a mark answers on any page; paler than this is the print of the other side."""


def pale_spots(level: Grey, draft: Draft, raster: Raster) -> tuple[Kind, ...]:
    """What counts as a small mark on this page, besides what does on any. `level` is ink from 0 to 1 without shade and
    lattice lines."""
    return tuple(kind for marks in _kinds(draft) for kind in _told_by(marks, level, raster))


def _kinds(draft: Draft) -> Iterable[Sequence[Polygon]]:
    """What small marks claim that were read and are not asked about, kind by kind."""
    asked = {doubt.item for doubt in draft.doubts}
    found: dict[str, list[Polygon]] = defaultdict(list)
    for index, item in enumerate(draft.items):
        if index not in asked and not isinstance(item.value, Given) and item.value:
            found[item.value[0].kind] += [polygon for polygon in item.claimed if extent(bounds(polygon)) <= SMALL]
    return found.values()


def _told_by(marks: Sequence[Polygon], level: Grey, raster: Raster) -> Iterator[Kind]:
    """What marks of one kind look like to the filter for small marks, where that overlooks some of them."""
    if len(marks) < ENOUGH:
        return
    needed = round(SPOT.area * raster.cell**2)
    answers = [_answers(level, polygon, raster) for polygon in marks]
    least = max(LEAST, SHARE * float(np.median([answer[:needed][-1] for answer in answers])))
    if least < SPOT.least:
        covered = float(np.median([np.count_nonzero(answer > least) for answer in answers])) / raster.cell**2
        yield Kind(least, SPOT.most, max(SPOT.area, COVERED * covered))


def _answers(level: Grey, polygon: Polygon, raster: Raster) -> Grey:
    """What the filter answers at the pixels around a mark, the largest first."""
    part = cv2.GaussianBlur(
        level[raster.slices(bounds(polygon), raster.px(SPOT_BLUR))], (0, 0), SPOT_BLUR * raster.cell
    )
    return np.sort(part, axis=None)[::-1]
