"""Lines of a block that Tesseract leaves out: one of many, or the first or the last of a few."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import median

import cv2
import numpy as np

from ingest.page import Box
from recognise.text.engine import Engine, Grey, OcrLine
from recognise.worn_type.strips import Line, lines_in

_BLACK = 90
"""Grey of ink in even light."""
_SKIPPED = 1.6
"""Usual steps from one line to the next, from which on one was left out between them."""
_OVER, _UNDER = 2.2, 0.9
"""Heights of small letters that a line reaches up and down from its base, its tall letters and its tails counted."""
_GOOD = 0.85
"""Confidence of a line that is surely text: such without an error have 0.9 and more."""
_COARSE = 0.6
"""The size at which a line is read again of which Tesseract makes nothing: now and then it takes coarse strokes where
it rejects fine ones."""


def with_left_out(reader: Engine, part: Grey, found: Sequence[OcrLine], letter: float) -> list[OcrLine]:
    """The lines of a block, its letters so many pixels high, with those that Tesseract left out, each read by
    itself."""
    lines = sorted(found, key=lambda line: line.box[1])
    places = [*_between(lines), *_at_the_ends(lines, lines_in(part, letter))]
    more = [line for top, bottom in places for line in _read_alone(reader, part, top, bottom)]
    return sorted([*lines, *more], key=lambda line: line.box[1]) if more else list(found)


def _between(lines: Sequence[OcrLine]) -> Iterator[tuple[int, int]]:
    """From where to where there is room for another line between two."""
    steps = [below.box[1] - above.box[1] for above, below in pairwise(lines)]
    for above, below, step in zip(lines, lines[1:], steps, strict=False):
        top, bottom = int(above.box[3]), int(below.box[1])
        if step > _SKIPPED * median(steps) and bottom > top:
            yield top, bottom


def _at_the_ends(lines: Sequence[OcrLine], seen: Sequence[Line]) -> Iterator[tuple[int, int]]:
    """The same of the lines `seen` by their ink that stand over the first line and under the last. None where what was
    read is no sure text: beside it there may be grain."""
    if not lines or min(line.confidence for line in lines) < _GOOD:
        return
    first, last = lines[0].box[1], max(line.box[3] for line in lines)
    for line in seen:
        if line.base <= first or line.middle >= last:
            top, bottom = line.base - _OVER * line.small, line.base + _UNDER * line.small
            if line.base <= first:
                yield max(0, int(top)), int(min(bottom, first))
            else:
                yield int(max(top, last)), int(bottom)


def _read_alone(reader: Engine, part: Grey, top: int, bottom: int) -> list[OcrLine]:
    """What stands between two heights of a block, cut to its ink: a short line before much white is left out anew. Into
    the upper quarter hang tails of the line above."""
    tails = (bottom - top) // 4
    ink = np.flatnonzero((part[top + tails : bottom - tails] < _BLACK).any(axis=0))
    if not ink.size:
        return []
    left, right = max(0, int(ink[0]) - tails), int(ink[-1]) + tails
    strip = part[top:bottom, left:right]
    for size in (1.0, _COARSE):
        look = cv2.resize(strip, None, fx=size, fy=size, interpolation=cv2.INTER_AREA)
        found = reader.read(np.ascontiguousarray(look, dtype=np.uint8), single_line=True)
        if found:
            return [replace(line, box=_there(line.box, size, left, top), height=line.height / size) for line in found]
    return []


def _there(box: Box, size: float, left: int, top: int) -> Box:
    """A box of a look of some size, in the picture from which it was cut."""
    x0, y0, x1, y1 = box
    return x0 / size + left, y0 / size + top, x1 / size + left, y1 / size + top
