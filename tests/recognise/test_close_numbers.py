"""Two numbers with little arrows in one place beside the grid whose figures touch: each is read as a whole."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Glyph, Guess
from recognise.marks.close_numbers import _covered, _doubles, _only, _Parted, close_numbers
from recognise.marks.text_ink import Print
from recognise.marks.text_places import Place, beside
from recognise.marks.text_readings import Reading
from recognise.pixels.blobs import Pieces, Tones
from recognise.pixels.frame import Raster
from recognise.pixels.glyphs import Character

CELL = 64
RASTER = Raster(2, 2, CELL, 2 * CELL)
NO_PIECES = Pieces(np.zeros((1, 1), np.int32), (), Tones(1.0, 0.0))
LEFT, BELOW = beside((-0.5, 0.5), ((1, -1), (1, 1))), beside((0.5, 2.5), ((-1, -1), (1, -1)))


def printed(*texts: tuple[str, float, float]) -> Print:
    """A page with texts, each from where its lower left corner is, in cells."""
    large = np.full((6 * CELL * 4, 6 * CELL * 4), 255, np.uint8)
    for text, x, y in texts:
        at = round(RASTER.at(x) * 4), round(RASTER.at(y) * 4)
        cv2.putText(large, text, at, cv2.FONT_HERSHEY_DUPLEX, 2.6, 0, 4, cv2.LINE_AA)
    for x, y in ((0.0, 0.0), (0.0, 1.0)):
        ends = [(round(RASTER.at(a) * 4), round(RASTER.at(b) * 4)) for a, b in ((x, y), (-0.36, 0.36 + 0.28 * y))]
        if len(texts) > 1 and texts[0][1] < 0:
            cv2.line(large, ends[0], ends[1], 0, 6, cv2.LINE_AA)
    small = cv2.resize(large, (6 * CELL, 6 * CELL), interpolation=cv2.INTER_AREA)
    ink = np.asarray(1 - small / 255, np.float32)
    return Print(ink, ink, np.repeat(1 - ink[..., None], 3, axis=2), NO_PIECES, RASTER, 0.1)


def told(place: Place, seen: Print, read: tuple[Character, ...] = (), aside: float | None = None) -> list[str]:
    """What is read at a place, of which nothing but some characters was."""
    unread = Glyph((-0.7, 0.2, -0.6, 0.4), (Guess("8", 0.4),), 0.2, (0, 0, 0), "ocr")
    readings = {place: [Reading(read, NO_PIECES, (), 1.0)]}
    glyphs, owners, hard = close_numbers([unread], [place], {place: "hard"}, readings, aside, seen)
    assert owners == [place] * len(glyphs)
    assert (place in hard) == (glyphs == [unread])
    return [glyph.text for glyph in glyphs]


STACKED = printed(("36", -0.75, 0.49), ("10", -0.75, 0.74))


def test_numbers_one_above_the_other_that_touch_are_each_read() -> None:
    assert told(LEFT, STACKED) == ["36", "10"]


def test_a_box_is_covered_with_paper_only_while_the_other_is_read() -> None:
    picture, box = STACKED.relative.copy(), (-0.8, 0.2, -0.2, 0.5)
    with _covered(box, picture, STACKED):
        assert picture[RASTER.slices(box)].min() > 0.9 > STACKED.relative[RASTER.slices(box)].min()
    assert np.array_equal(picture, STACKED.relative)


def test_numbers_that_reach_out_of_their_place_are_taken_as_wholes() -> None:
    place, seen = beside((2.5, 0.5), ((-1, -1), (-1, 1))), printed(("36", 2.7, 0.49), ("10", 2.7, 0.74))
    readings = {place: [Reading((), NO_PIECES, (), 1.0)]}
    glyphs, _, _ = close_numbers([], [], {}, readings, None, seen)
    assert [glyph.text for glyph in glyphs] == ["36", "10"]
    inked = np.flatnonzero(seen.drawn.max(axis=0) > 0.5)
    assert max(glyph.box[2] for glyph in glyphs) >= RASTER.to_cells(int(inked[-1])) > place.box[2]


def test_a_number_that_lacks_a_figure_surely_read_there_is_not_told() -> None:
    box = (-0.7, 0.25, -0.6, 0.45)
    seven = Character(None, box, (Guess("7", 0.99),), ())  # type: ignore[arg-type]
    assert told(LEFT, STACKED, (seven,)) == ["8"]


@pytest.mark.parametrize(("aside", "expected"), [(0.14, ["35", "8"]), (None, ["8"])], ids=["known", "unknown"])
def test_of_three_figures_side_by_side_those_are_a_number_that_stand_where_one_is_expected(aside, expected) -> None:
    assert told(BELOW, printed(("35", 0.2, 2.7), ("8", 0.56, 2.7)), aside=aside) == expected


def test_four_figures_side_by_side_are_two_numbers() -> None:
    assert told(BELOW, printed(("24", 0.14, 2.7), ("17", 0.52, 2.7))) == ["24", "17"]


def figures(*read: tuple[str, float, float]) -> tuple[Character, ...]:
    """Surely read figures below the grid, each with where it begins and ends."""
    return tuple(
        Character(None, (x0, 2.45, x1, 2.7), (Guess(text, 0.999),), ())  # type: ignore[arg-type]
        for text, x0, x1 in read
    )


def test_a_figure_that_the_cut_goes_through_is_no_figure_of_both_numbers() -> None:
    read = figures(("2", 0.2, 0.4), ("2", 0.4, 0.6), ("9", 0.6, 0.8))
    twice = _Parted((_sure("22"), _sure("29")), ((0.2, 2.45, 0.5, 2.7), (0.5, 2.45, 0.8, 2.7)))
    once = _Parted((_sure("22"), _sure("9")), ((0.2, 2.45, 0.6, 2.7), (0.6, 2.45, 0.8, 2.7)))
    reading = Reading(read, NO_PIECES, (), 0.0)
    assert (_doubles(twice, reading), _doubles(once, reading)) == (True, False)
    assert _only([twice, once], (0.4, 0.7), reading, upright=False) is once


def _sure(text: str) -> tuple[Guess, ...]:
    return (Guess(text, 0.99),)


def test_numbers_one_above_the_other_are_cut_where_both_are_as_tall() -> None:
    """Cut lower, the upper one shows a part of what stands below it, and reads as another."""
    ways = [
        _Parted((_sure(upper), _sure("30")), ((-0.8, 0.2, -0.3, at), (-0.8, at, -0.3, 0.78)))
        for upper, at in (("10", 0.48), ("19", 0.57))
    ]
    surest = _Parted((_sure("1"), (Guess("30", 0.999),)), ways[1].boxes)
    empty = Reading((), NO_PIECES, (), 0.0)
    assert _only(ways, (), empty, upright=True) is ways[0]
    assert (
        _only([ways[0], replace(surest, numbers=((Guess("13", 0.999),), surest.numbers[1]))], (), empty, upright=True)
        is None
    )


def test_one_number_is_not_made_two() -> None:
    assert told(BELOW, printed(("7", 0.4, 2.7))) == ["8"]


def test_a_scratch_one_pixel_wide_is_no_number() -> None:
    ink = np.zeros((6 * CELL, 6 * CELL), np.float32)
    x, top, foot = (round(RASTER.at(at)) for at in (0.5, 2.45, 2.65))
    ink[top:foot, x] = 1
    seen = Print(ink, ink, np.repeat(1 - ink[..., None], 3, axis=2), NO_PIECES, RASTER, 0.1)
    assert told(BELOW, seen) == ["8"]
