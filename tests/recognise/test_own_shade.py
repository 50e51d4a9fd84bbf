"""Grey numbers on darker lattice lines, and on coloured lines that cross these."""

from __future__ import annotations

from dataclasses import replace
from typing import cast

import cv2
import numpy as np
import pytest

from recognise.glyphs import GlyphReader
from recognise.marks.looking import Looking
from recognise.marks.own_shade import in_own_shade
from recognise.marks.standing import Standing
from recognise.marks.text_ink import Print
from recognise.marks.text_places import Place, on_edge
from recognise.marks.texts import read_texts
from recognise.pixels.blobs import Pieces, Tones
from recognise.pixels.frame import Raster

CELL = 128
RASTER = Raster(2, 2, CELL, CELL)
PLACE = on_edge((1.0, 0.5))
GREY, BLACK, GREEN = (110, 110, 110), (20, 20, 20), (120, 190, 160)


def _print(number: str, line: tuple[int, int, int], wide: int, *, over: bool = True, lean: int = 0) -> Print:
    """A grey number, its middle on an upright line of some colour and width that leans by some pixels, printed over it
    or under it."""
    picture = np.full((4 * CELL, 4 * CELL, 3), 255, np.uint8)
    middle, low = round(RASTER.at(PLACE.middle[0])), round(RASTER.at(PLACE.middle[1])) + 14

    def draw_line() -> None:
        cv2.line(picture, (middle - lean, CELL), (middle + lean, 3 * CELL), line, wide, cv2.LINE_AA)

    if over:
        draw_line()
    across, _ = cv2.getTextSize(number, cv2.FONT_HERSHEY_DUPLEX, 1.3, 2)
    cv2.putText(picture, number, (middle - across[0] // 2, low), cv2.FONT_HERSHEY_DUPLEX, 1.3, GREY, 2, cv2.LINE_AA)
    if not over:
        draw_line()
    relative = cv2.GaussianBlur(picture, (3, 3), 0).astype(np.float32) / np.float32(255)
    ink = 1 - relative.min(axis=-1)
    nothing = Pieces(np.zeros(ink.shape, np.int32), (), Tones(1.0, 0.0))
    return Print(ink, np.zeros_like(ink), relative, nothing, RASTER, 0.05)


def _read(seen: Print, place: Place = PLACE) -> list[str]:
    glyphs, _ = read_texts([place], seen, GlyphReader())
    return [glyph.text for glyph in glyphs]


@pytest.mark.parametrize("lean", [0, 3])
@pytest.mark.parametrize(("number", "wide"), [("8", 9), ("13", 13)])
def test_a_grey_number_on_a_black_line_is_told_by_its_own_shade(number: str, wide: int, lean: int) -> None:
    assert _read(_print(number, BLACK, wide, lean=lean)) == [number]


def test_what_lies_on_a_black_line_alone_has_no_shade_of_its_own() -> None:
    _, there = in_own_shade([PLACE], _print("", BLACK, 13))
    assert there == []


def test_a_black_line_over_a_number_leaves_what_stands_beside_it() -> None:
    assert _read(_print("13", BLACK, 5, over=False)) == ["13"]


def test_a_coloured_line_under_a_number_is_no_part_of_it() -> None:
    seen = _print("13", GREEN, 13)
    ink, there = in_own_shade([PLACE], seen)
    assert there == [PLACE]
    bare = ink[RASTER.slices((0.97, 0.75, 1.03, 0.8))]
    assert bare.max() < 0.2 < 0.8 < ink[RASTER.slices(PLACE.box)].max()


def test_a_figure_that_its_line_hides_to_the_sides_has_the_shade_of_the_others() -> None:
    hidden, other = _print("1", BLACK, 27), on_edge((1.0, 1.5))
    assert in_own_shade([PLACE], hidden)[1] == []
    relative = hidden.relative.copy()
    below = RASTER.slices((0.0, 1.0, 2.0, 2.0))
    relative[below] = _print("13", BLACK, 3).relative[RASTER.slices((0.0, 0.0, 2.0, 1.0))]
    both = replace(hidden, relative=relative, whole=1 - relative.min(axis=-1))
    found, there = in_own_shade([PLACE, other], both)
    assert there == [PLACE, other] and found[RASTER.slices((0.95, 0.4, 1.05, 0.6))].max() > 0.8


@pytest.mark.parametrize(("number", "shows"), [("1", True), ("", False)])
def test_a_figure_within_its_line_shows_light(number: str, shows: bool) -> None:
    seen = _print(number, BLACK, 27)
    nothing = np.zeros_like(seen.whole)
    looking = Looking(seen.whole, nothing, seen.relative, RASTER, seen.floor, cast(Standing, None))
    assert looking.shows_light(PLACE.middle, upright=True) is shows
