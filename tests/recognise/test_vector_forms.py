"""Forms that a clip cuts out of rectangles, as style sheets draw round corners; hollow lines."""

from __future__ import annotations

import numpy as np
import pytest

from schema.cells import Cell
from tests.recognise.drawn_pages import SIDE, Sheet, nothing_else


def cut_out(sheet: Sheet, circles: list[tuple[float, float, float]], box: tuple[float, float, float, float]) -> None:
    """A rectangle of which only circles (x, y, radius) are seen."""
    path = sheet.canvas.beginPath()
    for x, y, radius in circles:
        path.circle(*sheet.at(x, y), radius * SIDE)
    sheet.canvas.saveState()
    sheet.canvas.clipPath(path, stroke=0, fill=0)
    sheet.bar(*box, "#c04060")
    sheet.canvas.restoreState()


def test_a_square_with_round_corners_may_be_a_disc(sheet):
    sheet.grid()
    cut_out(sheet, [(2.5, 3.5, 0.3)], (2.2, 3.2, 2.8, 3.8))
    found = sheet.evidence()
    (disc,) = found.discs
    assert disc.centre == pytest.approx((2.5, 3.5), abs=0.01) and disc.radius == pytest.approx(0.3, abs=0.01)
    assert not found.shapes and not found.unexplained


def test_what_a_clip_cuts_off_a_form_is_not_there(sheet):
    """A rectangle that reaches over one half of the circle is no circle."""
    sheet.grid()
    cut_out(sheet, [(2.5, 3.5, 0.3)], (2.2, 3.2, 2.5, 3.8))
    assert not sheet.evidence().discs


def test_bars_with_round_ends_from_cell_to_cell_are_one_line(sheet):
    """Each is a rectangle cut out by a clip; one lies a little off the middle of its cells, as style sheets round."""
    sheet.grid()
    for (x0, y0, x1, y1), off in (((1, 1, 1, 2), 0.0), ((1, 2, 2, 3), 0.03), ((2, 3, 3, 3), 0.0)):
        sheet.canvas.saveState()
        sheet.canvas.translate(*sheet.at(x0 + 0.5 + off, y0 + 0.5))
        sheet.canvas.rotate(np.degrees(np.arctan2(y0 - y1, x1 - x0)))
        length, half = float(np.hypot(x1 - x0, y1 - y0)) * SIDE, 0.07 * SIDE
        path = sheet.canvas.beginPath()
        path.roundRect(-half, -half, length + 2 * half, 2 * half, half)
        sheet.canvas.clipPath(path, stroke=0, fill=0)
        sheet.canvas.setFillColor("#70c090")
        sheet.canvas.rect(-half, -half, length + 2 * half, 2 * half, stroke=0, fill=1)
        sheet.canvas.restoreState()
    found = sheet.evidence()
    (line,) = found.traces
    assert line.nodes == tuple(map(Cell.parse, ["r2c2", "r3c2", "r4c3", "r4c4"]))
    assert line.width == pytest.approx(0.14, abs=0.01)
    assert not found.unexplained and not found.shapes


def test_a_line_of_paper_along_a_thick_line_leaves_it_thick(sheet):
    """On tinted paper, white or as the paper is."""
    sheet.bar(-0.5, -0.5, 9.5, 9.5, "#fbf9f1")
    sheet.grid(0.02, 0.07)
    for colour, k in (("#ffffff", 0), ("#fbf9f1", 3), ("#ffffff", 6), ("#fbf9f1", 9)):
        for at in range(9):
            sheet.line([(k, at), (k, at + 1)], 0.025, colour)
            sheet.line([(at, k), (at + 1, k)], 0.025, colour)
    found = sheet.evidence()
    assert nothing_else(found) and not found.fences
    assert found.edges.vertical[:, 3] == pytest.approx(0.07, abs=0.005)
    assert found.edges.horizontal[6] == pytest.approx(0.07, abs=0.005)


@pytest.mark.parametrize("as_area", [True, False])
def test_a_frame_of_two_lines_may_be_one_with_a_line_of_paper_upon_it(sheet, as_area):
    """A closed stroke, or the area that the pen covers on its way round, first wide and then thin in white."""
    sheet.grid(0.02, 0.05)
    for width, colour in ((0.09, "#506070"), (0.03, "#ffffff")):
        if as_area:
            ring(sheet, pen_round(width / 2), colour)
        else:
            sheet.line([(0, 0), (9, 0), (9, 9), (0, 9), (0, 0)], width, colour)
    found = sheet.evidence()
    assert nothing_else(found)
    assert (found.edges.horizontal > 0).all() and (found.edges.vertical > 0).all()
    assert found.edges.horizontal[0] == pytest.approx(0.09, abs=0.01)
    assert found.edges.vertical[:, 3] == pytest.approx(0.05, abs=0.005)


def pen_round(half: float) -> list[tuple[float, float]]:
    """What a square pen covers on its way round the grid, as one outline: along the inside, and back along the
    outside. It crosses itself at the corners."""
    low, inner, high, outer = -half, half, 9 - half, 9 + half
    inside = [(low, inner), (outer, inner), (high, inner), (high, outer), (high, high), (low, high), (inner, high)]
    return [(low, low), *inside, (inner, low), (low, low), (low, outer), (outer, outer), (outer, low)]


def ring(sheet: Sheet, points: list[tuple[float, float]], colour: str) -> None:
    """An area, filled by the nonzero winding number rule."""
    path = sheet.canvas.beginPath()
    path.moveTo(*sheet.at(*points[0]))
    for point in points[1:]:
        path.lineTo(*sheet.at(*point))
    path.close()
    sheet.canvas.setFillColor(colour)
    sheet.canvas.drawPath(path, stroke=0, fill=1, fillMode=1)
