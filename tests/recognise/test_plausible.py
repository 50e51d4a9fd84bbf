"""Grids that stand beside puzzles are told by what stands in them."""

from __future__ import annotations

from recognise.plausible import judge
from tests.recognise.evidence_maker import evidence, given, glyph


def test_columns_of_numbers_on_made_up_lines_are_a_table() -> None:
    """A price list of 8 rows: every second line is drawn, and the numbers stand where the others were made up."""
    listed = [glyph(x, y + 0.5, (str(10 + 7 * y), 0.99)) for x in (2, 4, 6) for y in range(8)]
    assert judge(evidence(8, 9, glyphs=tuple(listed))).taken_for == "a table"
    level = [glyph(x + 0.5, y, (str(10 + 7 * x), 0.99)) for y in (2, 4, 6) for x in range(8)]
    assert judge(evidence(9, 8, glyphs=tuple(level))).taken_for == "a table"


def test_numbers_on_edges_are_marks() -> None:
    """All edges of a puzzle may have one, or all of one line."""
    upright = [glyph(x, y + 0.5, ("5", 0.99), size=0.3) for x in range(1, 6) for y in range(6)]
    level = [glyph(x + 0.5, y, ("5", 0.99), size=0.3) for x in range(6) for y in range(1, 6)]
    assert judge(evidence(6, 6, glyphs=(*upright, *level))).is_puzzle
    one_line = [mark for mark in upright if mark.centre[0] == 3]
    assert judge(evidence(6, 6, glyphs=(*one_line, given("r1c1", "4")))).is_puzzle
