"""Blocks of text whose lines rise or fall so much that they run into each other when they are looked for as level.

The page is made level by its grid. Where paper curls, what the grid says of it does not hold a column's width away, and
text beside the grid leans. A block is sheared until its lines are level: then as much ink as can be stands in as few
rows as can be (the way in which W. Postl finds the skew of a page, US patent 4,723,297, from memory)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.text.paper import Grey, shade
from recognise.text.regions import Region, text_regions

_STEEPEST, _STEP = 0.26, 0.01
"""How much a line falls in its length at most, and how finely that is tried."""
_CLEARER = 1.2
"""How much clearer lines stand out sheared than as they are, at least."""
_INK = 0.85
"""Ink is darker than this part of the paper around it."""
_ROOM = 12
"""Pixels around a block that are looked at with it."""


@dataclass(frozen=True, slots=True)
class Sheared:
    """A block made level: its picture, and how its places come back to where they are on the page."""

    picture: Grey
    left: int
    top: int
    fall: float

    def back(self, box: Box) -> Box:
        """Where a box of the picture lies on the page."""
        x0, y0, x1, y1 = box
        down = self.top + self.fall * (x0 + x1 - self.picture.shape[1]) / 2
        return x0 + self.left, y0 + down, x1 + self.left, y1 + down


def level_blocks(grey: Grey, boxes: Sequence[Box]) -> Iterator[tuple[Sheared, list[Region]]]:
    """The places of text in tangles (boxes in pixels of the picture) that leans, made level, with their blocks."""
    for box in boxes:
        left, top = max(0, int(box[0]) - _ROOM), max(0, int(box[1]) - _ROOM)
        part = grey[top : int(box[3]) + _ROOM, left : int(box[2]) + _ROOM]
        fall = fall_of(part)
        if fall:
            more = _more(part, fall)
            whole = cv2.copyMakeBorder(part, more, more, 0, 0, cv2.BORDER_REPLICATE)
            seen = Sheared(np.asarray(_sheared(whole, fall, cv2.BORDER_REPLICATE), np.uint8), left, top - more, fall)
            if found := text_regions(seen.picture, ()):
                yield seen, found


def fall_of(part: Grey) -> float:
    """How far lines of type fall from left to right, as a part of their length; 0 where they are level, or where
    nothing stands out as lines."""
    dark = (shade(part) < _INK).astype(np.float32)
    more = _more(part, _STEEPEST)
    dark = np.pad(dark, ((more, more), (0, 0)))
    falls = np.arange(-_STEEPEST, _STEEPEST + _STEP / 2, _STEP)
    clear = np.array([_clearness(_sheared(dark, float(fall), cv2.BORDER_CONSTANT)) for fall in falls])
    best, level = int(clear.argmax()), float(clear[np.abs(falls).argmin()])
    return float(falls[best]) if clear[best] > _CLEARER * level else 0.0


def _more(part: Grey, fall: float) -> int:
    """Pixels by which the picture of a block grows upwards and downwards when it is sheared."""
    return int(abs(fall) * part.shape[1] / 2) + 1


def _clearness(dark: npt.NDArray[np.generic]) -> float:
    """How much the ink of one row differs from that of the next."""
    steps = np.diff(dark.mean(axis=1))
    return float((steps * steps).sum())


def _sheared(part: npt.NDArray[np.generic], fall: float, border: int) -> npt.NDArray[np.generic]:
    """A picture whose columns are moved up by how far a line has fallen there, about the middle one."""
    high, wide = part.shape
    move = np.array([[1, 0, 0], [-fall, 1, fall * wide / 2]])
    return np.asarray(cv2.warpAffine(part, move, (wide, high), flags=cv2.INTER_LINEAR, borderMode=border))
