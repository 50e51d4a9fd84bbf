"""Circles of which each side is a path of its own."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from ingest.page import VectorPath
from recognise.vectors.rings import rings_joined
from tests.recognise.drawn_pages import Sheet, nothing_else


def draw_sides(sheet: Sheet, part: float) -> None:
    angles = np.linspace(0, 2 * np.pi * part, 33)
    points = [(4.5 + 0.36 * float(np.cos(a)), 2.5 + 0.36 * float(np.sin(a))) for a in angles]
    for one, other in pairwise(points):
        sheet.line([one, other], 0.05, "#4c4c4c")


def test_the_sides_of_a_circle_drawn_one_by_one_are_a_circle(sheet):
    sheet.grid()
    draw_sides(sheet, 1.0)
    found = sheet.evidence()
    (disc,) = found.discs
    assert disc.centre == pytest.approx((4.5, 2.5), abs=0.01) and disc.radius == pytest.approx(0.36, abs=0.03)
    assert disc.fill is None and disc.outline == (76, 76, 76)
    assert not found.shapes and not found.unexplained and not found.traces


@pytest.mark.parametrize("arcs", [2, 4])
def test_the_arcs_of_a_circle_drawn_one_by_one_are_a_circle(sheet, arcs):
    sheet.grid()
    x, y = sheet.at(4.5, 2)
    sheet.disc(4.5, 2, 0.13, "#ffffff")
    sheet.canvas.setStrokeColor("#000000")
    sheet.canvas.setLineWidth(0.7)
    for arc in range(arcs):
        sheet.canvas.arc(x - 4, y - 4, x + 4, y + 4, 360 / arcs * arc, 360 / arcs)
    found = sheet.evidence()
    (disc,) = found.discs
    assert disc.centre == pytest.approx((4.5, 2), abs=0.01) and disc.radius == pytest.approx(4 / 30, abs=0.01)
    assert disc.fill == (255, 255, 255) and disc.outline == (0, 0, 0)
    assert not found.shapes


def test_an_arc_is_no_circle(sheet):
    sheet.grid()
    draw_sides(sheet, 0.7)
    found = sheet.evidence()
    assert not found.discs and not nothing_else(found)


def test_a_dotted_line_runs_on_under_the_mark_of_a_corner(sheet):
    sheet.grid()
    for t in np.arange(0, 1.001, 0.1):
        sheet.disc(3.5 + 2 * t, 3.5 + 2 * t, 0.06, "#333333")
    sheet.disc(4, 4, 0.23, "#e6e6e6", "#000000")
    found = sheet.evidence()
    assert [" ".join(map(str, trace.nodes)) for trace in found.traces] == ["r4c4 r5c5 r6c6"]
    assert [disc.centre for disc in found.discs] == [pytest.approx((4, 4))] and not found.notes


def test_a_small_dot_under_a_mark_that_no_line_explains_is_spoken_of(sheet):
    sheet.grid()
    sheet.disc(4, 4, 0.06, "#333333")
    sheet.disc(4, 4, 0.23, "#e6e6e6", "#000000")
    found = sheet.evidence()
    assert found.notes == ("a circle at r4c4 lies under another",)
    assert len(found.discs) == 1


def test_the_round_ends_of_a_line_under_its_circles_are_no_marks_of_their_own(sheet):
    sheet.grid()
    sheet.line([(2.5, 2.5), (4.5, 2.5)], 0.34, "#000000")
    for x in (2.5, 4.5):
        sheet.disc(x, 2.5, 0.17, "#000000")
    sheet.line([(2.5, 2.5), (4.5, 2.5)], 0.28, "#ffffff")
    for x in (2.5, 4.5):
        sheet.disc(x, 2.5, 0.38, "#ffffff", "#4c4c4c")
    assert sheet.evidence().notes == ()


def test_two_strokes_of_no_length_with_round_ends_are_a_white_circle(sheet):
    sheet.grid()
    sheet.canvas.setLineCap(1)
    for width, colour in ((0.28, "#000000"), (0.2, "#ffffff")):
        sheet.line([(3, 4.5), (3, 4.5)], width, colour)
    (disc,) = sheet.evidence().discs
    assert (disc.fill, disc.outline) == ((255, 255, 255), (0, 0, 0))
    assert disc.radius == pytest.approx(0.14, abs=0.01)


@pytest.mark.parametrize("clockwise", [True, False])
def test_a_frame_round_a_clue_may_be_drawn_side_by_side(sheet, clockwise):
    sheet.grid()
    corners = [(-0.8, 0.2), (-0.2, 0.2), (-0.2, 0.8), (-0.8, 0.8)]
    corners = corners if clockwise else corners[::-1]
    for one, other in zip(corners, [*corners[1:], corners[0]], strict=True):
        sheet.line([one, other], 0.02, "#4c4c4c")
    sheet.text(-0.5, 0.5, "13", 0.4)
    found = sheet.evidence()
    (frame,) = found.shapes
    assert frame.name == "square" and not frame.filled
    assert frame.box == pytest.approx((-0.81, 0.19, -0.19, 0.81), abs=0.01)
    assert not found.traces and not found.unexplained


def test_the_borders_of_a_block_each_cut_at_its_corners_are_a_frame_round_a_clue(sheet):
    """Formatters paint each side of a block's border by itself: all along its outer side, cut at a bevel."""
    sheet.grid()
    left, top, right, bottom, wide = 2.7, 4.75, 3.3, 5.25, 0.04
    inner = [
        (left + wide, top + wide),
        (right - wide, top + wide),
        (right - wide, bottom - wide),
        (left + wide, bottom - wide),
    ]
    outer = [(left, top), (right, top), (right, bottom), (left, bottom)]
    half = wide / 2
    middles = [(0, half), (-half, 0), (0, -half), (half, 0)]
    for k, (dx, dy) in enumerate(middles):
        (x0, y0), (x1, y1) = outer[k], outer[(k + 1) % 4]
        sheet.canvas.saveState()
        bevelled = sheet.path_of([outer[k], outer[(k + 1) % 4], inner[(k + 1) % 4], inner[k]], True)
        sheet.canvas.clipPath(bevelled, stroke=0, fill=0)
        sheet.line([(x0 + dx, y0 + dy), (x1 + dx, y1 + dy)], wide, "#203050")
        sheet.canvas.restoreState()
    sheet.text(3, 5, "12", 0.3)
    found = sheet.evidence()
    (frame,) = found.shapes
    assert frame.name == "square" and not frame.filled
    assert frame.box == pytest.approx((left, top, right, bottom), abs=0.03)


def _clipped_sides(seen: float) -> list[VectorPath]:
    """The four sides of a frame of 12 points, each clipped to a part of its length."""
    corners = [(0.0, 0.0), (12.0, 0.0), (12.0, 12.0), (0.0, 12.0)]
    sides = []
    for k, (x0, y0) in enumerate(corners):
        x1, y1 = corners[(k + 1) % 4]
        x, y = x0 + seen * (x1 - x0), y0 + seen * (y1 - y0)
        low, high = (min(x0, x) - 0.2, min(y0, y) - 0.2), (max(x0, x) + 0.2, max(y0, y) + 0.2)
        clip = (low, (high[0], low[1]), high, (low[0], high[1]))
        sides.append(VectorPath((((x0, y0), (x1, y1)),), (False,), (0, 0, 0), None, 0.4, order=k, clip=(clip,)))
    return sides


@pytest.mark.parametrize(("seen", "count"), [(1.0, 1), (0.5, 4)], ids=["whole sides", "half of each"])
def test_sides_of_which_clips_leave_only_a_part_are_no_frame(seen: float, count: int) -> None:
    assert len(list(rings_joined(_clipped_sides(seen), 30.0))) == count
