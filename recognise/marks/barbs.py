"""The barbs of an arrow head as they are drawn: heads that are larger than most, or swept back.

An arrow head has two sides that are alike: what of the ink behind its tip lies as far to the one side of its shaft as
to the other, in one piece with it, is the head's. A character or another mark beside it has no counterpart, and what
goes on beyond the tip is no head."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Point
from recognise.evidence import Trace
from recognise.marks.line_questions import HEAD_UNSEEN
from recognise.pixels.frame import Grey, Raster
from schema.cells import Cell

LONG, WIDE = 0.5, 0.42
"""In cells: how far behind its tip, and to each side of its shaft, the largest head reaches."""
AHEAD = 0.12
"""In cells: so far beyond its tip there is nothing of a head but blur, which is not looked at."""
SHARE = 0.5
"""As a part of the ink of the shaft: what the head has at least."""
JOIN = 0.03
"""In cells: half of what a lattice line that was taken out cuts a barb by, and how unlike its two sides may be."""
ALIKE = 0.85
"""The part of the ink in one piece with the shaft that has its counterpart."""
NARROW = 0.7
"""How much of its width a head has at the quarter of its length behind its tip, at most."""
ROUND, TWICE = 0.03, 2.0
"""In cells: how far the blur of a barb goes beyond it; how many times as wide as its shaft a head is at least: the
round end of a shaft is as wide."""

Mask = npt.NDArray[np.bool_]
Triangle = tuple[Point, ...]


def with_barbs(trace: Trace, drawn: Grey, raster: Raster, floor: float) -> Trace:
    """A line with the barbs of its heads, of which nobody need ask then whether they are there. `drawn` is the ink
    without the lattice, `floor` the least that counts."""
    heads = [(trace.nodes[trace.before(node)], trace.nodes[node], beyond) for node, beyond in trace.tips]
    found = [barbs(*head, drawn, raster, floor) for head in heads]
    wide = (_reach(*head[:2], sides) >= TWICE * trace.width / 2 for head, sides in zip(heads, found, strict=True))
    shown = bool(found) and len(found) == len(trace.heads) and all(wide)
    asked = tuple(why for why in trace.ambiguous if not (shown and why == HEAD_UNSEEN))
    return replace(trace, barbs=tuple(side for sides in found for side in sides), ambiguous=asked)


def _reach(before: Cell, last: Cell, sides: tuple[Triangle, ...]) -> float:
    """How far the sides of a head reach beside its shaft, without their blur."""
    start, end = np.array(before.centre), np.array(last.centre)
    way = (end - start) / np.hypot(*(end - start))
    aside = [abs((x - end[0]) * way[1] - (y - end[1]) * way[0]) for side in sides for x, y in side]
    return max(aside, default=ROUND) - ROUND


def barbs(before: Cell, last: Cell, beyond: float, drawn: Grey, raster: Raster, floor: float) -> tuple[Triangle, ...]:
    """The two sides of the head of an arrow that comes from one cell into another, as polygons in cells; `beyond` is
    how far its tip lies beyond the middle. Nothing where no head stands there by itself."""
    start, end = np.array(before.centre), np.array(last.centre)
    way = (end - start) / np.hypot(*(end - start))
    aside, tip = np.array((-way[1], way[0])), end + way * beyond
    ink = _sampled(drawn, tip, way, aside, raster)
    reach, ahead = ink.shape[1] // 2, round(AHEAD * raster.cell)
    shaft = float(np.median(ink[ahead + raster.px(LONG / 2) :, reach]))
    head = _in_one_piece(ink > max(floor, SHARE * shaft), reach, ahead, raster)
    widest = _widest(head[ahead:], reach) if head is not None else None
    if head is None or widest is None:
        return ()
    places = np.argwhere(head[: ahead + widest + 1, reach:]) / raster.cell
    if not len(places):
        return ()
    hull = cv2.convexHull(np.array([(AHEAD - s, t) for s, t in places], np.float32))[:, 0]
    outer = hull + ROUND * np.sign(hull - hull.mean(axis=0))
    sides = ([tip + s * way + sign * t * aside for s, t in outer] for sign in (1, -1))
    return tuple(tuple((float(x), float(y)) for x, y in side) for side in sides)


def _sampled(
    drawn: Grey,
    tip: npt.NDArray[np.float64],
    way: npt.NDArray[np.float64],
    aside: npt.NDArray[np.float64],
    raster: Raster,
) -> Grey:
    """The ink around a head: rows go back from before its tip, columns from side to side."""
    back = np.arange(-round(AHEAD * raster.cell), raster.px(LONG) + 1) / raster.cell
    across = np.arange(-raster.px(WIDE), raster.px(WIDE) + 1) / raster.cell
    places = tip - back[:, None, None] * way + across[None, :, None] * aside
    x, y = ((places[..., k] * raster.cell + raster.origin - 0.5).astype(np.float32) for k in (0, 1))
    return np.asarray(cv2.remap(drawn, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE), np.float32)


def _in_one_piece(inked: Mask, reach: int, ahead: int, raster: Raster) -> Mask | None:
    """What is in one piece with the shaft behind a tip and has its counterpart; None where too much has none."""
    size = 2 * raster.px(JOIN) + 1
    around = np.ones((size, size), np.uint8)
    joined = cv2.morphologyEx(inked.view(np.uint8), cv2.MORPH_CLOSE, around)
    _, labels = cv2.connectedComponents(joined, connectivity=8)
    own = labels[ahead + raster.px(2 * JOIN), reach]
    piece = (labels == own) & inked
    if not own:
        return None
    other = cv2.dilate(piece[:, ::-1].astype(np.uint8), around) > 0
    alike = piece & other
    return alike if alike.sum() >= ALIKE * piece.sum() else None


def _widest(head: Mask, reach: int) -> int | None:
    """Where ink behind a tip is widest, in pixels; None where it does not grow wider from there on to both sides, or
    does not end within what is looked at."""
    widths = np.array([np.abs(np.flatnonzero(row) - reach).max(initial=0) for row in head])
    widest = int(widths.argmax())
    within = widths.max() < reach and 0 < widest < len(widths) - 1
    return widest if within and widths[widest // 4] <= NARROW * widths[widest] else None
