"""Thermometers in many makes: the same bulb and path."""

from __future__ import annotations

from itertools import pairwise

import cv2
import numpy as np
import pytest

from recognise.evidence import Evidence, Trace
from recognise.pixels.frame import Raster
from recognise.vectors.graph import graphs
from recognise.vectors.painting import stroked
from tests.recognise.drawn_pages import SIDE, Drawing, Sheet, ends

WAY = "r3c3 r3c4 r4c5 r5c5"
GREY = "#b0b0b0"


def pen(sheet: Sheet) -> None:
    sheet.canvas.setLineCap(1)
    sheet.canvas.setLineJoin(1)
    sheet.disc(*ends(WAY)[0], 0.36, GREY)
    sheet.line(ends(WAY), 0.34, GREY)


def pen_pieces(sheet: Sheet) -> None:
    sheet.canvas.setLineCap(1)
    points = ends(WAY)
    for one, other in pairwise(points):
        sheet.line([one, other], 0.34, GREY)
    sheet.disc(*points[0], 0.36, GREY)


def mitred_and_flat(sheet: Sheet) -> None:
    sheet.canvas.setLineJoin(0)
    sheet.disc(*ends(WAY)[0], 0.36, GREY)
    sheet.line(ends(WAY), 0.34, GREY)


def see_through(sheet: Sheet) -> None:
    sheet.canvas.setFillAlpha(0.4)
    sheet.canvas.setStrokeAlpha(0.4)
    pen(sheet)
    sheet.canvas.setFillAlpha(1)
    sheet.canvas.setStrokeAlpha(1)


def bars_and_disc(sheet: Sheet) -> None:
    points = ends(WAY)
    for (x0, y0), (x1, y1) in pairwise(points):
        way = np.array([x1 - x0, y1 - y0])
        aside = np.array([-way[1], way[0]]) / np.hypot(*way) * 0.17
        start, end = np.array([x0, y0]), np.array([x1, y1])
        sheet.area([tuple(corner) for corner in (start + aside, end + aside, end - aside, start - aside)], GREY)
    for point in points[1:]:
        sheet.disc(*point, 0.17, GREY)
    sheet.disc(*points[0], 0.36, GREY)


def in_a_form(sheet: Sheet) -> None:
    sheet.canvas.beginForm("tube")
    pen(sheet)
    sheet.canvas.endForm()
    sheet.canvas.doForm("tube")


def under_the_grid_and_clipped(sheet: Sheet) -> None:
    sheet.canvas.saveState()
    x, y = sheet.at(0, 9)
    clip = sheet.canvas.beginPath()
    clip.rect(x, y, 9 * SIDE, 9 * SIDE)
    sheet.canvas.clipPath(clip, stroke=0)
    pen(sheet)
    sheet.canvas.restoreState()


SOLID = [pen, pen_pieces, mitred_and_flat, see_through, bars_and_disc, in_a_form, under_the_grid_and_clipped]


def wide_under_white(sheet: Sheet) -> None:
    for grow, colour in ((0.03, "#303030"), (-0.03, "#ffffff")):
        sheet.canvas.setLineCap(1)
        sheet.canvas.setLineJoin(1)
        sheet.disc(*ends(WAY)[0], 0.36 + grow, colour)
        sheet.line(ends(WAY), 0.34 + 2 * grow, colour)


def wall(sheet: Sheet) -> None:
    """The outline of tube and bulb, by hand, around r3c3 r3c4."""
    half, bulb = 0.17, 0.36
    angles = np.linspace(np.arcsin(half / bulb), 2 * np.pi - np.arcsin(half / bulb), 40)
    points = [(2.5 + bulb * np.cos(a), 2.5 + bulb * np.sin(a)) for a in angles]
    cap = [(3.5 + half * np.cos(a), 2.5 + half * np.sin(a)) for a in np.linspace(-np.pi / 2, np.pi / 2, 16)]
    sheet.line([*points, *cap], 0.03, closed=True)


def only(found: Evidence) -> Trace:
    (trace,) = found.traces
    assert not (found.shapes or found.unexplained or found.discs or found.tints), found
    return trace


