"""A second line along the outline of a grid, drawn at once or cell by cell."""

from __future__ import annotations

import pytest

from tests.recognise.drawn_pages import nothing_else

pytestmark = pytest.mark.usefixtures("grid_first")


def _bars(sheet, sides: int) -> None:
    """A bar of ink 0.05 cells inside of so many sides, for each cell one."""
    for k in range(9):
        bars = [(k, 0.04, k + 1, 0.06), (8.94, k, 8.96, k + 1), (k, 8.94, k + 1, 8.96), (0.04, k, 0.06, k + 1)]
        for bar in bars[:sides]:
            sheet.bar(*bar)


def test_a_second_line_all_round_marks_nothing(sheet):
    _bars(sheet, 4)
    assert nothing_else(sheet.evidence())


def test_along_some_sides_it_is_asked_about(sheet):
    _bars(sheet, 3)
    assert len(sheet.evidence().shapes) == 27
