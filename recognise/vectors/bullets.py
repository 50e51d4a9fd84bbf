"""Bullets: small marks beside a grid behind each of which a line of running text begins."""

from __future__ import annotations

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


class Lists:
    """The lines of running text of a page, to tell their bullets by."""

    def __init__(self, page: Page, placement: Placement) -> None:
        glyphs = page.vectors.glyphs if page.vectors else ()
        seen = [glyph for glyph in glyphs if glyph.visible and not glyph.text.isspace()]
        self._size = (placement.rows, placement.columns)
        self._text = [(placement.box(g.box), g.size / placement.cell, g.text) for g in seen]

    def is_bullet(self, box: Box) -> bool:
        """Whether a mark, in cells, stands wholly beside the grid and right before a line of text."""
        rows, columns = self._size
        if not (box[2] <= 0 or box[3] <= 0 or box[0] >= columns or box[1] >= rows):
            return False
        line = sorted(each for each in self._text if _is_behind(box, *each[:2]))
        return _begins_word(box, line)


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
