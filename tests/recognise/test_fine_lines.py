"""Lines that drown in the texture of the paper pixel by pixel."""

from __future__ import annotations

import numpy as np
import pytest

from fixtures.training.lattice_labels import Labels, Link
from recognise.glyphs import GlyphReader
from recognise.marks.spoken import SILENT, Spoken
from schema.cells import Cell
from tests.recognise.chances_maker import Sheet, linked, looked_at, sure

FINE, WIDE = 0.03, 0.1
PALE, PLAIN = (237,) * 3, (120,) * 3
LINES = Spoken(links=frozenset(("LINE",)), lines=1, whole=True)


@pytest.fixture(scope="module")
def glyphs() -> GlyphReader:
    return GlyphReader()


def _found(
    glyphs: GlyphReader, width: float = FINE, spoken: Spoken = LINES, beside: float = 0.0, pale: bool = True
) -> set[tuple[Cell, ...]]:
    """The lines on rough paper of which the network is sure: a pale one (or none), and, so wide, a plain one."""
    sheet, labels = Sheet(), Labels.empty(6, 6)
    path = linked(labels, "r1c1 r1c2 r2c3 r3c3", Link.LINE)
    if pale:
        sheet.path(path, PALE, width)
    if beside:
        sheet.path(linked(labels, "r5c1 r5c2 r5c3 r5c4", Link.LINE), PLAIN, beside)
    grain = np.random.default_rng(1).normal(0, 2.5, sheet.image.shape[:2])
    sheet.image[:] = np.clip(np.minimum(sheet.image, 250) + grain[..., None], 0, 255).astype(np.uint8)
    return {trace.nodes for trace in looked_at(sheet, sure(labels), glyphs, spoken).traces}


OWN = tuple(map(Cell.parse, ("r1c1", "r1c2", "r2c3", "r3c3")))


def test_a_fine_pale_line_that_its_rules_speak_of_is_seen_on_rough_paper(glyphs: GlyphReader) -> None:
    assert _found(glyphs) == {OWN}


@pytest.mark.parametrize(
    "otherwise",
    [
        {"pale": False},
        {"spoken": SILENT},
        {"beside": FINE},  # as wide as a plain one: that shows through from the other side
        {"beside": WIDE},  # the rules know one kind of lines, which is plainly drawn
    ],
)
def test_it_is_none_otherwise(glyphs: GlyphReader, otherwise: dict) -> None:
    assert OWN not in _found(glyphs, **otherwise)


def test_it_may_be_of_another_kind_than_plain_ones(glyphs: GlyphReader) -> None:
    two = Spoken(links=frozenset(("LINE",)), lines=2, whole=True)
    assert OWN in _found(glyphs, spoken=two, beside=WIDE)
