"""Numbers on edges where the network hardly sees any, for a line runs through them."""

import cv2
import pytest

from fixtures.training.lattice_labels import Labels
from recognise.evidence import Evidence
from recognise.glyphs import GlyphReader
from recognise.marks import characters
from recognise.marks.heads import HEADS
from recognise.marks.network import Chances
from recognise.marks.spoken import SILENT, Spoken
from tests.recognise.chances_maker import Sheet, changed, looked_at, sure

EDGES = next(head for head in HEADS if head.name == "edge").classes
NONE, CHARACTERS = EDGES.index("NONE"), EDGES.index("CHARACTERS")
PINK, INK = (205, 150, 180), (60, 40, 120)
NUMBERS = Spoken(edges=frozenset({"text"}))
SURELY = ((1, 1), (4, 2), (3, 4))
"""Rows and columns of the cells on whose lower side numbers surely stand; on that of r2c3 one does perhaps."""


def _write(sheet: Sheet, row: int, column: int, text: str, size: float = 0.6, *, cut: bool = True) -> None:
    """A number on the lower side of a cell, whose line is cut off about it."""
    x, y = sheet._at((column - 0.5, row))
    ground = sheet.image[y - 6, x].tolist()
    if cut:
        sheet.line((column - 0.62, row), (column - 0.38, row), ground, 0.05)
    (wide, tall), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_SIMPLEX, size, 2)
    cv2.putText(sheet.image, text, (x - wide // 2, y + tall // 2), cv2.FONT_HERSHEY_SIMPLEX, size, INK, 2, cv2.LINE_AA)


def _seen(text: str, glyphs: GlyphReader, spoken: Spoken = NUMBERS, size: float = 0.6, *, cut: bool = True) -> Evidence:
    sheet, told = Sheet(), sure(Labels.empty(6, 6))
    sheet.line((2.5, 0.5), (2.5, 3.5), PINK, 0.12)
    for row, column in SURELY:
        _write(sheet, row, column, "9")
        told = changed(
            changed(told, "edge", (1, NONE, row, column), 0.001), "edge", (1, CHARACTERS, row, column), 0.995
        )
    if not cut:
        sheet.line((2, 2), (3, 2), (0, 0, 0), 0.03)
    if text:
        _write(sheet, 2, 3, text, size, cut=cut)
    return looked_at(sheet, _told(told, 2, 3, 0.1), glyphs, spoken)


def _told(chances: Chances, row: int, column: int, chance: float) -> Chances:
    none = changed(chances, "edge", (1, NONE, row, column), 0.999 - chance)
    return changed(none, "edge", (1, CHARACTERS, row, column), chance)


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def test_a_number_on_a_line_counts_where_the_rules_speak_of_numbers(glyphs: GlyphReader) -> None:
    found = _seen("8", glyphs)
    assert sorted(glyph.text for glyph in found.glyphs) == ["8", "9", "9", "9"]
    assert "perhaps something stands between r2c3 and r3c3" in found.notes


@pytest.mark.parametrize(("text", "size"), [("", 0.6), ("1", 0.6), ("8", 0.8)], ids=["none", "a stroke", "taller"])
def test_what_is_no_such_number_does_not_count(text: str, size: float, glyphs: GlyphReader) -> None:
    assert [glyph.text for glyph in _seen(text, glyphs, size=size).glyphs] == ["9", "9", "9"]


def test_nothing_is_read_there_where_no_rule_speaks_of_numbers(
    glyphs: GlyphReader, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The network of short texts, which looks at all edges where some have numbers, is kept from reading it."""
    monkeypatch.setattr(characters, "overlooked", lambda *_: {})
    assert len(_seen("8", glyphs, SILENT).glyphs) == 3
    assert len(_seen("8", glyphs).glyphs) == 4


@pytest.mark.parametrize("cut", [True, False])
def test_a_figure_like_a_stroke_counts_where_the_lattice_line_is_cut_off_about_it(
    cut: bool, glyphs: GlyphReader
) -> None:
    found = _seen("7", glyphs, cut=cut)
    assert sorted(glyph.text for glyph in found.glyphs) == ([*"7999"] if cut else [*"999"])
    assert "perhaps something stands between r2c3 and r3c3" in found.notes
