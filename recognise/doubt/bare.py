"""Bare places in tints: paper that shows in a tinted cell where nothing is printed.

What is lighter than its ground has no ink, and no guard that looks for ink finds it: a white mark without an outline,
or a place where something was scraped off or painted over."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import cv2
import numpy as np

from ingest import channels
from ingest.page import Box
from recognise.draft import Polygon
from recognise.evidence import Flat, Tint
from recognise.geometry import filled
from recognise.pixels.frame import Grey, Raster
from schema.cells import Cell

PALEST = 0.04
"""By how much (as a part) paper is brighter than a tint of which bare places can be told."""
SMOOTH = 0.03
"""In cells: the dots of a screen and the grain of paper are finer than this."""
HALF_WAY = 0.5
"""Bare is what is nearer to paper than to the tint."""
WHOLE = 0.9
"""Part of its cell that a tint fills; smaller ones have paper beside them."""
BORDER = 0.1
"""In cells: beside lattice lines and the rims of tints paper may show."""
HALO = 0.08
"""In cells: paper that is left around print, or around what is claimed."""
AREA, EXTENT = 0.03, 0.15
"""In square cells, and in cells: what is smaller is dust."""
NEAREST = 6
"""Cells without a tint that tell how bright paper is near by: photographs are not lit evenly."""
REACHED = 98
"""Percentile of the brightness of paper, against the middle of its cell: what folds and the print of the other side
make of even ground. A place that is no lighter than that against its tint is none."""


def bare_places(flat: Flat, tints: Sequence[Tint], claimed: Sequence[Polygon]) -> Iterator[Box]:
    """Boxes, in cells, of paper in the tinted cells; nothing in or beside what is `claimed` counts."""
    raster = Raster.of(flat)
    whole = [tint.cell for tint in tints if tint.share >= WHOLE and not tint.strokes]
    other = {tint.cell for tint in tints}
    plain = [Cell(r, c) for r in range(1, flat.rows + 1) for c in range(1, flat.columns + 1) if Cell(r, c) not in other]
    if not whole or len(plain) < NEAREST:
        return
    grey = channels.mean(flat.image).astype(np.float32)
    soft = np.asarray(cv2.GaussianBlur(grey, (0, 0), SMOOTH * raster.cell), np.float32)
    tones = {cell: float(np.median(soft[_inside(cell, raster)])) for cell in plain}
    known = filled(flat, claimed) > 0
    uneven = _unevenness([soft[_inside(cell, raster)] for cell in plain], tones.values())
    for cell in whole:
        near = sorted(plain, key=lambda one: (one.row - cell.row) ** 2 + (one.column - cell.column) ** 2)[:NEAREST]
        window = _inside(cell, raster)
        paper = float(np.median([tones[one] for one in near]))
        for x, y, width, height in _bare(soft[window], known[window], paper, uneven, raster):
            yield raster.box(window[1].start + x, window[0].start + y, width, height)


def _inside(cell: Cell, raster: Raster) -> tuple[slice, slice]:
    """The pixels of a cell without its border."""
    x, y = cell.column - 1.0, cell.row - 1.0
    return raster.slices((x + BORDER, y + BORDER, x + 1 - BORDER, y + 1 - BORDER))


def _unevenness(grounds: Sequence[Grey], tones: Iterable[float]) -> float:
    """By how much, as a part, paper is brighter than its cell here and there. What is printed in a cell is darker."""
    brighter = [ground.ravel() / max(tone, 1.0) - 1 for ground, tone in zip(grounds, tones, strict=True)]
    return float(np.percentile(np.concatenate(brighter), REACHED))


def _bare(
    ground: Grey, taken: np.ndarray, paper: float, uneven: float, raster: Raster
) -> Iterator[tuple[int, int, int, int]]:
    """The pixel boxes (x, y, width, height) of paper in the ground of one cell."""
    if taken.mean() > HALF_WAY:
        return
    tone = float(np.median(ground[~taken]))
    if paper < (1 + PALEST) * tone:
        return
    light = (ground > tone + max(HALF_WAY * (paper - tone), uneven * tone)).astype(np.uint8)
    count, labels, stats, _ = cv2.connectedComponentsWithStats(light, connectivity=8)
    reach = 2 * raster.px(HALO) + 1
    beside = cv2.dilate(taken.astype(np.uint8), np.ones((reach, reach), np.uint8)) > 0
    for index in range(1, count):
        x, y, width, height, area = (int(v) for v in stats[index])
        inside = x > 0 and y > 0 and x + width < light.shape[1] and y + height < light.shape[0]
        large = area >= AREA * raster.cell**2 and min(width, height) >= EXTENT * raster.cell
        if inside and large and not beside[labels == index].any():
            yield x, y, width, height
