"""Title, setter and rules close above or below their grid: a number in them is no clue, and they are no mark.

On a photo a line of text falls, and its end comes to stand where clues do. Where the rules speak of no number beside
the grid, what OCR has read as a line of words is that and nothing else. Lines to the sides of a grid are not trusted
so: OCR may join them with the clue of a row."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from ingest.page import Box
from recognise.evidence import Evidence, Glyph, TextLine, Words
from recognise.geometry import holds, middle, shared
from recognise.marks.spoken import Spoken

SURE, MOSTLY = 0.6, 0.7
"""How sure OCR is of a line at least, for its ink to be that, and the part of a piece of ink that lies in the line."""
_NUMBER = re.compile(r"(?<=[^\W\d_]\W)\d+|(?<=[^\W\d_]\W\W)\d+")
"""A number behind a word; one behind a number may be the next of a row of clues."""


def without_own_numbers(evidence: Evidence, words: Words, spoken: Spoken) -> Evidence:
    """The evidence without the numbers beside the grid that stand in a line of its words, and are printed there."""
    lines = _lines(evidence.rows, words, spoken)
    kept = tuple(glyph for glyph in evidence.glyphs if not any(_is_in(glyph, line) for line in lines))
    return evidence if len(kept) == len(evidence.glyphs) else replace(evidence, glyphs=kept)


def not_of_words(found: Iterable[Box], evidence: Evidence, words: Words, spoken: Spoken) -> list[Box]:
    """Boxes of ink, in cells, without those that lie in a line of the grid's words that OCR is sure of."""
    lines = [line.box for line in _lines(evidence.rows, words, spoken) if line.confidence >= SURE]
    return [box for box in found if not any(shared(box, line) >= MOSTLY * shared(box, box) for line in lines)]


def _lines(rows: int, words: Words, spoken: Spoken) -> list[TextLine]:
    """The lines wholly above or below the grid, where no number beside it may be a clue."""
    if spoken.bare or spoken.arrowed or not words.rules_text:
        return []
    return [line for line in words.in_cells if line.box[3] <= 0 or line.box[1] >= rows]


def _is_in(glyph: Glyph, line: TextLine) -> bool:
    """Whether a number stands in a line that has it; of one there, blurred, some figures may not have been read."""
    numbers = _NUMBER.findall(line.text)
    return holds(line.box, middle(glyph.box)) and any(glyph.text in number for number in numbers)
