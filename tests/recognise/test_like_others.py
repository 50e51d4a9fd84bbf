"""Numbers on lattice lines that nobody could read are told by those of their page that were."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from recognise.evidence import Glyph, Guess
from recognise.marks.like_others import LIKELY, like_others
from recognise.marks.text_places import on_edge
from recognise.pixels.frame import Grey, Raster

RASTER = Raster(3, 3, 64, 64)
THIN, THICK = 2, 7


def _ink(texts: dict[tuple[float, float], tuple[str, int]]) -> Grey:
    """Numbers on upright lattice lines, each with the width of its line in pixels."""
    ink = np.zeros((5 * 64, 5 * 64), np.uint8)
    for (x, y), (text, width) in texts.items():
        px, py = round(RASTER.at(x)), round(RASTER.at(y))
        cv2.line(ink, (px, py - 32), (px, py + 32), (255,), width)
        size, _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_SIMPLEX, 0.5, 1)
        cv2.putText(ink, text, (px - size[0] // 2, py + size[1] // 2), cv2.FONT_HERSHEY_SIMPLEX, 0.5, (255,), 1)
    return np.asarray(cv2.GaussianBlur(ink, (3, 3), 0), np.float32) / np.float32(255)


def _read(place: tuple[float, float], text: str, sure: float) -> Glyph:
    x, y = place
    return Glyph((x - 0.16, y - 0.1, x + 0.16, y + 0.1), (Guess(text, sure),), 0.2, (0, 0, 0), "ocr")


TEXTS = {(1.0, 0.5): ("12", THIN), (2.0, 0.5): ("35", THIN), (1.0, 1.5): ("12", THICK), (2.0, 1.5): ("35", THICK)}
SURE = [_read((1.0, 0.5), "12", 1.0), _read((2.0, 0.5), "35", 1.0)]


def test_a_number_on_a_thick_line_by_the_same_on_a_thin_one() -> None:
    found = like_others([on_edge(place) for place in TEXTS], SURE, _ink(TEXTS), RASTER)
    assert {(round(g.centre[0]), g.centre[1]): g.text for g in found} == {
        (1, 0.5): "12",
        (2, 0.5): "35",
        (1, 1.5): "12",
        (2, 1.5): "35",
    }
    assert [glyph.confidence for glyph in found] == [1.0, 1.0, LIKELY, LIKELY]


def test_what_was_misread_unsurely_is_replaced_and_what_is_sure_stays() -> None:
    unsure, sure = _read((1.0, 1.5), "0", 0.5), _read((2.0, 1.5), "36", 0.99)
    found = like_others([on_edge(place) for place in TEXTS], [*SURE, unsure, sure], _ink(TEXTS), RASTER)
    assert sorted(glyph.text for glyph in found) == ["12", "12", "35", "36"]


def test_what_looks_like_none_of_the_page_stays_unread() -> None:
    other = TEXTS | {(1.0, 1.5): ("74", THICK)}
    found = like_others([on_edge(place) for place in other], SURE, _ink(other), RASTER)
    assert sorted(glyph.text for glyph in found) == ["12", "35", "35"]


def test_figures_of_a_number_that_stand_apart_have_lost_none() -> None:
    """Each is a part of another number of the page, and to one side of its place: together they are that number."""
    figures = [_read((0.93, 1.5), "1", 0.999), _read((1.07, 1.5), "2", 0.999), _read((2.0, 1.5), "35", 0.999)]
    found = like_others([on_edge(place) for place in TEXTS], [*SURE, *figures], _ink(TEXTS), RASTER)
    assert sorted(glyph.text for glyph in found) == ["1", "12", "2", "35", "35"]


@pytest.mark.parametrize(("off", "texts"), [(0.05, ["12", "12", "35", "35"]), (0.0, ["12", "2", "35", "35"])])
def test_a_number_to_one_side_of_its_place_may_have_lost_a_figure(off: float, texts: list[str]) -> None:
    """A wall of a cage took it: what is left is sure, and a part of another number of the page."""
    sure = [_read((1.0 + off, 1.5), "2", 0.999), _read((2.0, 1.5), "35", 0.999)]
    found = like_others([on_edge(place) for place in TEXTS], [*SURE, *sure], _ink(TEXTS), RASTER)
    assert sorted(glyph.text for glyph in found) == texts