@pytest.mark.parametrize("manner", SOLID, ids=lambda manner: manner.__name__)
@pytest.mark.parametrize("above", [False, True])
def test_a_thermometer_is_the_same_however_it_is_drawn(sheet, manner: Drawing, above):
    if above:
        sheet.grid()
    manner(sheet)
    if not above:
        sheet.grid()
    sheet.text(4.5, 3.5, "7")
    trace = only(sheet.evidence())
    assert " ".join(map(str, trace.nodes)) == WAY
    assert trace.links == ((0, 1), (1, 2), (2, 3))
    ((bulb, radius),) = trace.discs
    assert (bulb, radius) == (0, pytest.approx(0.36, abs=0.01))
    assert (trace.width, trace.outlined, trace.how) == (pytest.approx(0.34, abs=0.02), False, "vector")
    assert not trace.ambiguous


@pytest.mark.parametrize("manner", [wide_under_white, wall], ids=lambda manner: manner.__name__)
def test_a_hollow_thermometer(sheet, manner: Drawing):
    manner(sheet)
    sheet.grid()
    trace = only(sheet.evidence())
    assert trace.outlined
    assert " ".join(map(str, trace.nodes)) in (WAY, "r3c3 r3c4")
    assert [node for node, _ in trace.discs] == [0]


def hatched_under_white(sheet: Sheet) -> None:
    """A black tube and its bulb, their cores white, each step and then the bulb hatched."""
    sheet.canvas.setLineCap(1)
    sheet.canvas.setLineJoin(1)
    points = ends(WAY)
    for colour, less in (("#000000", 0.0), ("#ffffff", 0.018)):
        sheet.line(points, 0.3 - 2 * less, colour)
        sheet.disc(*points[0], 0.39 - less, colour)
    for (x0, y0), (x1, y1) in pairwise(points):
        way = np.array([x1 - x0, y1 - y0])
        aside = np.array([-way[1], way[0]]) / np.hypot(*way)
        for off in np.linspace(-0.1, 0.1, 7):
            sheet.line([tuple(np.array(end) + aside * off) for end in ((x0, y0), (x1, y1))], 0.008)
    sheet.disc(*points[0], 0.372, "#ffffff")
    for off in np.linspace(-0.33, 0.33, 15):
        half = np.sqrt(0.36**2 - off**2)
        sheet.line([(points[0][0] - half, points[0][1] + off), (points[0][0] + half, points[0][1] + off)], 0.008)


def test_strokes_that_fill_a_tube_are_no_lines(sheet):
    hatched_under_white(sheet)
    sheet.grid()
    found = sheet.evidence()
    trace = only(found)
    assert (" ".join(map(str, trace.nodes)), trace.outlined) == (WAY, True)
    assert [(node, pytest.approx(radius, abs=0.02)) for node, radius in trace.discs] == [(0, 0.39)]
    assert not (found.tints or found.shapes or found.discs or found.unexplained or found.notes)


def test_strokes_within_the_outline_of_a_line_are_no_lines(sheet):
    """As programs draw it that clip hatching to a shape: the strokes, and then the outline of the line."""
    outline = [(1.3, 2.6), (1.4, 2.7), (4.45, 2.7), (6.45, 4.7), (6.6, 4.6), (6.6, 4.5), (4.55, 2.35), (1.4, 2.35)]
    sheet.canvas.saveState()
    sheet.canvas.clipPath(sheet.path_of(outline, True), stroke=0, fill=0)
    for k in range(60):
        sheet.line([(0.9 + 0.1 * k, 2.0), (-1.9 + 0.1 * k, 4.8)], 0.015, "#7b8088")
    sheet.canvas.restoreState()
    sheet.line(outline, 0.02, "#7b8088", closed=True)
    sheet.grid()
    found = sheet.evidence()
    trace = only(found)
    assert (" ".join(map(str, trace.nodes)), trace.outlined) == ("r3c2 r3c3 r3c4 r3c5 r4c6 r5c7", True)
    assert not (found.tints or found.shapes or found.unexplained)


def test_a_few_strokes_across_a_tube_are_not_taken_for_its_filling(sheet):
    wide_under_white(sheet)
    for y in (2.4, 2.6):
        sheet.line([(2.9, y), (3.1, y)], 0.02)
    sheet.grid()
    found = sheet.evidence()
    assert found.shapes or found.unexplained or len(found.traces) > 1


