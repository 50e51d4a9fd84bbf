"""The light of the paper under text, and how much darker than it each place is."""

from __future__ import annotations

from functools import lru_cache, reduce

import cv2
import numpy as np
import numpy.typing as npt

from recognise.quantiles import median, percentile

Grey = npt.NDArray[np.uint8]

_GROUND = 41
"""Side in work pixels of the window in which paper shows: wider than the boldest stem."""
_WINDOWS = ((_GROUND, _GROUND), (3, 81), (81, 3))
"""Windows, and strips upright and level, in which paper shows: strips are longer than any letter and narrower than a
fold, which is as dark all along."""
_WHITE, _BLACK = 200, 90
"""Greys of paper and ink in good light: what has both is read as it is."""
_PAPER = 1.5
"""Side in letters' heights of the window in which paper shows: strokes that are narrower are filled (a closing)."""
_LEAST_CONTRAST = 0.15
"""What ink takes off the paper's light at least; less is dirt, which is not to become black."""


def shade(grey: Grey) -> npt.NDArray[np.float32]:
    """How light each place is in parts of the paper around it; in a fold the paper is as dark as the fold."""
    paper = np.asarray(reduce(cv2.min, (paper_of(grey, *window) for window in _WINDOWS)), np.uint8)
    return np.asarray(grey.astype(np.float32) / np.maximum(1.0, paper.astype(np.float32)), np.float32)


def paper_of(grey: Grey, width: int, height: int) -> Grey:
    """The light of the paper: what is darker and smaller than a window is filled (a closing), so that the edge of a
    shadow stays where it is and what stands in it is seen."""
    filled = cv2.morphologyEx(grey, cv2.MORPH_CLOSE, np.ones((height, width), np.uint8))
    return blurred(np.asarray(filled, np.uint8), width / 6, height / 6)


def paper_around(part: Grey, letter: float) -> Grey:
    """The light of the paper around letters of that height and what is no wider than they are."""
    reach = max(3, int(_PAPER * letter)) | 1
    return paper_of(part, reach, reach)


def evened(part: Grey, letter: float) -> Grey:
    """A part of the page in even light: paper white, ink black; as it is where it is so already."""
    paper = paper_around(part, letter)
    if percentile(paper, 5) > _WHITE and percentile(part, 1) < _BLACK:
        return part
    light = np.minimum(1.0, part.astype(np.float32) / np.maximum(1.0, paper.astype(np.float32)))
    # In a noisy picture the brightest of a window is lighter than its paper.
    ink, white = float(percentile(light, 1)), median(light)
    even = (light - ink) / max(_LEAST_CONTRAST, white - ink)
    return np.asarray(255 * np.clip(even, 0.0, 1.0), dtype=np.uint8)


def blurred(grey: Grey, across: float, down: float) -> Grey:
    """What `cv2.GaussianBlur` gives, in a third of the time where the blur is wide: it sums whole numbers below 2^24,
    which single precision holds exactly."""
    sums = cv2.sepFilter2D(grey, cv2.CV_32F, _weights(across), _weights(down))
    sums += _UNIT * _UNIT / 2
    sums *= 1 / (_UNIT * _UNIT)
    return np.asarray(sums.astype(np.uint8))


_UNIT = 256
"""What the weights of a blur add up to."""


@lru_cache(maxsize=32)
def _weights(sigma: float) -> npt.NDArray[np.float32]:
    """The weights that OpenCV gives to whole-number pictures: what rounding leaves over goes on to the next weight."""
    size = round(sigma * 6 + 1) | 1
    found = np.zeros(size, np.float32)
    left = 0.0
    for place, weight in enumerate(cv2.getGaussianKernel(size, sigma, cv2.CV_64F).ravel()[: size // 2].tolist()):
        exact = _UNIT * weight + left
        found[place] = found[size - 1 - place] = round(exact)
        left = exact - round(exact)
    found[size // 2] = _UNIT - found.sum()
    return found
