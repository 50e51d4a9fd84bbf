"""Circles of which each side is a path of its own."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from tests.recognise.drawn_pages import Sheet, nothing_else


@pytest.fixture
def sheet(tmp_path):
    return Sheet(tmp_path / "page.pdf")


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


def test_an_arc_is_no_circle(sheet):
    sheet.grid()
    draw_sides(sheet, 0.7)
    found = sheet.evidence()
    assert not found.discs and not nothing_else(found)