def test_branches_from_one_bulb_are_one_drawing(sheet):
    sheet.canvas.setLineCap(1)
    sheet.disc(4.5, 4.5, 0.36, GREY)
    sheet.line(ends("r5c5 r5c6 r5c7"), 0.3, GREY)
    sheet.line(ends("r5c5 r4c4 r3c3 r2c3"), 0.3, GREY)
    sheet.line(ends("r5c7 r6c7 r7c7"), 0.3, GREY)
    sheet.grid()
    trace = only(sheet.evidence())
    assert len(trace.nodes) == 8
    assert [str(trace.nodes[node]) for node, _ in trace.discs] == ["r5c5"]


def test_a_branch_between_two_others_at_45_degrees():
    """Near the fork the branch in the middle has no free side: one filled outline, as an area."""
    raster = Raster(6, 6, 64, 64)
    area = np.zeros((8 * 64, 8 * 64), np.uint8)
    for way in ("r5c3 r4c3 r3c2", "r4c3 r3c3 r2c3", "r4c3 r3c4"):
        points = np.array([[raster.at(x), raster.at(y)] for x, y in ends(way)])
        cv2.polylines(area, [points.astype(np.int32)], False, 1, round(0.46 * 64))
    (graph,) = graphs(area.view(np.bool_), raster)
    drawn = {frozenset((str(step.first), str(step.second))) for step in graph.steps}
    wanted = ("r5c3 r4c3", "r4c3 r3c2", "r4c3 r3c3", "r3c3 r2c3", "r4c3 r3c4")
    assert drawn == {frozenset(pair.split()) for pair in wanted}


def test_neighbours_stay_apart(sheet):
    sheet.canvas.setLineCap(1)
    for start, way in (("r2c2", "r2c2 r2c3 r2c4"), ("r3c4", "r3c4 r3c3 r3c2"), ("r4c2", "r4c2 r5c3 r6c4")):
        sheet.disc(*ends(start)[0], 0.45, GREY)
        sheet.line(ends(way), 0.5, GREY)
    sheet.grid()
    traces = sheet.evidence().traces
    assert [" ".join(map(str, trace.nodes)) for trace in traces] == [
        "r2c2 r2c3 r2c4",
        "r3c2 r3c3 r3c4",
        "r4c2 r5c3 r6c4",
    ]


def test_crossing_thermometers_of_two_paths(sheet):
    sheet.canvas.setLineCap(1)
    for way in ("r2c2 r3c3 r4c4", "r4c2 r3c3 r2c4"):
        sheet.disc(*ends(way)[0], 0.36, GREY)
        sheet.line(ends(way), 0.3, GREY)
    sheet.grid()
    traces = sheet.evidence().traces
    assert sorted(len(trace.links) for trace in traces) == [2, 2]
    assert all(len(trace.discs) == 1 for trace in traces)


def test_what_is_painted_over_is_not_there(sheet):
    pen(sheet)
    sheet.bar(-0.5, -0.5, 9.5, 9.5, "#ffffff")
    sheet.grid()
    sheet.text(4.5, 4.5, "5")
    found = sheet.evidence()
    assert not found.traces
    assert [glyph.text for glyph in found.glyphs] == ["5"]


def test_a_spur_that_no_line_explains_is_shown(sheet):
    pen(sheet)
    sheet.area([(3.5, 2.4), (3.9, 1.6), (4.1, 1.6), (3.8, 2.6)], GREY)
    sheet.grid()
    found = sheet.evidence()
    assert found.unexplained or found.shapes


def test_a_tube_that_grows_paler_step_by_step_is_one_tube(sheet):
    shades = [f"#{150 + 5 * k:02x}{180 + 3 * k:02x}f0" for k in range(12)]
    way = [(0.5, 2.5 + 0.25 * k) for k in range(13)]
    for k, shade in reversed(list(enumerate(shades))):
        sheet.canvas.setLineCap(1)
        sheet.line([way[k], way[k + 1]], 0.34, shade)
    sheet.disc(0.5, 2.5, 0.3, shades[0])
    sheet.grid()
    found = sheet.evidence()
    (trace,) = found.traces
    assert " ".join(map(str, trace.nodes)) == "r3c1 r4c1 r5c1 r6c1"
    assert [node for node, _ in trace.discs] == [0]
    assert not (found.discs or found.shapes or found.unexplained)


