"""Hatched cells: the same tint, however the hatching is drawn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from recognise.evidence import Evidence
from recognise.vectors import read_vectors
from schema.cells import Cell
from tests.recognise.drawn_pages import LEFT, SIDE, TOP, Sheet, nothing_else

CELLS = {Cell(3, 4), Cell(3, 5), Cell(4, 5), Cell(8, 1)}
GREY = "#999999"
STEP, WIDTH = 0.13, 0.02

pytestmark = pytest.mark.usefixtures("grid_first")


def slants(cell: Cell):
    """The strokes of one cell, from its upper or right side to its left or lower one."""
    left, top = cell.column - 1, cell.row - 1
    for far in np.arange(STEP, 2, STEP):
        yield (left + min(far, 1), top + max(0, far - 1)), (left + max(0, far - 1), top + min(far, 1))


def cell_by_cell(sheet: Sheet) -> None:
    for cell in CELLS:
        for start, end in slants(cell):
            sheet.line([start, end], WIDTH, GREY)


def through_a_window(sheet: Sheet) -> None:
    """Strokes that run on far beyond their cell, which is cut out of them."""
    for cell in CELLS:
        sheet.canvas.saveState()
        window = sheet.canvas.beginPath()
        window.rect(*sheet.at(cell.column - 1, cell.row), SIDE, SIDE)
        sheet.canvas.clipPath(window, stroke=0)
        for far in np.arange(-2, 2, STEP):
            x, y = cell.column + far, cell.row
            sheet.line([(x - 2, y + 1), (x + 1, y - 2)], WIDTH, GREY)
        sheet.canvas.restoreState()


def filled_bars(sheet: Sheet) -> None:
    aside = np.array((1, 1)) / 2**0.5 * WIDTH / 2
    for cell in CELLS:
        for start, end in slants(cell):
            one, other = np.array(start), np.array(end)
            if np.hypot(*(other - one)) > 0.1:
                sheet.area([tuple(p) for p in (one + aside, other + aside, other - aside, one - aside)], GREY)


def across_and_clipped(sheet: Sheet) -> None:
    """Long strokes over the whole grid, of which the cells cut out their share."""
    sheet.canvas.saveState()
    path = sheet.canvas.beginPath()
    for cell in CELLS:
        x, y = sheet.at(cell.column - 1, cell.row)
        path.rect(x, y, *np.subtract(sheet.at(1, 0), sheet.at(0, 1)))
    sheet.canvas.clipPath(path, stroke=0, fill=0)
    for far in np.arange(STEP, 18, STEP):
        sheet.line([(min(far, 9), max(0, far - 9)), (max(0, far - 9), min(far, 9))], WIDTH, GREY)
    sheet.canvas.restoreState()


def level(sheet: Sheet) -> None:
    for cell in CELLS:
        for y in np.arange(0.1, 0.95, 0.2):
            sheet.line([(cell.column - 1, cell.row - 1 + y), (cell.column, cell.row - 1 + y)], WIDTH, GREY)


def without_tints(found: Evidence) -> Evidence:
    return replace(found, tints=())


@pytest.mark.parametrize("make", [cell_by_cell, through_a_window, filled_bars, across_and_clipped, level])
def test_hatching_is_a_tint(sheet: Sheet, make: Callable[[Sheet], None]) -> None:
    make(sheet)
    found = sheet.evidence()
    assert {tint.cell for tint in found.tints} == CELLS
    assert all(tint.strokes for tint in found.tints)
    assert nothing_else(without_tints(found))


def test_three_lines_side_by_side_are_lines(sheet: Sheet) -> None:
    for start in ((2, 0), (3, 0), (4, 0)):
        sheet.line([(start[0] + 0.5, 0.5), (start[0] - 1.5, 2.5)], 0.05, GREY)
    found = sheet.evidence()
    assert not found.tints
    assert len(found.traces) == 3


def test_the_strokes_of_a_word_are_no_hatching(sheet: Sheet) -> None:
    """Four upright strokes that do not reach from side to side."""
    for x in (0.2, 0.4, 0.6, 0.8):
        sheet.line([(4 + x, 4.25), (4 + x, 4.75)], 0.03)
    assert not sheet.evidence().tints


@pytest.mark.parametrize("apart", [0.2, 0.25])
def test_a_cell_full_of_dots_is_tinted_and_a_dotted_line_is_not(sheet, apart):
    sheet.grid()
    places = np.arange(apart / 2, 1, apart)
    for x in places:
        for y in places:
            sheet.disc(2 + x, 3 + y, 0.025, "#444444")
    for t in np.arange(0.5, 2.51, 0.125):
        sheet.disc(5 + t, 5 + t, 0.03, "#444444")
    found = sheet.evidence()
    assert [str(tint.cell) for tint in found.tints] == ["r4c3"]
    assert [" ".join(map(str, trace.nodes)) for trace in found.traces] == ["r6c6 r7c7 r8c8"]
    assert not found.discs


def test_what_a_pattern_paints_in_a_cell_is_its_hatching(sheet):
    """PDFs may fill a cell with a tiling pattern; the outlines of what that paints come with the path."""
    sheet.bar(3, 2, 4, 3, "#dddddd")
    page = sheet.page()
    stripe = tuple((LEFT + x * SIDE, TOP + y * SIDE) for x, y in ((3.2, 2), (3.3, 2), (3.3, 3), (3.2, 3)))
    paths = tuple(replace(path, grain=(stripe,)) if path.fill else path for path in page.vectors.paths)
    found = read_vectors(replace(page, vectors=replace(page.vectors, paths=paths)), sheet.lattice(page))
    (tint,) = found.tints
    assert str(tint.cell) == "r3c4"
    assert np.allclose(tint.strokes, [[(3.2, 2), (3.3, 2), (3.3, 3), (3.2, 3)]], atol=0.01)
