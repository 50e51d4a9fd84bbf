"""Signs and dots of the other side of the paper that show through between cells are no marks."""

from __future__ import annotations

import pytest

from fixtures.training.lattice_labels import Edge, Labels
from recognise.glyphs import GlyphReader
from tests.recognise.chances_maker import Sheet, changed, looked_at, sure

BLACK, PALEST_PRINT, GHOST = 0, 200, 243


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def _signs(last: int, patch: float = 0.0) -> tuple[Sheet, Labels]:
    """Five signs between cells, the last in another grey, on a patch of paper that reaches so far to both sides."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for row in range(1, 6):
        x, y, grey = 3.0, row - 0.5, last if row == 5 else BLACK
        if row == 5 and patch:
            sheet.line((x, y - patch), (x, y + patch), (255, 255, 255), 0.16)
        for way in (-0.15, 0.15):
            sheet.line((x - 0.12, y), (x + 0.12, y + way), (grey,) * 3, 0.05)
        labels.edge[0, row, 3] = Edge.SIGN_LEFT
    if not patch:
        sheet.line((3, 0), (3, 6), (BLACK,) * 3, 0.03)  # what shows through lies under the line
    return sheet, labels


@pytest.mark.parametrize(("grey", "marks"), [(BLACK, 5), (PALEST_PRINT, 5), (GHOST, 4)])
def test_a_sign_that_is_hardly_printed_is_told_and_none(glyphs: GlyphReader, grey: int, marks: int) -> None:
    sheet, labels = _signs(grey)
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert sum(shape.name == "sign" for shape in evidence.shapes) == marks
    assert any("r5c3 and r5c4 is hardly printed" in note for note in evidence.notes) == (marks == 4)


def test_a_pale_sign_on_a_patch_of_paper_is_printed_on_this_side(glyphs: GlyphReader) -> None:
    """The patch cuts the lattice line off, which what shows through does not."""
    sheet, labels = _signs(GHOST, patch=0.2)
    evidence = looked_at(sheet, sure(labels), glyphs)
    assert sum(shape.name == "sign" for shape in evidence.shapes) == 5
    assert not any("hardly printed" in note for note in evidence.notes)


def test_where_all_are_as_pale_they_are_what_is_printed(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    for row in range(1, 6):
        sheet.circle((3.0, row - 0.5), 0.12, (240, 240, 240), 0)
        labels.edge[0, row, 3] = Edge.DARK_DOT
    assert len(looked_at(sheet, sure(labels), glyphs).discs) == 5


def test_a_thick_rim_makes_no_light_dot_dark(glyphs: GlyphReader) -> None:
    sheet, labels = Sheet(), Labels.empty(6, 6)
    sheet.circle((2.0, 1.5), 0.1, (0, 0, 0), 0.03)
    labels.edge[0, 2, 2] = Edge.WHITE_DOT
    told = changed(sure(labels), "edge", (0, Edge.WHITE_DOT, 2, 2), 0.6)
    (disc,) = looked_at(sheet, told, glyphs).discs
    assert disc.fill == (255, 255, 255)
