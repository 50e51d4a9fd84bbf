"""Title, setter and rules of a page's grids, from the text layer where it can be believed, otherwise by OCR."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import cv2
import numpy as np

from ingest.page import Box, Page
from recognise.evidence import TextLine, Words
from recognise.geometry import bounds
from recognise.text.assign import assign_words
from recognise.text.glyph_lines import glyph_lines
from recognise.text.level import Points, levelled, way_back

_LEAST_LETTERS = 12
"""Letters in the visible text layer below which the page's words are outlines or a picture, for OCR to read."""


def page_words(page: Page, lattices: Sequence[Points]) -> list[Words]:
    """Title, setter and rules text of each grid; lattice points are in pixels of the page's image, the boxes of the
    lines in its frame."""
    if page.vectors is not None and has_words(page):
        outlines = [bounds(page.to_frame(points.reshape(-1, 2))) for points in lattices]
        return assign_words(page_lines(page, outlines), outlines, page.frame)
    from recognise.text.ocr import hides_text, read_near  # noqa: PLC0415

    seen, outlines = levelled(page, lattices)
    near = read_near(seen, outlines)
    back, hidden = way_back(lattices, outlines), hides_text(near.unread)
    found = assign_words(near.lines, outlines, seen.frame)
    in_cells = [_in_cells(*each) for each in zip(found, outlines, lattices, strict=True)]
    return [
        replace(_as_displayed(words, page, back), in_cells=own, unread=hidden, light_unread=bool(near.light))
        for words, own in zip(found, in_cells, strict=True)
    ]


def _in_cells(words: Words, outline: Box, lattice: Points) -> tuple[TextLine, ...]:
    """The lines of words in cells of their grid, whose outline in the levelled picture is told."""
    x, y, right, bottom = outline
    wide, tall = (right - x) / (lattice.shape[1] - 1), (bottom - y) / (lattice.shape[0] - 1)
    boxes = [
        ((a - x) / wide, (b - y) / tall, (c - x) / wide, (d - y) / tall) for a, b, c, d in (o.box for o in words.lines)
    ]
    return tuple(replace(line, box=box) for line, box in zip(words.lines, boxes, strict=True))


def _as_displayed(words: Words, page: Page, back: Points) -> Words:
    """Words with the boxes of their lines where the page is displayed, from the levelled picture."""
    lines = []
    for line in words.lines:
        x0, y0, x1, y1 = line.box
        corners = cv2.perspectiveTransform(np.array([[[x0, y0], [x1, y0], [x1, y1], [x0, y1]]]), back)[0]
        lines.append(replace(line, box=bounds(page.to_frame(corners))))
    return replace(words, lines=tuple(lines))


def page_lines(page: Page, grids: Sequence[Box] = ()) -> list[TextLine]:
    """All lines of a PDF's text layer, or the lines that OCR reads near the grids (boxes in frame units)."""
    if page.vectors is not None and has_words(page):
        return glyph_lines(page.vectors.glyphs)
    from recognise.text.ocr import ocr_lines  # noqa: PLC0415

    return ocr_lines(page, grids)


def has_words(page: Page) -> bool:
    """Whether the text layer has words outside pictures; characters that it cannot name (empty text) speak against."""
    assert page.vectors is not None
    seen = [g for g in page.vectors.glyphs if g.visible and g.upright]
    letters = sum(g.text.isalpha() for g in seen)
    unnamed = sum(not g.text or "\ue000" <= g.text[:1] <= "\uf8ff" for g in seen)
    return letters >= _LEAST_LETTERS and unnamed * 10 < len(seen)
