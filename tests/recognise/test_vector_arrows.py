"""Arrows in many makes: circle or capsule, shaft and head give one trace, whatever draws them."""

from __future__ import annotations

import itertools
from collections.abc import Callable

import cv2
import numpy as np
import pytest
from reportlab.lib.colors import Color

from recognise.evidence import Evidence, Trace
from recognise.support import claims
from schema.cells import Cell
from tests.recognise.drawn_pages import SIDE, Sheet, ends

GREY = "#707070"
WIDTH = 0.05
RADIUS = 0.36
Points = list[tuple[float, float]]
Head = Callable[[Sheet, np.ndarray, np.ndarray], None]

pytestmark = pytest.mark.usefixtures("grid_first")


def barbs(tip: np.ndarray, way: np.ndarray, length: float = 0.22) -> Points:
    aside = np.array([-way[1], way[0]])
    back = tip - way * length
    return [tuple(back + aside * 0.6 * length), tuple(tip), tuple(back - aside * 0.6 * length)]


def triangle(sheet: Sheet, tip: np.ndarray, way: np.ndarray) -> None:
    sheet.area(barbs(tip, way), GREY)


def kite(sheet: Sheet, tip: np.ndarray, way: np.ndarray) -> None:
    one, point, other = barbs(tip, way)
    sheet.area([one, point, other, tuple(tip - way * 0.15)], GREY)


def open_head(sheet: Sheet, tip: np.ndarray, way: np.ndarray) -> None:
    sheet.line(barbs(tip, way), WIDTH, GREY)


def two_strokes(sheet: Sheet, tip: np.ndarray, way: np.ndarray) -> None:
    one, point, other = barbs(tip, way)
    sheet.line([one, point], WIDTH, GREY)
    sheet.line([point, other], WIDTH, GREY)


HEADS: list[Head] = [triangle, kite, open_head, two_strokes]


def shaft_points(cells: str, start: float, end: float) -> tuple[Points, np.ndarray, np.ndarray]:
    """The shaft from so far off its circle's middle to so far beyond the middle of its last cell; tip and way."""
    points = [np.array(point) for point in ends(cells)]
    first = (points[1] - points[0]) / np.linalg.norm(points[1] - points[0])
    last = (points[-1] - points[-2]) / np.linalg.norm(points[-1] - points[-2])
    tip = points[-1] + last * end
    return [tuple(points[0] + first * start), *map(tuple, points[1:-1]), tuple(tip)], tip, last


def arrow(sheet: Sheet, cells: str, head: Head, start: float = RADIUS, end: float = 0.1) -> None:
    points, tip, way = shaft_points(cells, start, end)
    sheet.line(points, WIDTH, GREY)
    head(sheet, tip, way)


def read(trace: Trace) -> tuple[set[str], set[str], set[str]]:
    """Links, cells with a disc, cells with a head."""
    links = {" ".join(sorted((str(trace.nodes[a]), str(trace.nodes[b])))) for a, b in trace.links}
    return links, {str(trace.nodes[n]) for n, _ in trace.discs}, {str(trace.nodes[n]) for n in trace.heads}


def links_of(*paths: str) -> set[str]:
    cells = [path.split() for path in paths]
    return {" ".join(sorted(pair)) for path in cells for pair in itertools.pairwise(path)}


def nothing_else(found: Evidence) -> bool:
    return not (found.discs or found.shapes or found.unexplained or found.tints or found.fences)


PATHS = ["r5c5 r5c6 r5c7", "r5c5 r4c6 r3c6 r2c5", "r5c5 r6c4", "r5c5 r5c4", "r5c5 r6c5 r5c4 r4c3"]


@pytest.mark.parametrize("head", HEADS, ids=lambda head: head.__name__)
@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize(("start", "end"), [(RADIUS, 0.12), (0.0, 0.3), (RADIUS + 0.03, -0.25)])
def test_an_arrow_is_the_same_in_every_make(sheet, head, path, start, end):
    sheet.disc(*ends(path)[0], RADIUS, None, GREY, WIDTH)
    arrow(sheet, path, head, start, end)
    found = sheet.evidence()
    (trace,) = found.traces
    assert read(trace) == (links_of(path), {"r5c5"}, {path.split()[-1]})
    assert nothing_else(found)


