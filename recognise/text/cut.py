"""A block of text cut out of the page for reading: its lines straight, its light even, its letters of one size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
import numpy.typing as npt

from ingest.page import Box
from recognise.text.column_rules import without_rules
from recognise.text.engine import Grey, OcrLine
from recognise.text.paper import evened
from recognise.text.regions import Region
from recognise.worn_type.strips import ink_of_rows

_CAPITAL = 30.0
"""Pixels that capitals are scaled to: Tesseract's documentation asks for 20 or more, about 30 at best."""
_LARGEST_ZOOM = 3.0
_PAD = 0.6
"""White around a block, in letters' heights; Tesseract misses letters that touch the picture's edge."""
_FRAME = 0.4
"""The same, how far the ink of a grid's frame lies around the grid at most: small type is pale beside it."""
_BENT = 0.3
"""How far a line may rise or fall in its block, in letters' heights, before the block is straightened."""
_BESIDE, _BELOW, _GAP = 12.0, 2.2, 1.6
"""In letters' heights: how far beside a block and below it more of its lines may stand, and the white between words."""
_INKED, _TOO_FULL = 0.3, 1.8
"""Ink of a column or a row of letters, in that of the block's own full ones, at least and at most."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A picture of a block, `zoom` times as large as on the page; `left` and `top` are its place there, in pixels."""

    picture: Grey
    left: int
    top: int
    zoom: float

    def on_page(self, line: OcrLine) -> OcrLine:
        """A line of the picture where it stands on the page."""
        x0, y0, x1, y1 = (value / self.zoom for value in line.box)
        return replace(
            line, box=(x0 + self.left, y0 + self.top, x1 + self.left, y1 + self.top), height=line.height / self.zoom
        )

    def here(self, line: OcrLine) -> OcrLine:
        """A line of the page in the picture."""
        x0, y0, x1, y1 = line.box
        box = tuple(self.zoom * value for value in (x0 - self.left, y0 - self.top, x1 - self.left, y1 - self.top))
        return replace(line, box=(box[0], box[1], box[2], box[3]), height=line.height * self.zoom)


def cut(grey: Grey, region: Region, box: Box) -> Cut | None:
    """The picture of a box of a block; None where the box has no pixels."""
    pad = _PAD * region.letter
    left, top = max(0, int(box[0] - pad)), max(0, int(box[1] - pad))
    # Next to a grid the last words of a bent line may not have been seen.
    low = pad if region.beyond[1] < pad else 2 * pad
    right, bottom = min(grey.shape[1], int(box[2] + pad) + 1), min(grey.shape[0], int(box[3] + low) + 1)
    part = grey[top:bottom, left:right]
    if not part.size:
        return None
    part, above = _straightened(part, left, region)
    part = without_rules(evened(part, region.letter), region.letter)
    zoom = min(_LARGEST_ZOOM, _CAPITAL / max(1.0, region.letter * 1.25))
    if zoom < 0.75 or zoom > 1.15:
        way = cv2.INTER_AREA if zoom < 1 else cv2.INTER_CUBIC
        part = np.asarray(cv2.resize(part, None, fx=zoom, fy=zoom, interpolation=way), np.uint8)
    else:
        zoom = 1.0
    return Cut(np.ascontiguousarray(part, dtype=np.uint8), left, top - above, zoom)


def grown(grey: Grey, region: Region, grids: Sequence[Box]) -> Box:
    """The box of a block with the words at the ends of its lines and the short last line that were not seen to belong
    to it; not into a grid, nor over an edge of the paper."""
    x0, y0, x1, y1 = region.box
    first, last, low = _room(grey, region, grids)
    beside = grey[int(y0) : int(y1) + 1, int(first) : int(last)]
    below = grey[int(y0) : int(low), int(x0) : int(x1)]
    if not beside.size or not below.size:
        return region.box
    ink = np.asarray(255 - evened(beside, region.letter), np.float32).mean(axis=0)
    ends = int(x0 - first), min(len(ink), int(x1 - first) + 1)
    left, right = _reaching(ink, *ends, _GAP * region.letter, 0.3 * region.letter)
    rows = ink_of_rows(evened(below, region.letter), region.letter)
    ends = 0, min(len(rows), int(y1 - y0) + 1)
    _, bottom = _reaching(rows, *ends, _BELOW * region.letter, 0.1 * region.letter)
    return min(x0, first + left), y0, max(x1, first + right), max(y1, y0 + bottom)


def _room(grey: Grey, region: Region, grids: Sequence[Box]) -> tuple[float, float, float]:
    """How far to the left, to the right and down a block may reach: up to the grids beside and below it."""
    x0, y0, x1, y1 = region.box
    letter = region.letter
    first, last = max(0.0, x0 - _BESIDE * letter), min(float(grey.shape[1]), x1 + _BESIDE * letter)
    low = min(float(grey.shape[0]), y1 + _BELOW * letter)
    off = (_PAD + _FRAME) * letter
    for left, top, right, bottom in grids:
        if top < y1 and y0 < bottom:
            first = max(first, min(x0, right + off)) if right <= x0 + letter else first
            last = min(last, max(x1, left - off)) if left >= x1 - letter else last
        if left < x1 and x0 < right and top >= y1 - letter:
            low = min(low, max(y1, top - off))
    return first, last, low


def _reaching(ink: npt.NDArray[np.float32], first: int, last: int, gap: float, smooth: float) -> tuple[int, int]:
    """From where to where there is ink as between `first` and `last`, over white of `gap` at most. Where there is far
    more of it the paper ends, or a picture begins."""
    ink = cv2.blur(ink[None], (max(1, int(smooth)), 1))[0]
    ground, full = float(np.percentile(ink, 5)), float(np.percentile(ink[first:last], 90))
    inked = ink > ground + _INKED * (full - ground)
    most = ground + _TOO_FULL * (full - ground)
    begin, end = first, last
    for at in range(last, len(ink)):
        if ink[at] > most or at - end > gap:
            break
        end = at if inked[at] else end
    for at in range(first - 1, -1, -1):
        if ink[at] > most or begin - at > gap:
            break
        begin = at if inked[at] else begin
    return begin, end


def _straightened(part: Grey, left: int, region: Region) -> tuple[Grey, int]:
    """A part of the page with the lines of its block made straight, about the middle of the block, and how many rows it
    has more above."""
    square, straight = region.bend
    x = left + np.arange(part.shape[1], dtype=np.float32)
    fall = square * x * x + straight * x
    middle = (region.box[0] + region.box[2]) / 2
    fall -= np.float32(square * middle * middle + straight * middle)
    if np.abs(fall).max() < _BENT * region.letter:
        return part, 0
    above, below = (int(np.ceil(by)) for by in region.beyond)
    columns, rows = np.meshgrid(x - left, np.arange(-above, part.shape[0] + below, dtype=np.float32))
    rows += fall[None, :]
    straightened = cv2.remap(
        part, columns, rows.astype(np.float32), interpolation=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
    )
    return np.asarray(straightened, dtype=np.uint8), above
