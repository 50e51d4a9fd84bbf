"""How often a character is right at the confidence that the glyph network states.

Measured on pages of our own printer, photographed and then put out of focus by 3 to 6 pixels of a cell of 64, with
noise, until a fifth of the characters was no longer sure (1,077 characters; the training half, none of the photos that
others took). Stated and right: 0.5 to 0.8: 24 of 39; 0.8 to 0.9: 23 of 26; 0.9 to 0.95: 31 of 31; 0.95 to 0.99: 90
of 90; above: 890 of 890. Where none was wrong of n, the share is taken for 1 - 1 / (n + 2) (Laplace's rule of
succession). At the top, characters of scanned books and of photos that were only measured tell more: none of 4,919 at
0.99 and above was wrong (recognise/glyphs/FIGURES.md), which bounds the rate at 6 in 10,000 (95 %, the rule of three).
Below 0.8 the network is taken at its word."""

from __future__ import annotations

import numpy as np

_STATED = (0.0, 0.8, 0.9, 0.925, 0.97, 0.99, 0.999, 1.0)
_RIGHT = (0.0, 0.8, 0.9, 0.97, 0.989, 0.9994, 0.9997, 0.9999)


def calibrated(stated: float) -> float:
    """The share of characters that are right among those with that stated confidence."""
    return float(np.interp(stated, _STATED, _RIGHT))