@pytest.mark.parametrize(
    ("aside", "colour", "hidden"), [(0.0, GREY, True), (0.2, GREY, False), (0.0, "#cc3333", False)]
)
def test_the_end_of_a_shaft_that_is_drawn_again_with_its_head_is_no_mark(sheet, aside, colour, hidden):
    """As plotting programs draw a pointer over a line: a curve from half a cell before its tip."""
    sheet.disc(2.5, 2.5, RADIUS, None, GREY, WIDTH)
    arrow(sheet, "r3c3 r3c4 r3c5", open_head)
    path = sheet.canvas.beginPath()
    path.moveTo(*sheet.at(4, 2.5 + aside))
    path.curveTo(*sheet.at(4.2, 2.5 + aside), *sheet.at(4.3, 2.5 + aside), *sheet.at(4.45, 2.5 + aside))
    sheet.canvas.setStrokeColor(colour)
    sheet.canvas.setLineWidth(WIDTH * SIDE)
    sheet.canvas.drawPath(path)
    found = sheet.evidence()
    assert len(found.traces) == 1
    assert nothing_else(found) == hidden


def test_one_filled_outline_of_shaft_and_head(sheet):
    sheet.disc(2.5, 2.5, RADIUS, "#ffffff", GREY, WIDTH)
    h = WIDTH / 2
    sheet.area(
        [(2.86, 2.5 - h), (4.4, 2.5 - h), (4.4, 2.36), (4.66, 2.5), (4.4, 2.64), (4.4, 2.5 + h), (2.86, 2.5 + h)], GREY
    )
    found = sheet.evidence()
    (trace,) = found.traces
    assert read(trace) == (links_of("r3c3 r3c4 r3c5"), {"r3c3"}, {"r3c5"})
    assert nothing_else(found)


def test_one_polyline_that_turns_back_for_its_head(sheet):
    sheet.disc(2.5, 2.5, RADIUS, None, GREY, WIDTH)
    sheet.line([(2.86, 2.5), (4.6, 2.5), (4.42, 2.38), (4.6, 2.5), (4.42, 2.62)], WIDTH, GREY)
    (trace,) = sheet.evidence().traces
    assert read(trace) == (links_of("r3c3 r3c4 r3c5"), {"r3c3"}, {"r3c5"})


def test_a_circle_of_straight_pieces_in_another_colour(sheet):
    angles = np.linspace(0, 2 * np.pi, 24, endpoint=False)
    sheet.area([(2.5 + 0.4 * np.cos(a), 2.5 + 0.4 * np.sin(a)) for a in angles], "#e0e0ff", "#a03030", 0.04)
    arrow(sheet, "r3c3 r3c4 r3c5", triangle, 0.42)
    found = sheet.evidence()
    (trace,) = found.traces
    assert read(trace) == (links_of("r3c3 r3c4 r3c5"), {"r3c3"}, {"r3c5"})
    assert nothing_else(found)


def test_several_shafts_from_one_circle_are_one_trace(sheet):
    sheet.disc(4.5, 4.5, RADIUS, None, GREY, WIDTH)
    for path in ("r5c5 r5c6 r5c7", "r5c5 r4c4 r3c3", "r5c5 r6c5"):
        arrow(sheet, path, triangle)
    found = sheet.evidence()
    (trace,) = found.traces
    links = links_of("r5c5 r5c6 r5c7", "r5c5 r4c4 r3c3", "r5c5 r6c5")
    assert read(trace) == (links, {"r5c5"}, {"r5c7", "r3c3", "r6c5"})
    assert nothing_else(found)


def test_arrows_that_cross_or_end_at_each_other_stay_apart(sheet):
    for path in ("r3c2 r3c3 r3c4 r3c5", "r2c3 r3c3 r4c3", "r6c6 r5c6 r4c5 r3c5", "r5c5 r5c4 r4c3"):
        sheet.disc(*ends(path)[0], RADIUS, None, GREY, WIDTH)
        arrow(sheet, path, open_head)
    traces = sheet.evidence().traces
    assert sorted(sorted(read(trace)[0]) for trace in traces) == sorted(
        sorted(links_of(path))
        for path in ("r3c2 r3c3 r3c4 r3c5", "r2c3 r3c3 r4c3", "r6c6 r5c6 r4c5 r3c5", "r5c5 r5c4 r4c3")
    )
    assert all(len(trace.heads) == len(trace.discs) == 1 for trace in traces)


