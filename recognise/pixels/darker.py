"""Characters that stand on a line of another colour or tone: looked for in the darkest ink alone.

A coloured line is as much ink as a black figure in the channel where ink is measured, so that both are one piece. In
the channel where a colour is palest the line fades and the figure does not, and a grey line is paler in all of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import cv2
import numpy as np

from recognise.pixels.blobs import Blob, Pieces, Tones, find_pieces
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.ink import Ink
from recognise.quantiles import percentile

PALER = 0.55
"""A line is paler than this part of the ink of characters in every channel; only what is darker is looked at."""
ENOUGH = 2
"""So many characters tell how dark they are: pages with lines print few."""
STROKE = 90
"""Percentile of the ink in a character's box that is its stroke."""
TALL = 0.13
"""In cells: what counts as a character from this height on: small totals stand on lines too."""
RING = (2, 2)
"""Pixels: so far from a piece, past its blurred edge, begins the ring that is looked at, and so wide is it."""
GOES_ON = 0.08
"""Part of that ring that may be as dark as more than a line: the hole of a blurred 8 is."""


def darkest(ink: Ink) -> Grey:
    """Ink in the channel where it shows least, without the lattice: colours fade, black stays."""
    grey = np.asarray(1.0 - np.maximum.reduce(cv2.split(ink.relative)), np.float32)
    return np.minimum(grey, ink.drawn)


def darker_pieces(dark: Grey, tones: Tones, raster: Raster, characters: Sequence[Blob]) -> Pieces:
    """The pieces of a character's size of ink that is as dark as that of `characters` in every channel; none where
    these are too few to tell."""
    if len(characters) < ENOUGH:
        return Pieces(np.zeros(dark.shape, np.int32), (), tones)
    strokes = [
        percentile(dark[blob.y : blob.y + blob.height, blob.x : blob.x + blob.width], STROKE) for blob in characters
    ]
    usual = float(np.median(strokes))
    pieces = find_pieces(dark, raster, Tones(usual, PALER * usual))
    tall = [blob for blob in pieces.blobs if blob.height >= TALL * raster.cell]
    return replace(pieces, blobs=tuple(blob for blob in tall if _stands_alone(blob, pieces, dark, PALER * usual)))


def _stands_alone(blob: Blob, pieces: Pieces, dark: Grey, paler: float) -> bool:
    """Whether a piece ends all around in ink `paler` than itself: a bit of a line that is nearly as dark as characters
    goes on at its ends."""
    pad = sum(RING)
    rows = slice(max(0, blob.y - pad), blob.y + blob.height + pad)
    columns = slice(max(0, blob.x - pad), blob.x + blob.width + pad)
    own = blob.among(pieces.labels[rows, columns]).astype(np.uint8)
    inner, outer = (cv2.dilate(own, np.ones((2 * n + 1, 2 * n + 1), np.uint8)) > 0 for n in (RING[0], pad))
    # The next figure of a number stands as near as that.
    near = cv2.dilate((pieces.labels[rows, columns] > 0).astype(np.uint8) * (1 - own), np.ones((3, 3), np.uint8)) > 0
    around = dark[rows, columns][outer & ~inner & ~near]
    return bool(np.count_nonzero(around > paler) <= GOES_ON * max(1, around.size))
