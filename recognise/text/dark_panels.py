"""Dark boxes beside a grid, in which a page may set words in white.

Blocks of text are looked for as ink that is darker than its paper, so what is printed light in a box by itself is seen
in the negative alone; and the whole page is read so only where it tells no rules in dark type."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.components import components
from recognise.geometry import shared
from recognise.text.paper import Grey, blurred, paper_of

_SIDE = 600
"""Pixels on the long side on which boxes are looked for: half a millimetre each of A4."""
_BLUR = 2.0
"""In these pixels: strokes of light type are lost in their box."""
_PAPER = 241
"""Side of the window in which paper shows: what is dark in all of it is the table that a page lies on."""
_DARK = 0.65
"""The light of a dark box, with the type on it, in that of the paper around it: white type is set on darker tones than
this, or it could not be read."""
_WIDE, _TALL = 50, 9
"""In these pixels: words of a rule are so wide at least, and their box so high (a line of small type)."""
_RIM = 2
"""In these pixels, of a box's side: what its blurred edge takes."""
_FULL = 0.85
"""The part of its bounds that a printed box fills; dark places of a photograph have any shape."""
_OF_GRID = 0.1
"""The part of a box that may lie on a grid."""


def dark_panels(grey: Grey, grids: Sequence[Box]) -> list[Box]:
    """The dark boxes on the paper of a page, outside its grids; all in pixels of the picture."""
    scale = min(1.0, _SIDE / max(grey.shape))
    small = np.asarray(cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA), np.uint8)
    paper = paper_of(small, _PAPER, _PAPER).astype(np.float32)
    dark = (blurred(small, _BLUR, _BLUR) < _DARK * paper).astype(np.uint8)
    opened = cv2.morphologyEx(dark, cv2.MORPH_OPEN, np.ones((_TALL, _WIDE), np.uint8))
    found: list[Box] = []
    for x, y, width, height, area in components(np.asarray(opened, np.uint8))[1][1:].tolist():
        inside = x > 0 and y > 0 and x + width < small.shape[1] and y + height < small.shape[0]
        left, top, right, bottom = x + _RIM, y + _RIM, x + width - _RIM, y + height - _RIM
        if inside and area >= _FULL * width * height and min(right - left, bottom - top) > 0:
            found.append((left / scale, top / scale, right / scale, bottom / scale))
    return [box for box in found if not any(shared(box, grid) > _OF_GRID * _area(box) for grid in grids)]


def light_on_paper(grey: Grey, panels: Sequence[Box]) -> Grey:
    """The picture of dark boxes alone in the negative, as dark type on one even paper."""
    inside = np.zeros(grey.shape, np.bool_)
    for x0, y0, x1, y1 in panels:
        inside[round(y0) : round(y1), round(x0) : round(x1)] = True
    negative = np.asarray(cv2.bitwise_not(grey), np.uint8)
    return np.where(inside, negative, _tone(negative[inside])).astype(np.uint8)


def _tone(values: npt.NDArray[np.uint8]) -> int:
    return int(np.median(values)) if values.size else 255


def _area(box: Box) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])
