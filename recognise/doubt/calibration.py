"""How often a character is right at the confidence that the glyph network states.

The network states less than it is worth near the top: of characters of scanned books at 0.9 and above, 1 of 2,030 was
wrong, at 0.99 and above none of 1,975; of newspaper photos, 1 of 3,082 and none of 2,944 (recognise/glyphs/FIGURES.md).
None wrong of 4,919 bounds the rate at 6 in 10,000 (95 %, the rule of three); below 0.9 it is taken at its word."""

from __future__ import annotations

import numpy as np

_STATED = (0.0, 0.9, 0.99, 0.999, 1.0)
_RIGHT = (0.0, 0.9, 0.9994, 0.9997, 0.9999)


def calibrated(stated: float) -> float:
    """The share of characters that are right among those with that stated confidence."""
    return float(np.interp(stated, _STATED, _RIGHT))