@pytest.mark.parametrize("fill", [None, "#eeeeee"])
@pytest.mark.parametrize(
    ("cells", "box"), [("r3c3 r3c4", (2.15, 2.15, 3.85, 2.85)), ("r3c3 r4c3 r5c3", (2.15, 2.15, 2.85, 4.85))]
)
def test_capsules(sheet, fill, cells, box):
    left, bottom = sheet.at(box[0], box[3])
    sheet.canvas.setLineWidth(WIDTH * 30)
    sheet.canvas.setStrokeColor(GREY)
    sheet.canvas.setFillColor(fill or "#ffffff")
    size = ((box[2] - box[0]) * 30, (box[3] - box[1]) * 30)
    sheet.canvas.roundRect(left, bottom, *size, 0.35 * 30, stroke=1, fill=int(fill is not None))
    path = "r3c4 r3c5 r3c6" if cells == "r3c3 r3c4" else "r5c3 r6c4 r7c4"
    points, tip, way = shaft_points(path, 0.37, 0.1)
    sheet.line(points, WIDTH, GREY)
    triangle(sheet, tip, way)
    found = sheet.evidence()
    (shape,) = found.shapes
    assert (shape.name, shape.filled) == ("capsule", fill is not None)
    assert shape.box == pytest.approx(box, abs=0.06)
    (trace,) = found.traces
    assert read(trace) == (links_of(path), set(), {path.rsplit(maxsplit=1)[-1]})


@pytest.mark.parametrize("cap", [0, 1, 2])
@pytest.mark.parametrize("width", [0.04, 0.3])
def test_plain_lines_have_no_heads(sheet, cap, width):
    sheet.canvas.setLineCap(cap)
    sheet.line(ends("r2c2 r3c3 r3c4 r2c5 r2c4"), width, GREY)
    (trace,) = sheet.evidence().traces
    assert not trace.heads
    assert len(trace.links) == 4


def test_a_diamond_or_digit_at_the_end_of_a_line_is_no_head(sheet):
    sheet.line(ends("r2c2 r2c3 r2c4"), WIDTH, GREY)
    sheet.area([(3.3, 1.5), (3.5, 1.3), (3.7, 1.5), (3.5, 1.7)], GREY)
    sheet.line(ends("r5c2 r5c3 r5c4"), WIDTH, GREY)
    sheet.text(3.5, 4.5, "4", 0.6, colour=GREY)
    found = sheet.evidence()
    assert not any(trace.heads for trace in found.traces)
    assert [shape.name for shape in found.shapes] == ["diamond"]


@pytest.mark.parametrize("width", [0.02, 0.03, 0.045])
@pytest.mark.parametrize("off", [0.0, 0.01, 0.02])
def test_a_hairline_shaft_may_miss_the_middle_of_its_circle_a_little(sheet, width, off):
    sheet.disc(0.5 - off, 4.5 + off, RADIUS, None, GREY)
    sheet.line([(0.5 - off + 0.26, 4.5 + off + 0.26), (1.5, 5.5), (0.5, 5.5), (0.5, 6.5)], width, GREY)
    triangle(sheet, np.array((0.5, 6.6)), np.array((0.0, 1.0)))
    found = sheet.evidence()
    (trace,) = found.traces
    assert read(trace) == (links_of("r5c1 r6c2 r6c1 r7c1"), {"r5c1"}, {"r7c1"})
    assert not found.unexplained


def test_the_rim_of_a_head_drawn_by_itself_belongs_to_it(sheet):
    sheet.disc(*ends("r5c5")[0], RADIUS, None, GREY, WIDTH)
    points, tip, way = shaft_points("r5c5 r5c6 r5c7", RADIUS, 0.1)
    sheet.line(points, WIDTH, GREY)
    corners = barbs(tip, way)
    sheet.area(corners, GREY)
    sheet.line(corners, 0.02, GREY, closed=True)
    found = sheet.evidence()
    assert [read(trace)[2] for trace in found.traces] == [{"r5c7"}]
    assert nothing_else(found)


def test_a_head_through_which_less_shows_than_through_its_shaft_belongs_to_it(sheet):
    sheet.disc(*ends("r5c5")[0], RADIUS, None, GREY, WIDTH)
    points, tip, way = shaft_points("r5c5 r4c6 r4c7 r4c8", RADIUS, 0.1)
    sheet.line(points, WIDTH, Color(0.1, 0.2, 0.3, alpha=0.55))
    sheet.area(barbs(tip, way), Color(0.1, 0.2, 0.3, alpha=0.75))
    found = sheet.evidence()
    assert [read(trace)[2] for trace in found.traces] == [{"r4c8"}]
    assert nothing_else(found)


def test_a_line_that_is_an_area_may_end_at_the_rims_of_circles_of_another_colour(sheet):
    for cell in ("r5c5", "r3c7"):
        sheet.disc(*ends(cell)[0], RADIUS, None, "#5588cc", WIDTH)
    (x0, y0), (x1, y1), (x2, y2) = ends("r5c5 r4c6 r3c7")
    off, half = RADIUS / 2**0.5, 0.02
    way = [(x0 + off, y0 - off), (x1, y1), (x2 - off, y2 + off)]
    sheet.area([*((x - half, y - half) for x, y in way), *((x + half, y + half) for x, y in reversed(way))], GREY)
    found = sheet.evidence()
    (trace,) = found.traces
    assert read(trace)[:2] == (links_of("r5c5 r4c6 r3c7"), {"r5c5", "r3c7"})
    assert nothing_else(found)


