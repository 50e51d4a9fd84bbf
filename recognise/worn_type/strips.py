"""Strips of single lines from a block of text, as the network of lines sees them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
import numpy.typing as npt

from recognise.worn_type.classes import BASE, HEIGHT, SMALL, STEP, STRETCH
from recognise.worn_type.crests import crests

Grey = npt.NDArray[np.uint8]

_COARSE, _FINE = 0.25, 0.1
"""In letters' heights: how much ink is smoothed downwards to count lines, and to see where their letters stand."""
_APART, _REACH = 0.7, 0.9
"""The same: how near the middles of two lines may be, and how far from it small letters may end."""
_STANDS_OUT = 0.06
"""By how much of a full line's ink a line has more than the rows between it and the next."""
_PIECE = 5.0
"""Letters' heights that a piece of a block is wide."""
_FEWEST_ROWS = 2
"""Rows of pixels between which ink can begin or end."""
_CREST, _FULL = 0.3, 85
"""Ink of a line in that of a full row, which is this percentile of all rows."""
_WIDTH, _INKED = 0.6, 0.35
"""Small letters' height over which the ink of a line is evened along it, and how much of a full line's is ink."""
_LEAST, _MOST = 0.55, 1.1
"""Height of small letters in that of the letters of a block, which may be tall ones."""


@dataclass(frozen=True, slots=True)
class Line:
    """Where a line stands in a picture: how far down its letters stand, how high the small ones are, and from where to
    where there is ink; in pixels."""

    base: float
    small: float
    begin: float
    end: float

    @property
    def middle(self) -> float:
        """How far down the middle of its small letters is."""
        return self.base - self.small / 2


def lines_in(part: Grey, letter: float) -> list[Line]:
    """The lines of a block of level type, top to bottom, `letter` pixels high. What is told is where much ink ends
    below each crest of ink, and where it begins above it: the small letters stand between."""
    if len(part) < _FEWEST_ROWS:
        return []
    ink = ink_of_rows(part, letter)
    coarse, fine = _smoothed(ink, _COARSE * letter), _smoothed(ink, _FINE * letter)
    reach = max(1, int(_REACH * letter))
    slope = np.gradient(fine)
    edges = []
    for crest in _crests(coarse, letter):
        below, above = slope[crest : crest + reach], slope[max(0, crest - reach) : crest + 1]
        edges.append((crest - len(above) + 1 + int(np.argmax(above)), crest + int(np.argmin(below))))
    heights = [base - top for top, base in edges]
    if not heights:
        return []
    small = float(np.clip(np.median(heights), _LEAST * letter, _MOST * letter))
    return _ended(part, [Line(float(base), small, 0.0, float(part.shape[1])) for _, base in edges])


def _ended(part: Grey, lines: Sequence[Line]) -> list[Line]:
    """The lines from where their ink begins to where it ends: the grain of the paper after a short one is no type."""
    dark = np.asarray(255 - part, dtype=np.float32)
    bands = [dark[max(0, int(line.base - line.small)) : max(1, int(line.base))].mean(axis=0) for line in lines]
    side = max(1, int(lines[0].small * _WIDTH))
    bands = [cv2.blur(band[None], (side, 1))[0] for band in bands]
    full = float(max(np.percentile(band, 80) for band in bands))
    ground = float(np.percentile(np.concatenate(bands), 5))
    ended = []
    for line, band in zip(lines, bands, strict=True):
        inked = np.flatnonzero(band > ground + _INKED * (full - ground))
        if inked.size:
            ended.append(replace(line, begin=max(0.0, float(inked[0]) - line.small), end=float(inked[-1]) + line.small))
    return ended


def ink_of_rows(part: Grey, letter: float) -> npt.NDArray[np.float32]:
    """How black each row of a picture is where it is blackest, in pieces of some letters side by side: a last line may
    be one word. 0 to 255."""
    count = max(1, round(part.shape[1] / (_PIECE * letter)))
    pieces = np.array_split(np.asarray(255 - part, dtype=np.float32), count, axis=1)
    return np.asarray(np.max([piece.mean(axis=1) for piece in pieces], axis=0), np.float32)


def _smoothed(ink: npt.NDArray[np.float32], by: float) -> npt.NDArray[np.float32]:
    return np.asarray(cv2.GaussianBlur(ink[:, None], (1, 0), sigmaX=0, sigmaY=max(0.3, by)), np.float32)[:, 0]


def _crests(ink: npt.NDArray[np.float32], letter: float) -> list[int]:
    """The rows of a smooth profile that have much more ink than those between them."""
    # The fullest row may be the edge of the paper.
    ground, full = float(np.percentile(ink, 5)), float(np.percentile(ink, _FULL))
    span = max(1.0, full - ground)
    found = crests(np.pad(ink, 1), ground + _CREST * span, max(1.0, _APART * letter), _STANDS_OUT * span)
    return [int(at) - 1 for at in found]


def across(line: Line) -> float:
    """Pixels of a line's strip for one of its picture, from left to right."""
    return SMALL / line.small * STRETCH


def strip(part: Grey, line: Line) -> Grey:
    """A line in the network's size; (HEIGHT, width)."""
    down, wide = SMALL / line.small, across(line)
    part = part[:, int(line.begin) : int(line.end) + 1]
    size = (max(STEP, round(part.shape[1] * wide)), HEIGHT)
    if down < 1:
        less = min(1.0, wide)
        part = np.asarray(cv2.resize(part, None, fx=less, fy=down, interpolation=cv2.INTER_AREA), np.uint8)
        move = np.array([[wide / less, 0, 0], [0, 1, BASE - line.base * down]])
    else:
        move = np.array([[wide, 0, 0], [0, down, BASE - line.base * down]])
    way = cv2.INTER_LINEAR if down < 1 else cv2.INTER_CUBIC
    white = float(np.median(part))
    seen = cv2.warpAffine(part, move, size, flags=way, borderMode=cv2.BORDER_CONSTANT, borderValue=white)
    return np.asarray(seen, dtype=np.uint8)
