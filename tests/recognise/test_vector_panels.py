"""Ruled paper that runs on behind a white panel on which the grid stands."""

from __future__ import annotations

import numpy as np
import pytest

from recognise.vectors import lattices_from_vectors
from tests.recognise.drawn_pages import LEFT, SIDE, Sheet


def _ruled(sheet: Sheet) -> None:
    for k in range(-8, 30):
        sheet.line([(-3, 0.47 * k), (12, 0.47 * k)], 0.01, "#b9d3c4")
    for x in (-0.6, -0.5):
        sheet.line([(x, -4), (x, 13)], 0.02, "#d08080")


@pytest.mark.parametrize("panel", [True, False])
def test_rules_behind_a_panel_are_no_lines_of_its_grid(sheet, panel):
    _ruled(sheet)
    if panel:
        sheet.area([(-0.2, -0.2), (9.2, -0.2), (9.2, 9.2), (-0.2, 9.2)], "#ffffff")
    sheet.grid()
    page = sheet.page()
    found = [lattice for lattice in lattices_from_vectors(page) if lattice.points.shape == (10, 10, 2)]
    assert len(found) == int(panel)
    for lattice in found:
        assert (lattice.points[0, :, 0] / page.scale - LEFT) / SIDE == pytest.approx(np.arange(10), abs=0.01)


def test_lines_over_a_panel_and_under_a_small_area_count(sheet):
    sheet.area([(-0.2, -0.2), (9.2, -0.2), (9.2, 9.2), (-0.2, 9.2)], "#eef2f7")
    sheet.grid()
    sheet.area([(3.1, 3.1), (4.9, 3.1), (4.9, 4.9), (3.1, 4.9)], "#ffffff")
    (lattice,) = lattices_from_vectors(sheet.page())
    assert lattice.points.shape == (10, 10, 2)
