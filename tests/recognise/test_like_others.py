"""Numbers on lattice lines that nobody could read are told by those of their page that were."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Glyph, Guess
from recognise.marks.like_others import LIKELY, like_others
from recognise.marks.text_ink import Wall
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


def test_letters_are_told_as_numbers_are() -> None:
    texts = {(1.0, 0.5): ("X", THIN), (2.0, 0.5): ("V", THIN), (1.0, 1.5): ("X", THICK), (2.0, 1.5): ("35", THICK)}
    sure = [_read((1.0, 0.5), "X", 1.0), _read((2.0, 0.5), "V", 1.0)]
    found = like_others([on_edge(place) for place in texts], sure, _ink(texts), RASTER)
    assert [(glyph.text, round(glyph.centre[1], 1)) for glyph in found] == [("X", 0.5), ("V", 0.5), ("X", 1.5)]


@pytest.mark.parametrize("walls", [[], [((side, 1.0), (side, 2.0)) for side in (0.88, 1.12)]])
def test_the_wall_of_a_cage_that_runs_through_a_number_is_not_compared(walls: list[Wall]) -> None:
    ink = _ink({place: (text, THIN) for place, (text, _) in TEXTS.items()})
    for side in (0.88, 1.12):
        ink[RASTER.slices((side - 0.03, 1.05, side + 0.03, 1.95))] = 1.0
    found = like_others([on_edge((1.0, 0.5)), on_edge((2.0, 0.5)), on_edge((1.0, 1.5))], SURE, ink, RASTER, walls)
    assert [glyph.text for glyph in found] == (["12", "35", "12"] if walls else ["12", "35"])


@pytest.mark.parametrize(("text", "found"), [("12", ["12", "35", "12"]), ("72", ["12", "35"]), ("", ["12", "35"])])
def test_what_may_be_no_text_is_one_where_it_is_a_copy_of_one(text: str, found: list[str]) -> None:
    ink = _ink(TEXTS | {(1.0, 1.5): (text, THIN)})
    places = [on_edge((1.0, 0.5)), on_edge((2.0, 0.5)), replace(on_edge((1.0, 1.5)), perhaps=True)]
    assert [glyph.text for glyph in like_others(places, SURE, ink, RASTER)] == found


def test_a_sign_is_no_copy_of_a_letter_that_looks_like_it() -> None:
    texts = {(1.0, 0.5): ("V", THIN), (2.0, 0.5): ("X", THIN), (1.0, 1.5): ("V", THIN)}
    sure = [_read((1.0, 0.5), "V", 1.0), _read((2.0, 0.5), "X", 1.0)]
    places = [on_edge(place) for place in texts]
    assert [glyph.text for glyph in like_others(places, sure, _ink(texts), RASTER)] == ["V", "X"]


def test_what_was_surely_read_as_letters_that_print_sets_nowhere_is_told_by_a_copy() -> None:
    """Two figures that lose their flags to a wall are read as two letters."""
    strange = _read((1.0, 1.5), "LL", 0.99)
    places = [on_edge((1.0, 0.5)), on_edge((2.0, 0.5)), on_edge((1.0, 1.5))]
    ink = _ink({place: (text, THIN) for place, (text, _) in TEXTS.items()})
    assert [glyph.text for glyph in like_others(places, [*SURE, strange], ink, RASTER)] == ["12", "35", "12"]
    ink = _ink(TEXTS | {(1.0, 1.5): ("LL", THIN)})
    assert [glyph.text for glyph in like_others(places, [*SURE, strange], ink, RASTER)] == ["12", "35", "LL"]
