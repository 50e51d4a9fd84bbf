"""Heads and stubs of tables beside a grid that a PDF draws: narrower than its rows and columns, ruled or tinted."""

from __future__ import annotations

import numpy as np
import pytest

from recognise.vectors import lattices_from_vectors, read_vectors
from recognise.vectors.gather import gather_inks
from recognise.vectors.place import place
from recognise.vectors.table_lines import table_lines
from tests.recognise.drawn_pages import LEFT, SIDE, TOP, Sheet, nothing_else

DEEP = 0.6


def ruled(sheet: Sheet, *, in_one: bool, missing: int | None = None) -> None:
    """A row of places above the grid and a column at its right, all lines going on there, but one, in one stroke with
    the lattice or in pieces."""
    last = 9 + DEEP
    for k in range(10):
        deep = DEEP if k != missing else 0.0
        strokes = [[(k, -deep), (k, 9)], [(0, k), (9 + deep, k)]]
        pieces = [[(k, -deep), (k, 0)], [(k, 0), (k, 9)], [(0, k), (9, k)], [(9, k), (9 + deep, k)]]
        for points in strokes if in_one else pieces:
            sheet.line(points, 0.03)
    sheet.line([(0, -DEEP), (last, -DEEP), (last, 9)], 0.02)


@pytest.mark.parametrize("in_one", [True, False])
def test_the_body_of_a_table_with_a_narrow_head_is_the_grid(sheet, in_one: bool) -> None:
    ruled(sheet, in_one=in_one)
    sheet.text(3.5, -0.3, "14", 0.4)
    page = sheet.page()
    (lattice,) = lattices_from_vectors(page)
    assert lattice.points.shape == (10, 10, 2)
    assert lattice.points[0, 0] / page.scale == pytest.approx((LEFT, TOP), abs=0.05)
    found = read_vectors(page, lattice)
    assert found is not None
    assert "".join(glyph.text for glyph in found.glyphs) == "14"
    assert not found.shapes
    # What its lines ink is told for whoever looks for ink that nothing explains.
    assert any(y0 < -0.5 < y1 and x0 < 4 < x1 for x0, y0, x1, y1 in found.rails)
    assert any(x0 < 9.5 < x1 and y0 < 4 < y1 for x0, y0, x1, y1 in found.rails)


def test_lines_that_do_not_all_go_on_are_no_heads(sheet) -> None:
    ruled(sheet, in_one=False, missing=4)
    page = sheet.page()
    spot = place(page, sheet.lattice(page), drawn=False)
    assert spot is not None
    inks, canvas = gather_inks(page, spot)
    assert not table_lines(inks, canvas.raster).rails


def test_rows_of_text_below_a_narrower_head_are_no_grid(sheet) -> None:
    for y in (-0.5, *np.arange(0, 9.5)):
        sheet.line([(0, 0.6 * y), (9, 0.6 * y)], 0.03)
    for x in np.linspace(0, 9, 6):
        sheet.line([(x, -0.3), (x, 5.4)], 0.03)
    assert not lattices_from_vectors(sheet.page())


def test_strips_under_clues_are_told_with_their_colour(sheet) -> None:
    """All along a side, or cell by cell; a small box is a mark."""
    sheet.bar(0, -0.9, 9, -0.02, "#3c4a3e")
    for row in range(9):
        sheet.bar(9.05, row + 0.03, 9.8, row + 0.97, "#dde4f0")
    sheet.bar(-0.7, 3.3, -0.3, 3.7, "#dde4f0")
    sheet.grid()
    strips = sheet.evidence().strips
    assert [colour for _, colour in strips] == [(60, 74, 62), *[(221, 228, 240)] * 9]
    assert strips[0][0] == pytest.approx((0, -0.9, 9, -0.02), abs=0.01)


def test_a_panel_as_large_as_the_grid_is_its_ground_whatever_rounding_makes_of_it(sheet) -> None:
    less = 0.01 / SIDE
    sheet.bar(less, less, 9 - less, 9 - less, "#f4f0e2")
    sheet.grid()
    assert nothing_else(sheet.evidence())
