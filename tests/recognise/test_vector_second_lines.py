"""Lattice lines that a program rules twice, with a thin and with a thick pen, not quite in one place."""

from __future__ import annotations

import pytest

from tests.recognise.drawn_pages import Sheet, nothing_else

THIN, THICK = 0.012, 0.06


def _ruled(sheet: Sheet, drift: float) -> None:
    """The frames of boxes with a thick pen, and all cells with a thin one whose columns are a little wider."""
    for k in range(10):
        sheet.line([(0, k), (9, k)], THICK if k % 3 == 0 else THIN)
        if k % 3 == 0:
            sheet.line([(k, 0), (k, 9)], THICK)
    for k in (1, 2, 4, 5, 7, 8):
        sheet.line([(k, 0), (k, 9)], THIN)
    for k in (3, 6):
        for row in range(9):
            x = k + drift * k / 6
            sheet.line([(x, row), (x + 0.004, row + 1)], THIN)


@pytest.mark.parametrize("drift", [0.0, 0.055, 0.09])
def test_the_thin_lines_beside_thick_ones_mark_nothing(sheet, drift):
    _ruled(sheet, drift)
    found = sheet.evidence()
    assert nothing_else(found)
    assert (found.edges.vertical[:, [3, 6]] > 0.05).all()


@pytest.mark.parametrize("what", ["short", "other pen"])
def test_a_line_that_does_not_run_from_side_to_side_or_has_a_pen_of_its_own_is_asked_about(sheet, what):
    sheet.grid(THIN, THICK)
    last = 6 if what == "short" else 9
    for row in range(last):
        sheet.line([(3.07, row), (3.07, row + 1)], THIN, "#000000" if what == "short" else "#c02020")
    assert len(sheet.evidence().shapes) == last