def test_of_the_steps_of_a_tube_two_may_have_one_colour(sheet):
    sheet.grid()
    sheet.canvas.setLineCap(1)
    for step in range(30):
        # A level between two greys is rounded: twice in thirty the next one is the same.
        grey = f"#{200 + round(0.93 * step):02x}" + 2 * f"{200 + round(0.93 * step):02x}"
        sheet.line([(1.5 + step / 6, 4.5), (1.5 + (step + 1) / 6, 4.5)], 0.4, grey)
    sheet.disc(1.5, 4.5, 0.38, "#c8c8c8")
    found = sheet.evidence()
    (trace,) = found.traces
    assert [str(cell) for cell in trace.nodes] == [f"r5c{column}" for column in range(2, 8)]
    assert not found.shapes and not found.unexplained


@pytest.mark.parametrize("colour", ["#e9a59b", "#3060c0"])
def test_a_column_of_mercury_from_the_bulb_is_a_part_of_the_thermometer(sheet, colour):
    sheet.grid()
    sheet.canvas.setLineCap(1)
    sheet.canvas.setLineJoin(1)
    for width, shade in ((0.34, "#206060"), (0.28, "#ffffff")):
        sheet.line(ends(WAY), width, shade)
    x, y = ends(WAY)[0]
    sheet.disc(x, y, 0.33, "#e9a59b", "#206060")
    sheet.canvas.setLineCap(0)
    sheet.line([(x, y), (x + 0.55, y)], 0.1, colour)
    found = sheet.evidence()
    assert [" ".join(map(str, trace.nodes)) for trace in found.traces] == [WAY]
    # A stroke of another colour is something else.
    assert bool(found.shapes) == (colour != "#e9a59b")


@pytest.mark.parametrize("width", [0.4, 0.4986])
def test_the_square_ends_of_a_pen_stand_at_the_ends_of_its_line_alone(sheet, width: float):
    sheet.canvas.setLineCap(2)
    sheet.canvas.setLineJoin(1)
    sheet.line(ends("r7c4 r8c5 r9c5 r9c4 r9c3"), width, GREY)
    sheet.disc(*ends("r9c3")[0], 0.45, GREY)
    sheet.grid()
    (trace,) = sheet.evidence().traces
    assert [str(trace.nodes[node]) for node, _ in trace.discs] == ["r9c3"]


@pytest.mark.parametrize("width", [0.23, 0.24, 0.4])
def test_three_arms_that_meet_are_no_disc(width: float):
    """In the corners between arms at 90 and 135 degrees the area reaches further than half of an arm's width."""
    raster, shape = Raster(9, 9, 64, 64), (11 * 64, 11 * 64)
    arms = tuple(np.array(ends(way)) for way in ("r3c4 r4c5", "r4c5 r4c6 r4c7", "r4c5 r5c4"))
    area = stroked(arms, (False,) * 3, width, "round", raster, shape)
    mask = np.zeros(shape, dtype=np.bool_)
    mask[area.window] = area.mask
    (found,) = graphs(mask, raster)
    assert found.discs == {}


def test_small_discs_that_round_the_bends_of_a_line_are_a_part_of_it(sheet):
    points = ends(WAY)
    for one, other in pairwise(points):
        sheet.line([one, other], 0.24, GREY)
    for point in points[1:]:
        sheet.disc(*point, 0.12, GREY)
    sheet.disc(*points[0], 0.36, GREY)
    sheet.grid()
    assert [node for node, _ in only(sheet.evidence()).discs] == [0]


@pytest.mark.parametrize("heads", [1, 2])
def test_the_eyes_of_worms_are_no_marks(sheet, heads: int) -> None:
    """Of one head nobody tells whether its dots are eyes, and a dot on the middle of a bulb may mark its cell."""
    sheet.grid()
    for row in (1, 4)[:heads]:
        sheet.canvas.setLineCap(1)
        sheet.line([(1.5, row + 0.5), (4.5, row + 0.5)], 0.3, "#eea0a0")
        sheet.disc(1.5, row + 0.5, 0.38, "#eea0a0")
        for aside in (-0.13, 0.13):
            sheet.disc(1.3, row + 0.5 + aside, 0.045, "#703030")
    sheet.disc(4.5, 7.5, 0.045, "#703030")
    found = sheet.evidence()
    assert len(found.traces) == heads
    assert len(found.discs) == (1 if heads > 1 else 3)
