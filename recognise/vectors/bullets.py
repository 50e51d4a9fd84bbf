"""Marks of running text beside a grid, none of the puzzle: bullets, behind each of which a line of text begins, and
what stands in a line of words above or below the grid (boxes to tick, faces, stars that say how hard it is)."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ingest.page import Box, Page
from recognise.vectors.place import Placement

LARGEST = 0.8
"""As a part of the font size: a bullet is no wider or higher."""
INDENT = 2.5
"""As a part of the font size: how far behind its bullet a line of text begins at most."""
LETTERS = 3
"""So many letters close together are a word: the text of a list, no clue."""
SPACE = 0.8
"""As a part of the font size: the widest gap between two characters of a line, blanks included."""
HIGHEST = 2.5
"""As a part of the font size: a mark in a line of words is no higher."""


class Lists:
    """The lines of running text of a page, to tell their marks by."""

    def __init__(self, page: Page, placement: Placement) -> None:
        glyphs = page.vectors.glyphs if page.vectors else ()
        seen = [glyph for glyph in glyphs if glyph.visible and not glyph.text.isspace()]
        self._size = (placement.rows, placement.columns)
        boxes = placement.boxes([g.box for g in seen])
        self._text = [(box, g.size / placement.cell, g.text) for box, g in zip(boxes, seen, strict=True)]

    def is_bullet(self, box: Box) -> bool:
        """Whether a mark, in cells, stands wholly beside the grid and right before a line of text."""
        rows, columns = self._size
        if not (box[2] <= 0 or box[3] <= 0 or box[0] >= columns or box[1] >= rows):
            return False
        line = sorted(each for each in self._text if _is_behind(box, *each[:2]))
        return _begins_word(box, line)

    def in_words(self, boxes: Sequence[Box]) -> set[int]:
        """Which of these marks, in cells, stand above or below the grid in a line of words, and by no number: what a
        clue would stand by."""
        outside = [n for n, box in enumerate(boxes) if box[3] <= 0 or box[1] >= self._size[0]]
        return {n for n in outside if self._is_among_words(boxes[n], [boxes[other] for other in outside])}

    def _is_among_words(self, mark: Box, others: Sequence[Box]) -> bool:
        level = [each for each in self._text if _is_level(mark, *each[:2])]
        if not level:
            return False
        size = max(each[1] for each in level)
        marks = [(box, size, "") for box in others if _is_level(mark, box, size)]
        line = next(line for line in _lines(sorted([*level, *marks]), INDENT * size) if any(e[0] == mark for e in line))
        by_number = any(
            text.isdigit() and box[0] - mark[2] <= SPACE * size and mark[0] - box[2] <= SPACE * size
            for box, _, text in line
        )
        words = [each for each in line if each[2]]
        return not by_number and mark[3] - mark[1] <= HIGHEST * size and _holds_word(words)


def _is_level(mark: Box, box: Box, size: float) -> bool:
    """Whether the middle of one box lies within the height of the other, or of a character of this size."""
    return abs((mark[1] + mark[3]) / 2 - (box[1] + box[3]) / 2) <= max(size, mark[3] - mark[1]) / 2


def _lines(level: Sequence[tuple[Box, float, str]], gap: float) -> list[list[tuple[Box, float, str]]]:
    """What stands on one level from left to right, parted where a gap is wider than this."""
    lines: list[list[tuple[Box, float, str]]] = []
    reach = -math.inf
    for each in level:
        if each[0][0] - reach > gap:
            lines.append([])
        lines[-1].append(each)
        reach = max(reach, each[0][2])
    return lines


def _holds_word(line: Sequence[tuple[Box, float, str]]) -> bool:
    letters, end = 0, -math.inf
    for box, size, text in line:
        letters = (letters if box[0] - end <= SPACE * size else 0) + 1 if text.isalpha() else 0
        if letters >= LETTERS:
            return True
        end = box[2]
    return False


def _is_behind(box: Box, glyph: Box, size: float) -> bool:
    """Whether a character stands to the right of a mark whose middle lies within its height."""
    middle = (box[1] + box[3]) / 2
    level = abs(middle - (glyph[1] + glyph[3]) / 2) <= size / 2
    return level and glyph[0] >= (box[0] + box[2]) / 2 and max(box[2] - box[0], box[3] - box[1]) <= LARGEST * size


def _begins_word(box: Box, line: Sequence[tuple[Box, float, str]]) -> bool:
    """Whether characters from left to right begin near a mark and hold a word before any wide gap."""
    end, reach, letters = box[2], INDENT, 0
    for glyph, size, text in line:
        if glyph[0] - end > reach * size:
            return False
        letters = letters + 1 if text.isalpha() else 0
        if letters >= LETTERS:
            return True
        end, reach = max(end, glyph[2]), SPACE
    return False
