"""Black figures on lattice lines: on coloured ones they are read in the channel in which these are light, on pale ones
by how dark they are."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.glyphs import GlyphReader
from recognise.marks.text_ink import Print
from recognise.marks.text_places import on_edge
from recognise.marks.texts import read_texts
from recognise.pixels.blobs import Pieces, Tones
from recognise.pixels.frame import Raster

CELL = 64
RASTER = Raster(2, 2, CELL, CELL)
RED, PALE, BLACK = (150, 60, 45), (165, 165, 165), (30, 30, 30)
PLACE = on_edge((1.0, 0.5))


def _page(line: tuple[int, int, int]) -> Print:
    """A figure on a thick upright line, on paper."""
    picture = np.full((4 * CELL, 4 * CELL, 3), 255, np.uint8)
    x, y = round(RASTER.at(1.0)), round(RASTER.at(0.5))
    cv2.line(picture, (x, CELL), (x, 3 * CELL), line, 9)
    cv2.putText(picture, "9", (x - 7, y + 8), cv2.FONT_HERSHEY_SIMPLEX, 0.75, BLACK, 2, cv2.LINE_AA)
    relative = picture.astype(np.float32) / np.float32(255)
    ink = 1 - relative.min(axis=-1)
    nothing = Pieces(np.zeros(ink.shape, np.int32), (), Tones(1.0, 0.0))
    return Print(ink, np.zeros_like(ink), relative, nothing, RASTER, 0.05)


@pytest.mark.parametrize(("line", "texts"), [(RED, ["9"]), (PALE, ["9"]), (BLACK, [])], ids=["red", "pale", "black"])
def test_a_figure_on_a_line(line: tuple[int, int, int], texts: list[str]) -> None:
    glyphs, notes = read_texts([PLACE], _page(line), GlyphReader())
    assert [glyph.text for glyph in glyphs] == texts
    assert bool(notes) == (not texts)
