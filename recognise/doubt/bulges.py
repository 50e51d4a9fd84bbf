"""Ink that sticks out of a line: what the guard that explains all ink takes for the line's own, because the line's
claim is wider than the line.

A claim has room for blur, for a line that lies beside its place, and for one that is narrower here than there. What
stands behind a line shows beside it within that room: the ends of a character, a second mark. So the ink of each line
is measured along its way, and what departs from that (a bulge at its side or at its end) is a place that a person must
look at."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.components import components
from recognise.draft import Polygon
from recognise.evidence import Flat, Trace
from recognise.geometry import filled
from recognise.pixels.frame import Grey, Mask, Raster
from recognise.pixels.own_ink import OwnInk, own_ink
from recognise.support import claims

GROUND = 40
"""Percentile of the ink in a cell that is that of its ground."""
ROOM = 0.12
"""In cells: how far beyond its claim the sides of a line are looked for; farther out the other guard sees all."""
LEVEL = 0.04
"""In cells: how much farther than others of its page a line may go on behind the middle of its last cell."""
ALIKE = 0.25
"""As a part of its width, by how much the width of such others differs."""
ENOUGH = 4
"""Ends that show how far those of a page go on; what runs into the end of one line is not at that of others."""
BOTH, EXACTLY = 2, 0.04
"""The ends of one line show it too, where they go on equally far, to so little in cells: what runs into one of them
reaches out as far as it happens to."""
OTHERS = 0.06
"""In cells: how far the ink of other marks reaches beyond their claims."""
BESIDE_LATTICE = 0.05
"""In cells: nearer to the lattice than this stand rests of its lines."""
THICK = 0.045
"""In cells: the thinnest stroke that counts; thinner are steps of a slanting side."""
EXTENT, AREA = 0.08, 0.004
"""In cells, and in square cells: what is smaller is no character, nor part of a mark that could be told."""


def straight_lines(level: Grey, floor: float, traces: Sequence[Trace], raster: Raster) -> list[OwnInk]:
    """The own ink of each line of a picture that runs straight from cell to cell. `level` is ink from 0 to 1 in the
    picture's pixels without the lattice; `floor` what paper and noise reach."""
    ink = level - _ground(level, raster)
    return [own_ink(t, ink, floor, raster) for t in traces if t.how != "vector" and not t.sway and t.links]


def bulges(lines: Sequence[OwnInk], flat: Flat, claimed: Sequence[Polygon], lattice: Mask) -> Iterator[Box]:
    """Boxes, in cells, of ink beside straight lines, within the room of their claims, that is not the line's own.
    `lattice` are the lattice's pixels among those of `flat`; `claimed` all that items claim."""
    raster = Raster.of(flat)
    at_lattice = cv2.dilate(lattice.astype(np.uint8), _square(BESIDE_LATTICE, raster)) > 0
    for line in lines:
        ends = _ends_alike(line, lines)
        farthest = float(np.median(ends)) + LEVEL if ends else 0.0
        own = claims(line.trace)
        mine = set(own)
        looked_at = cv2.dilate(filled(flat, own), _square(ROOM, raster)) > 0
        others = filled(flat, [polygon for polygon in claimed if polygon not in mine])
        looked_at &= (cv2.dilate(others, _square(OTHERS, raster)) == 0) & ~at_lattice
        looked_at &= filled(flat, line.body(farthest)) == 0
        yield from _pieces(line.ink & looked_at, raster)


def own_ends(lines: Sequence[OwnInk]) -> Iterator[Polygon]:
    """Where straight lines go on behind the middles of their last cells, in cells, as far as those of the page that are
    as wide do: some printers draw them all into the far half of the cell."""
    for line in lines:
        ends = _ends_alike(line, lines)
        if len(ends) >= ENOUGH or (len(ends) >= BOTH and np.ptp(ends) <= EXACTLY):
            yield from line.tails(float(np.median(ends)) + LEVEL)


def _ends_alike(line: OwnInk, lines: Sequence[OwnInk]) -> list[float]:
    """How far the lines that are about as wide as one go on behind their last nodes, it among them."""
    alike = (other for other in lines if abs(other.width - line.width) <= ALIKE * max(other.width, line.width))
    return [end for other in alike for end in other.ends]


def _ground(level: Grey, raster: Raster) -> Grey:
    """The ink of the ground of each cell: of a tint, which is no line's own."""
    rows, columns = raster.grid_slices()
    blocks = level[rows, columns].reshape(raster.rows, raster.cell, raster.columns, raster.cell)
    tones = np.percentile(blocks, GROUND, axis=(1, 3))
    ground = np.zeros_like(level)
    ground[rows, columns] = tones.repeat(raster.cell, axis=0).repeat(raster.cell, axis=1)
    return ground


def _pieces(left: Mask, raster: Raster) -> Iterator[Box]:
    """The pieces of ink within the grid that are no mere steps of a side."""
    inside = np.zeros(left.shape, np.uint8)
    window = raster.grid_slices()
    inside[window] = left[window]
    depth = cv2.distanceTransform(inside, cv2.DIST_L2, 5)
    labels, stats = components(inside)
    for index in range(1, len(stats)):
        x, y, width, height, area = (int(v) for v in stats[index])
        if max(width, height) < EXTENT * raster.cell or area < AREA * raster.cell**2:
            continue
        part = slice(y, y + height), slice(x, x + width)
        if depth[part][labels[part] == index].max() >= THICK / 2 * raster.cell:
            yield raster.box(x, y, width, height)


def _square(reach: float, raster: Raster) -> npt.NDArray[np.uint8]:
    return np.ones((2 * raster.px(reach) + 1,) * 2, np.uint8)
