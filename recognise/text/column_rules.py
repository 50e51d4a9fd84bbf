"""Rules between columns, of which worn print leaves a row of thin pieces: none of them is a letter, and they would lead
lines of one column over to those of the next."""

from __future__ import annotations

import cv2
import numpy as np
import numpy.typing as npt

from recognise.text.paper import paper_around

Numbers = npt.NDArray[np.float64]

_THIN = (2.0, 0.15)
"""Width of such a piece at most: pixels, and parts of a letter's height; stems of letters are hardly thinner."""
_SPECK = 0.3
"""In letters' heights: what is lower is no letter anyway, and on noisy paper there is much of it."""
_IN_LINE = 1.5
"""Pixels that one piece of a rule stands beside the next at most."""
_GAP, _LONG = 2.0, 8.0
"""Letters' heights from one piece to the next at most, and of the whole at least: five lines of text, in all of which
narrow letters seldom stand one below the other."""
_MANY = 5
"""Pieces of a rule at least."""
_INK, _TALL, _WIDE = 0.78, 2.5, 0.3
"""Of an upright rule beside a block, as the border of a table is: its light in that of the paper around it at most, its
height at least and its width at most in letters' heights; brackets are hardly taller than 1.5."""
_WHITE = 255
_OF_ALL = 0.9
"""The part of a picture's height that such a rule has where that is less."""


def of_rules(pieces: Numbers, letter: float) -> npt.NDArray[np.bool_]:
    """Which pieces of ink (boxes x, y, width, height; n x 4) are of upright rules, beside letters of that height."""
    found = np.zeros(len(pieces), np.bool_)
    narrow = pieces[:, 2] <= max(_THIN[0], _THIN[1] * letter)
    thin = np.flatnonzero(narrow & (pieces[:, 3] >= _SPECK * letter))
    thin = thin[np.argsort(pieces[thin, 1], kind="stable")]
    middle, top = pieces[thin, 0] + pieces[thin, 2] / 2, pieces[thin, 1]
    bottom = top + pieces[thin, 3]
    left = np.ones(len(thin), np.bool_)
    for start in range(len(thin)):
        row = [start] if left[start] else []
        while row:
            last = row[-1]
            below = left & (top > top[last]) & (top <= bottom[last] + _GAP * letter)
            following = np.flatnonzero(below & (np.abs(middle - middle[last]) <= _IN_LINE))
            if not following.size:
                break
            row.append(int(following[0]))
        left[row] = False
        if len(row) >= _MANY and bottom[row[-1]] - top[row[0]] >= _LONG * letter:
            found[thin[row]] = True
    return found


def without_rules(part: npt.NDArray[np.uint8], letter: float) -> npt.NDArray[np.uint8]:
    """A block's picture without the upright rules in it, which pass for a 1 before its lines."""
    high = max(3, int(min(_TALL * letter, _OF_ALL * len(part))))
    upright = _upright(part < _INK * _WHITE, high)
    if not upright.any():
        return part
    # Grey paper, or paper in a shadow, is darker than a thin rule on white: light is told by what is around.
    upright = _upright(part < _INK * paper_around(part, letter), high)
    broad = cv2.morphologyEx(upright, cv2.MORPH_OPEN, np.ones((1, max(4, int(_WIDE * letter))), np.uint8))
    thin = cv2.dilate(upright & ~broad, np.ones((3, 3), np.uint8))
    return np.where(thin > 0, np.uint8(255), part)


def _upright(ink: npt.NDArray[np.bool_], high: int) -> npt.NDArray[np.uint8]:
    """The ink that is part of an upright stroke so many pixels high."""
    return np.asarray(cv2.morphologyEx(ink.astype(np.uint8), cv2.MORPH_OPEN, np.ones((high, 1), np.uint8)), np.uint8)
