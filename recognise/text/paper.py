"""The light of the paper under text, and how much darker than it each place is."""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

Grey = npt.NDArray[np.uint8]

_GROUND = 41
"""Side in work pixels of the window in which paper shows: wider than the boldest stem."""
_WINDOWS = ((_GROUND, _GROUND), (3, 81), (81, 3))
"""Windows, and strips upright and level, in which paper shows: strips are longer than any letter and narrower than a
fold, which is as dark all along."""


def shade(grey: Grey) -> npt.NDArray[np.float32]:
    """How light each place is in parts of the paper around it; in a fold the paper is as dark as the fold."""
    paper = np.min([paper_of(grey, *window) for window in _WINDOWS], axis=0)
    shades: npt.NDArray[np.float32] = grey.astype(np.float32) / np.maximum(1.0, paper.astype(np.float32))
    return shades


def paper_of(grey: Grey, width: int, height: int) -> Grey:
    """The light of the paper: what is darker and smaller than a window is filled (a closing), so that the edge of a
    shadow stays where it is and what stands in it is seen."""
    filled = cv2.morphologyEx(grey, cv2.MORPH_CLOSE, np.ones((height, width), np.uint8))
    return np.asarray(cv2.GaussianBlur(filled, (0, 0), width / 6, sigmaY=height / 6), dtype=np.uint8)
