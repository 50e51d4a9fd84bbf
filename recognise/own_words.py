"""Title, setter and rules close above or below their grid: a number in them is no clue, and they are no mark.

On a photo a line of text falls, and its end comes to stand where clues do. Where the rules speak of no number beside
the grid, what OCR has read as a line of words is that and nothing else. Lines to the sides of a grid are not trusted
so: OCR may join them with the clue of a row."""

from __future__ import annotations

import re
from dataclasses import replace

from recognise.draft import Polygon, box_polygon
from recognise.evidence import Evidence, Glyph, TextLine, Words
from recognise.geometry import holds, middle
from recognise.marks.spoken import Spoken

SURE = 0.6
"""How sure OCR is of a line at least, for its ink to be that."""
_NUMBER = re.compile(r"(?<=\w\W)\d+|(?<=\w\W\W)\d+")
"""A number behind a word."""


def without_own_numbers(evidence: Evidence, words: Words, spoken: Spoken) -> Evidence:
    """The evidence without the numbers beside the grid that stand in a line of its words, and are printed there."""
    lines = _lines(evidence.rows, words, spoken)
    kept = tuple(glyph for glyph in evidence.glyphs if not any(_is_in(glyph, line) for line in lines))
    return evidence if len(kept) == len(evidence.glyphs) else replace(evidence, glyphs=kept)


def own_words(evidence: Evidence, words: Words, spoken: Spoken) -> list[Polygon]:
    """What the lines of a grid's words take up beside it, in cells."""
    lines = _lines(evidence.rows, words, spoken)
    return [box_polygon(line.box) for line in lines if line.confidence >= SURE]


def _lines(rows: int, words: Words, spoken: Spoken) -> list[TextLine]:
    """The lines wholly above or below the grid, where no number beside it may be a clue."""
    if spoken.bare or spoken.arrowed or not words.rules_text:
        return []
    return [line for line in words.in_cells if line.box[3] <= 0 or line.box[1] >= rows]


def _is_in(glyph: Glyph, line: TextLine) -> bool:
    """Whether a number stands in a line that has it; of one there, blurred, some figures may not have been read."""
    numbers = _NUMBER.findall(line.text)
    return holds(line.box, middle(glyph.box)) and any(glyph.text in number for number in numbers)
