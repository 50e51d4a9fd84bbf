"""What hardly looks like a mark of no kind: a given that was read, and what rules that are understood do not name."""

import cv2
import pytest

from fixtures.training.lattice_labels import Labels
from recognise.glyphs import GlyphReader
from recognise.marks.heads import HEADS
from recognise.marks.spoken import SILENT, Spoken
from tests.recognise.chances_maker import Sheet, changed, looked_at, sure

UNKNOWN = next(head for head in HEADS if head.name == "node").classes.index("UNKNOWN")


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def _marks(sheet: Sheet, glyphs: GlyphReader, chance: float, spoken: Spoken = SILENT) -> list[str]:
    told = changed(sure(Labels.empty(6, 6)), "node", (0, UNKNOWN, 3, 3), chance)
    return [shape.name for shape in looked_at(sheet, told, glyphs, spoken).shapes]


def _strange() -> Sheet:
    """A filled half ring in r3c3, which is no character."""
    sheet = Sheet()
    cv2.ellipse(sheet.image, (352, 352), (18, 18), 0, 180, 360, (0, 0, 0), 14)
    return sheet


def test_a_given_that_hardly_looks_like_a_mark_is_none(glyphs: GlyphReader) -> None:
    sheet = Sheet()
    cv2.putText(sheet.image, "5", (340, 364), cv2.FONT_HERSHEY_SIMPLEX, 1.0, (0, 0, 0), 3, cv2.LINE_AA)
    assert _marks(sheet, glyphs, 0.6) == []
    assert _marks(sheet, glyphs, 0.97) == []
    assert _marks(sheet, glyphs, 0.995) == ["mark"]


def test_what_stands_beside_a_given_may_be_a_mark(glyphs: GlyphReader) -> None:
    sheet = _strange()
    cv2.putText(sheet.image, "5", (340, 378), cv2.FONT_HERSHEY_SIMPLEX, 0.7, (0, 0, 0), 3, cv2.LINE_AA)
    assert _marks(sheet, glyphs, 0.97) == ["mark"]


def test_what_hardly_looks_like_a_mark_is_none_where_rules_speak_of_none(glyphs: GlyphReader) -> None:
    understood = Spoken(edges=frozenset({"bar"}), whole=True)
    assert _marks(_strange(), glyphs, 0.6) == ["mark"]
    assert _marks(_strange(), glyphs, 0.6, understood) == []
    assert _marks(_strange(), glyphs, 0.6, Spoken(edges=frozenset({"bar"}))) == ["mark"]
    assert _marks(_strange(), glyphs, 0.97, understood) == ["mark"]
