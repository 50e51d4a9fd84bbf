"""Little arrows beside the grid by their ink alone: a small piece, long for its width, that lies on a diagonal."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from ingest.page import Box
from recognise.evidence import Glyph
from recognise.geometry import extent, middle, overlap
from recognise.pixels.blobs import Blob, Pieces
from recognise.pixels.frame import Raster

SIZES = (0.12, 0.5)
"""In cells: how long a little arrow is along a row or column."""
ASKEW = math.radians(14)
"""So far from a diagonal it may lie; the strokes of characters are upright, level, or round."""
SLIM = 2.5
"""So many times as long as it is wide, by the spread of its ink, it is at least: its head is wider than its shaft."""
NEAR = 0.95
"""In cells: so far from the middle of its number stands the middle of a little arrow at most."""
BESIDE = 1.0
"""In cells: so far from the grid."""
WAYS = {(1, 1): "SE", (-1, 1): "SW", (1, -1): "NE", (-1, -1): "NW"}
"""Directions by their steps, x and y."""


@dataclass(frozen=True, slots=True)
class Slanted:
    """A little arrow as measured: the place beside the grid (row and column, 0 being before the first), its direction,
    its box in cells."""

    row: int
    column: int
    way: str
    box: Box


def slanted(pieces: Pieces, raster: Raster, known: Iterable[Glyph]) -> Iterator[Slanted]:
    """The pieces of ink beside the grid, next to a number, that lie as little arrows into its diagonals do."""
    numbers = [glyph for glyph in known if raster.cell_of(*glyph.centre) is None and glyph.text.isdecimal()]
    for blob in pieces.blobs if numbers else ():
        box = blob.box(raster)
        x, y = middle(box)
        beside = max(-x, x - raster.columns, -y, y - raster.rows)
        if not (0 < beside <= BESIDE and SIZES[0] <= min(box[2] - box[0], box[3] - box[1]) and extent(box) <= SIZES[1]):
            continue
        if any(overlap(box, glyph.box) for glyph in numbers) or not any(
            math.dist((x, y), glyph.centre) <= NEAR for glyph in numbers
        ):
            continue
        way = _into_grid(_lean(blob, pieces), x, y, raster)
        if way is not None:
            yield Slanted(math.floor(y) + 1, math.floor(x) + 1, WAYS[way], box)


def _lean(blob: Blob, pieces: Pieces) -> int:
    """1 for a piece that falls to the right along a diagonal, -1 for one that rises, 0 for any other."""
    own = pieces.labels[blob.y : blob.y + blob.height, blob.x : blob.x + blob.width]
    ys, xs = np.nonzero(np.isin(own, blob.labels))
    if len(xs) < 4:
        return 0
    spread = np.cov(xs, ys)
    least, most = np.linalg.eigvalsh(spread)
    if most < SLIM**2 * max(float(least), 1e-6):
        return 0
    turn = math.atan2(2 * spread[0, 1], spread[0, 0] - spread[1, 1]) / 2
    return 0 if abs(abs(turn) - math.pi / 4) > ASKEW else 1 if turn > 0 else -1


def _into_grid(lean: int, x: float, y: float, raster: Raster) -> tuple[int, int] | None:
    """The way along a piece that leads into the grid; None where both lead past it."""
    right = 1 if x < 0 else -1 if x > raster.columns else 0
    down = 1 if y < 0 else -1 if y > raster.rows else 0
    for way in WAYS:
        if lean and way[0] * way[1] == lean and right in (0, way[0]) and down in (0, way[1]):
            return way
    return None
