"""Lines that are cut off at the squares and diamonds in which they end go on to the middle of those cells."""

from __future__ import annotations

import numpy as np
import pytest

from tests.recognise.drawn_pages import SIDE, Points, Sheet, ends

pytestmark = pytest.mark.usefixtures("grid_first")
WAY = "r2c2 r2c3 r3c4 r4c4"
BLUE = "#223366"


def square(x: float, y: float) -> Points:
    return [(x - 0.3, y - 0.3), (x + 0.3, y - 0.3), (x + 0.3, y + 0.3), (x - 0.3, y + 0.3)]


def diamond(x: float, y: float) -> Points:
    return [(x - 0.35, y), (x, y - 0.35), (x + 0.35, y), (x, y + 0.35)]


def cut(way: str, by: float) -> Points:
    """A way whose ends are cut off by so much."""
    there = [np.array(point) for point in ends(way)]
    for end, before in ((0, 1), (-1, -2)):
        step = there[before] - there[end]
        there[end] = there[end] + step / np.hypot(*step) * by
    return [(float(x), float(y)) for x, y in there]


@pytest.mark.parametrize(
    ("way", "frame", "by"),
    [(WAY, square, 0.3), ("r2c2 r3c3 r4c2", square, 0.42), ("r2c2 r3c3 r4c2", square, 0.3), (WAY, diamond, 0.35)],
)
def test_a_line_goes_on_into_the_frames_at_its_ends(sheet: Sheet, way: str, frame, by: float) -> None:
    sheet.line(cut(way, by), 0.04, BLUE)
    for x, y in (ends(way)[0], ends(way)[-1]):
        sheet.line(frame(x, y), 0.03, BLUE, closed=True)
    found = sheet.evidence()
    (trace,) = found.traces
    assert sorted(map(str, trace.nodes)) == sorted(way.split())
    assert not trace.discs
    assert len(found.shapes) == 2
    assert not found.unexplained


def test_a_line_that_keeps_away_from_a_frame_does_not_go_on_into_it(sheet: Sheet) -> None:
    sheet.line(ends("r2c2 r2c3 r2c4"), 0.04, BLUE)
    sheet.line(square(*ends("r2c5")[0]), 0.03, BLUE, closed=True)
    (trace,) = sheet.evidence().traces
    assert sorted(map(str, trace.nodes)) == ["r2c2", "r2c3", "r2c4"]


def test_a_dark_square_with_a_light_one_upon_it_is_an_open_one(sheet: Sheet) -> None:
    """As programs draw the outline of a thing that several parts make: all parts dark, and all again, smaller, in the
    colour of paper."""
    for inset, colour in ((0.0, BLUE), (0.05, "#ffffff")):
        near, far = 1.2 + inset, 1.8 - inset
        sheet.area([(near, near), (far, near), (far, far), (near, far)], colour)
    sheet.area([(4.2, 1.2), (4.8, 1.2), (4.8, 1.8), (4.2, 1.8)], BLUE)
    found = sheet.evidence()
    assert {(shape.box[0] < 2, shape.filled) for shape in found.shapes} == {(True, False), (False, True)}


def test_a_square_in_which_a_slanting_line_ends_is_no_head_of_an_arrow(sheet: Sheet) -> None:
    sheet.line(ends("r2c2 r3c3 r4c4"), 0.3, BLUE)
    sheet.canvas.setFillColor(BLUE)
    sheet.canvas.roundRect(*sheet.at(1.18, 1.82), 0.64 * SIDE, 0.64 * SIDE, 0.1 * SIDE, stroke=0, fill=1)
    found = sheet.evidence()
    (trace,), (bulb,) = found.traces, found.shapes
    assert not trace.heads and bulb.name == "square"
