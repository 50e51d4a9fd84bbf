"""Tables whose cells draw borders of their own."""

from __future__ import annotations

import numpy as np
import pytest

from tests.recognise.drawn_pages import SIDE, Sheet, nothing_else

THIN, THICK = 0.02, 0.07
LIGHT, DARK = "#a8a8a8", "#545454"


def borders(sheet: Sheet, room: float, shades: tuple[str, str], count: int = 6, box: int = 3) -> None:
    """Four bars in each cell, so far apart from those of the next one; thick ones at the end of each box, in black."""
    side = 1 - room
    for row in range(count):
        for column in range(count):
            x0, y0 = column + room / 2, row + room / 2
            x1, y1 = x0 + side, y0 + side
            right, below = ((k % box == box - 1 and k < count - 1) for k in (column, row))
            wide, high = THICK if right else THIN, THICK if below else THIN
            sheet.bar(x0, y0, x1, y0 + THIN, shades[0])
            sheet.bar(x0, y0, x0 + THIN, y1, shades[0])
            sheet.bar(x1 - wide, y0, x1, y1, "#000000" if right else shades[1])
            sheet.bar(x0, y1 - high, x1, y1, "#000000" if below else shades[1])


@pytest.mark.parametrize("room", [0.0, 0.08])
@pytest.mark.parametrize("shades", [("#000000", "#000000"), (DARK, LIGHT)])
def test_the_borders_of_two_cells_are_one_lattice_line(tmp_path, room, shades):
    sheet = Sheet(tmp_path / "page.pdf", 6, 6)
    borders(sheet, room, shades)
    found = sheet.evidence()
    assert nothing_else(found)
    for lines in (found.edges.vertical.T, found.edges.horizontal):
        inner = lines[1:-1].mean(axis=1)
        assert inner.argmax() == 2
        assert inner[2] > 1.5 * np.delete(inner, 2).max()


def test_cells_that_share_their_lines_have_no_borders_of_their_own(tmp_path):
    sheet = Sheet(tmp_path / "page.pdf", 6, 6)
    for row in range(6):
        for column in range(6):
            x, y = sheet.at(column, row + 1)
            sheet.canvas.setLineWidth(0.02 * SIDE)
            sheet.canvas.rect(x, y, SIDE, SIDE)
    found = sheet.evidence()
    assert nothing_else(found)
    assert found.edges.vertical[:, 1:-1] == pytest.approx(0.02, abs=0.005)
