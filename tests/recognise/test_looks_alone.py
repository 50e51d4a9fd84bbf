"""Numbers of a text layer that the picture is too small to show: each character is looked at by itself."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from recognise.evidence import Glyph, Guess
from recognise.glyphs import GlyphReader
from recognise.merge import Picture, merge
from recognise.vectors import read_vectors
from tests.recognise.drawn_pages import Sheet
from tests.recognise.evidence_maker import evidence
from tests.recognise.test_merge import BLANK


@pytest.fixture(scope="module")
def reader() -> GlyphReader:
    return GlyphReader()


def _number(folder: Path, text: str) -> Glyph:
    """A small number in the corner of a cell, as a text layer gives it."""
    sheet = Sheet(folder / "page.pdf")
    sheet.grid()
    sheet.text(0.2, 0.15, text, 0.2)
    page = sheet.page()
    found = read_vectors(page, sheet.lattice(page))
    assert found is not None
    (glyph,) = found.glyphs
    return glyph


def _doubts(glyph: Glyph, reader: GlyphReader) -> list[str]:
    """What is asked where the picture has lost the number's first figure."""
    lost = replace(glyph, guesses=(Guess(glyph.text[1:], 0.999),), how="ocr")
    picture = Picture(BLANK.drawn, BLANK.floor, BLANK.flat, reader)
    merged, doubts = merge(evidence(glyphs=(lost,)), evidence(glyphs=(glyph,)), picture)
    assert [each.text for each in merged.glyphs] == [glyph.text]
    return [doubt.why for doubt in doubts]


@pytest.mark.parametrize("text", ["18", "24×", "3–"])
def test_a_number_whose_characters_look_as_they_are_named_is_not_asked_about(
    tmp_path: Path, reader: GlyphReader, text: str
) -> None:
    assert _doubts(_number(tmp_path, text), reader) == []


def test_a_number_whose_characters_look_otherwise_is(tmp_path: Path, reader: GlyphReader) -> None:
    glyph = _number(tmp_path, "18")
    (doubt,) = _doubts(replace(glyph, guesses=(Guess("16", 0.99),)), reader)
    assert "too small" in doubt