def test_a_wide_head_is_claimed_to_the_ends_of_its_barbs(sheet):
    sheet.disc(1.5, 1.5, RADIUS, None, GREY, WIDTH)
    sheet.line([(1.5, 1.86), (1.5, 3.35)], 0.08, GREY)
    sheet.area([(1.5, 3.55), (1.26, 3.28), (1.74, 3.28)], GREY)
    (line,) = sheet.evidence().traces
    claimed = [np.array(polygon, np.float32) for polygon in claims(line)]
    for x in (1.29, 1.71):
        assert max(cv2.pointPolygonTest(polygon, (x, 3.3), True) for polygon in claimed) >= -0.03


def test_a_broad_stroke_with_a_narrower_white_one_upon_it_is_a_capsule(sheet):
    sheet.canvas.setLineCap(1)
    sheet.line([(4.5, 4.5), (4.5, 5.5)], 0.8, GREY)
    sheet.line([(4.5, 4.5), (4.5, 5.5)], 0.72, "#ffffff")
    (shape,) = sheet.evidence().shapes
    assert (shape.name, shape.filled) == ("capsule", False)
    assert shape.box == pytest.approx((4.1, 4.1, 4.9, 5.9), abs=0.03)


def test_the_area_of_a_capsule_that_is_narrow_within_its_outline_is_no_line(sheet):
    for stroke, fill in ((0, 1), (1, 0)):
        sheet.canvas.setLineWidth(WIDTH * 30)
        sheet.canvas.setStrokeColor(GREY)
        sheet.canvas.setFillColor("#b0e0c0")
        left, bottom = sheet.at(2.24, 2.76)
        sheet.canvas.roundRect(left, bottom, 1.52 * 30, 0.52 * 30, 0.26 * 30, stroke=stroke, fill=fill)
    found = sheet.evidence()
    (shape,) = found.shapes
    assert (shape.name, shape.filled) == ("capsule", True)
    assert not found.traces


@pytest.mark.parametrize("path", PATHS)
def test_a_long_open_head_of_hairlines_is_a_head(sheet, path):
    points, tip, way = shaft_points(path, RADIUS, 0.05)
    sheet.disc(*ends(path)[0], RADIUS, None, "#000000", 0.018)
    sheet.line(points, 0.018)
    aside = np.array([-way[1], way[0]])
    back = [tuple(tip - way * 0.3 + aside * side) for side in (0.07, -0.07)]
    sheet.line([tuple(tip), back[0], tuple(tip - way * 0.25), back[1]], 0.018, closed=True)
    found = sheet.evidence()
    (trace,) = found.traces
    assert read(trace) == (links_of(path), {"r5c5"}, {path.split()[-1]})
    assert nothing_else(found)


def test_a_slanting_hairline_beside_the_middles_of_uneven_cells_reaches_its_circle(sheet):
    """The middles of a browser's cells, whose borders are not all alike, lie a little off those of even ones."""
    off = np.array((0.03, 0.02))
    middles = [np.array(Cell.parse(cell).centre) + off for cell in ("r6c4", "r7c3", "r7c2", "r7c1")]
    start = middles[0] + (middles[1] - middles[0]) * RADIUS / 2**0.5
    sheet.disc(*middles[0], RADIUS, None, GREY, 0.025)
    sheet.line([tuple(start), *map(tuple, middles[1:3]), tuple(middles[3] + (0.06, 0))], 0.025, GREY)
    triangle(sheet, middles[3] - (0.12, 0), np.array((-1.0, 0.0)))
    found = sheet.evidence()
    (trace,) = found.traces
    assert " ".join(map(str, trace.nodes)) == "r6c4 r7c1 r7c2 r7c3"
    assert not found.unexplained


def test_a_small_head_that_stands_a_little_beside_its_shaft_is_its_head(sheet):
    """As a program draws it that rounds."""
    sheet.disc(3.5, 1.5, 0.36, "#ffffff", GREY)
    sheet.line([(3.25, 1.75), (0.6, 4.4)], 0.036, GREY)
    sheet.area([(0.41, 4.53), (0.51, 4.31), (0.645, 4.435)], GREY)
    (trace,) = sheet.evidence().traces
    assert [str(trace.nodes[head]) for head in trace.heads] == ["r5c1"]
