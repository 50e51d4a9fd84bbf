"""The vector reader beside a grid: bullets of rules are no marks of the puzzle."""

from __future__ import annotations

import pytest

from tests.recognise.drawn_pages import SIDE, Sheet, nothing_else


def written(sheet: Sheet, x: float, y: float, text: str, size: float) -> None:
    """Text that begins at a point."""
    sheet.canvas.setFont("Helvetica", size * SIDE)
    sheet.canvas.setFillColor("#000000")
    across, up = sheet.at(x, y)
    sheet.canvas.drawString(across, up - 0.35 * size * SIDE, text)


@pytest.mark.parametrize(("x", "y"), [(9.3, 1.2), (0.1, 9.5), (-3.5, 4.1), (0.2, -0.6)])
def test_a_disc_before_running_text_beside_the_grid_is_a_bullet(sheet, x, y):
    sheet.grid()
    sheet.disc(x, y, 0.05, "#000000")
    written(sheet, x + 0.3, y, "A digit never repeats", 0.25)
    assert nothing_else(sheet.evidence())


def test_a_square_and_a_dash_may_be_bullets(sheet):
    sheet.grid()
    sheet.bar(9.3, 1.2, 9.4, 1.3)
    written(sheet, 9.5, 1.25, "Once in a row", 0.25)
    sheet.bar(9.3, 2.24, 9.45, 2.27)
    written(sheet, 9.6, 2.25, "Once in a column", 0.25)
    assert nothing_else(sheet.evidence())


@pytest.mark.parametrize(("text", "x"), [("23", 9.5), ("", 9.5), ("far from it", 11.0), ("9 8 7 6", 9.5)])
def test_a_disc_beside_the_grid_without_words_right_behind_it_is_shown(sheet, text, x):
    sheet.grid()
    sheet.disc(9.3, 1.5, 0.05, "#000000")
    written(sheet, x, 1.5, text, 0.25)
    assert len(sheet.evidence().discs) == 1


def test_a_disc_too_large_for_the_text_behind_it_is_shown(sheet):
    sheet.grid()
    sheet.disc(9.4, 1.5, 0.3, None, "#000000")
    written(sheet, 9.8, 1.5, "a word", 0.25)
    assert len(sheet.evidence().discs) == 1


def test_a_disc_on_the_outer_edge_is_no_bullet(sheet):
    sheet.grid()
    sheet.disc(8.97, 1.5, 0.06, "#000000")
    written(sheet, 9.2, 1.5, "a word", 0.25)
    assert len(sheet.evidence().discs) == 1


@pytest.mark.parametrize("y", [-0.45, 9.5])
def test_faces_between_words_above_or_below_the_grid_are_decoration(sheet, y):
    sheet.grid()
    written(sheet, 0.1, y, "How hard was it", 0.25)
    for x in (2.3, 3.2, 4.1):
        sheet.disc(x, y, 0.2, None, "#204080")
        sheet.disc(x - 0.06, y - 0.06, 0.02, "#204080")
        sheet.disc(x + 0.06, y - 0.06, 0.02, "#204080")
    assert nothing_else(sheet.evidence())


@pytest.mark.parametrize(("text", "x"), [("12", 2.3), ("12", 1.8), ("How hard was it", 4.0)])
def test_a_ring_by_a_number_or_far_from_words_is_shown(sheet, text, x):
    sheet.grid()
    written(sheet, 0.1, 9.5, "Sums", 0.25)
    sheet.disc(2.3, 9.5, 0.2, None, "#204080")
    written(sheet, x, 9.5, text, 0.25)
    assert len(sheet.evidence().discs) == 1
