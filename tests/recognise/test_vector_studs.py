"""Small crosses or dots on all lattice points."""

from __future__ import annotations

import pytest

from tests.recognise.drawn_pages import Sheet, nothing_else


def studded(sheet: Sheet, manner: str, count: int) -> None:
    sheet.grid()
    for x in range(1, 9):
        for y in range(1, count + 1):
            if manner == "dots":
                sheet.disc(x, y, 0.06, "#000000")
            else:
                sheet.line([(x - 0.06, y), (x + 0.06, y)], 0.05, "#444444")
                sheet.line([(x, y - 0.06), (x, y + 0.06)], 0.05, "#444444")


@pytest.mark.parametrize("manner", ["dots", "crosses"])
def test_studs_on_every_lattice_point_belong_to_the_lattice(sheet, manner):
    studded(sheet, manner, 8)
    assert nothing_else(sheet.evidence())


@pytest.mark.parametrize("manner", ["dots", "crosses"])
def test_on_some_of_them_they_are_marks(sheet, manner):
    studded(sheet, manner, 2)
    assert not nothing_else(sheet.evidence())
