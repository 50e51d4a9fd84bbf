"""Characters that stand on a line of another colour or tone: looked for in the darkest ink alone.

A coloured line is as much ink as a black figure in the channel where ink is measured, so that both are one piece. In
the channel where a colour is palest the line fades and the figure does not, and a grey line is paler in all of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from recognise.pixels.blobs import Blob, Pieces, Tones, find_pieces
from recognise.pixels.frame import Grey, Raster
from recognise.pixels.ink import Ink

PALER = 0.55
"""A line is paler than this part of the ink of characters in every channel; only what is darker is looked at."""
ENOUGH = 4
"""So many characters tell how dark they are."""
STROKE = 90
"""Percentile of the ink in a character's box that is its stroke."""
TALL = 0.13
"""In cells: what counts as a character from this height on: small totals stand on lines too."""


def darkest(ink: Ink) -> Grey:
    """Ink in the channel where it shows least, without the lattice: colours fade, black stays."""
    grey = np.asarray(1.0 - ink.relative.max(axis=-1), np.float32)
    return np.minimum(grey, ink.drawn)


def darker_pieces(dark: Grey, tones: Tones, raster: Raster, characters: Sequence[Blob]) -> Pieces:
    """The pieces of a character's size of ink that is as dark as that of `characters` in every channel; none where
    these are too few to tell."""
    if len(characters) < ENOUGH:
        return Pieces(np.zeros(dark.shape, np.int32), (), tones)
    strokes = [
        np.percentile(dark[blob.y : blob.y + blob.height, blob.x : blob.x + blob.width], STROKE) for blob in characters
    ]
    usual = float(np.median(strokes))
    pieces = find_pieces(dark, raster, Tones(usual, PALER * usual))
    return replace(pieces, blobs=tuple(blob for blob in pieces.blobs if blob.height >= TALL * raster.cell))
