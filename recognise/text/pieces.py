"""Pieces of one printed line put together: OCR parts a line at a wide blank, and a setter's name from its label."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from recognise.evidence import TextLine
from recognise.text.setter import names_nobody

_BLANK = 0.8
"""White between two pieces of a line, in font sizes, at most; columns stand further apart."""
_NAME_BLANK = 3.0
"""The same between `Author:` and the name."""
_LEVEL = 0.5
"""Part of the lower piece's height by which two pieces of one line share their height, at least."""
_SAME_SIZE = 0.25
"""Relative difference of font sizes within one line, as OCR measures them."""


def whole_lines(lines: Sequence[TextLine]) -> list[TextLine]:
    """The lines with their pieces joined, from the left to the right; places in page frame units."""
    found = list(lines)
    at = 0
    while at < len(found):
        after = [i for i, line in enumerate(found) if i != at and _goes_on(found[at], line)]
        if not after:
            at += 1
            continue
        nearest = min(after, key=lambda i: found[i].box[0])
        found[at] = _joined(found[at], found[nearest])
        del found[nearest]
        at -= nearest < at
    return found


def _goes_on(left: TextLine, right: TextLine) -> bool:
    label = names_nobody(left.text)
    if not label and "vector" in (left.how, right.how):
        # A text layer says itself what is one line.
        return False
    size = max(left.size, right.size)
    white = right.box[0] - left.box[2]
    shared = min(left.box[3], right.box[3]) - max(left.box[1], right.box[1])
    low = min(left.box[3] - left.box[1], right.box[3] - right.box[1])
    alike = abs(left.size - right.size) <= _SAME_SIZE * size and left.bold == right.bold
    reach = _NAME_BLANK if label else _BLANK
    return (label or alike) and -0.3 * size < white < reach * size and shared > _LEVEL * low


def _joined(left: TextLine, right: TextLine) -> TextLine:
    a, b = left.box, right.box
    box = (min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3]))
    text, sure = f"{left.text} {right.text}", min(left.confidence, right.confidence)
    # A long line that slopes is measured too tall; a label may be larger than the name after it.
    size = left.size if "vector" in (left.how, right.how) else min(left.size, right.size)
    return replace(left, text=text, box=box, size=size, confidence=sure)
