"""Words of one line of justified text that stand far apart."""

from __future__ import annotations

from collections.abc import Sequence

from ingest.page import VectorGlyph
from recognise.text.glyph_lines import glyph_lines


def _at(word: str, x: float, y: float) -> list[VectorGlyph]:
    """A word of letters that stand 5 apart."""
    return [
        VectorGlyph(letter, (x + 5 * at, y, x + 5 * at + 4, y + 7), 10, "Face", (0, 0, 0), True, True)
        for at, letter in enumerate(word)
    ]


def _words_under_a_line(ends: float, words: Sequence[str] = ("neighbours", "cannot", "touch")) -> list[str]:
    """The lines of a text of one long line, 199 wide, and three words beneath it, the last of which ends at `ends`."""
    white = (ends - 50 - 5 * sum(map(len, words)) + 1) / 2
    glyphs, x = _at("justified" * 4 + "ends", 50, 100), 50.0
    for word in words:
        glyphs += _at(word, x, 112)
        x += 5 * len(word) + white
    return [line.text for line in glyph_lines(glyphs)][1:]


def test_words_of_justified_text_that_stand_far_apart_are_one_line() -> None:
    assert _words_under_a_line(249) == ["neighbours cannot touch"]
    assert _words_under_a_line(235) == ["neighbours", "cannot", "touch"]
    assert _words_under_a_line(249, ["Mon", "12.43", "12.31"]) == ["Mon", "12.43", "12.31"]
