"""Grids that a page description makes as a table: unequal rows, borders beside their lines, dots as lines."""

from __future__ import annotations

from bisect import bisect_right
from itertools import product

import numpy as np
import pytest

from recognise.evidence import Lattice
from recognise.vectors import exact, lattices_from_vectors, read_vectors
from tests.recognise.drawn_pages import LEFT, SIDE, TOP, Sheet, nothing_else

THIN, THICK = 0.025, 0.07


def dotted(sheet: Sheet, upright: bool, k: int, last: int, dot: float = THIN) -> None:
    """A line of square dots as far apart as they are wide."""
    for at in np.arange(0, last, 2 * dot):
        x, y = (k, at) if upright else (at, k)
        sheet.bar(x - dot / 2, y - dot / 2, x + dot / 2, y + dot / 2)


def dashes_in_one_path(sheet: Sheet, upright: bool, k: int, last: int) -> None:
    path = sheet.canvas.beginPath()
    for start in np.arange(0.03, last - 0.1, 0.17):
        across, along = (THIN * SIDE, 0.1 * SIDE) if upright else (0.1 * SIDE, THIN * SIDE)
        x, y = sheet.at(*((k - THIN / 2, start + 0.1) if upright else (start, k + THIN / 2)))
        path.rect(x, y, across, along)
    sheet.canvas.setFillColor("#000000")
    sheet.canvas.drawPath(path, stroke=0, fill=1)


def thick_lines(sheet: Sheet) -> None:
    for k in (0, 3, 6):
        sheet.line([(k, 0), (k, 6)], THICK)
        sheet.line([(0, k), (6, k)], THICK)


@pytest.mark.parametrize("make", [dotted, dashes_in_one_path])
def test_lines_of_many_filled_pieces_are_edges(tmp_path, make):
    sheet = Sheet(tmp_path / "page.pdf", 6, 6)
    for k in (1, 2, 4, 5):
        make(sheet, True, k, 6)
        make(sheet, False, k, 6)
    thick_lines(sheet)
    found = sheet.evidence()
    assert nothing_else(found)
    assert (found.edges.vertical > 0).all() and (found.edges.horizontal > 0).all()
    assert found.edges.vertical[:, 1] == pytest.approx(THIN, abs=0.005)
    assert found.edges.vertical[:, 3] == pytest.approx(THICK, abs=0.005)


def test_a_bar_upon_a_line_of_dots_stays_a_mark(tmp_path):
    sheet = Sheet(tmp_path / "page.pdf", 6, 6)
    for k in (1, 2, 4, 5):
        dotted(sheet, True, k, 6)
        dotted(sheet, False, k, 6)
    thick_lines(sheet)
    sheet.bar(1.95, 2.3, 2.05, 2.7)
    (shape,) = sheet.evidence().shapes
    assert shape.name == "bar"


class Table:
    """A sheet whose first row and column are narrower, as by half a border, and whose others differ a little."""

    LINES = (0.0, 0.94, 1.95, 2.97, 3.96, 4.98, 5.96, 7.0, 7.98, 9.0)

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet

    def at(self, x: float) -> float:
        """A coordinate in cells of the table in even cells."""
        k = min(max(bisect_right(range(10), x) - 1, 0), 8)
        return self.LINES[k] + (x - k) * (self.LINES[k + 1] - self.LINES[k])

    def points(self, points: list[tuple[float, float]]) -> list[tuple[float, float]]:
        return [(self.at(x), self.at(y)) for x, y in points]

    def grid(self) -> None:
        for k in range(10):
            for j in range(9):
                # Of one line some pieces are thick; their middle lies beside that of the others.
                thick = k % 3 == 0 or (k == 2 and j < 3)
                half, off = (THICK / 2, 0.0) if thick else (THIN / 2, 0.02)
                x, (y0, y1) = self.LINES[k] + off, self.LINES[j : j + 2]
                self.sheet.bar(x - half, y0, x + half, y1)
                self.sheet.bar(y0, x - half, y1, x + half)

    def evidence(self):
        page = self.sheet.page()
        xs, ys = (np.linspace(start, start + 9 * SIDE, 10) * page.scale for start in (LEFT, TOP))
        coarse = Lattice(np.stack(np.meshgrid(xs, ys), axis=-1))
        drawn = exact(coarse, lattices_from_vectors(page))
        assert drawn is not coarse
        found = read_vectors(page, drawn)
        assert found is not None
        return found


def test_the_unequal_rows_of_a_table_are_a_lattice(sheet):
    table = Table(sheet)
    table.grid()
    found = table.evidence()
    assert nothing_else(found)
    assert not found.fences
    assert (found.edges.vertical > 0).all() and (found.edges.horizontal > 0).all()


def test_marks_keep_their_places_in_the_unequal_rows_of_a_table(sheet):
    table = Table(sheet)
    table.grid()
    for cell in (0, 4, 8):
        sheet.disc(table.at(cell + 0.5), table.at(0.5), 0.36, "#cccccc")
    sheet.area(table.points([(3, 3), (4, 3), (4, 4), (3, 4)]), "#ffdd88")
    found = table.evidence()
    assert [disc.centre for disc in found.discs] == [pytest.approx((x + 0.5, 0.5), abs=0.02) for x in (0, 4, 8)]
    assert [str(tint.cell) for tint in found.tints] == ["r4c4"]
    assert not (found.shapes or found.unexplained)


def test_a_cage_set_in_unevenly_is_explained(sheet):
    table = Table(sheet)
    table.grid()
    sheet.canvas.setDash(3, 2)
    loop = [(0.1, 0.09), (1.92, 0.09), (1.92, 1.91), (0.1, 1.91)]
    sheet.line([(table.at(x), table.at(y)) for x, y in loop], 0.02, "#777777", closed=True)
    found = table.evidence()
    assert [len(fence.cells) for fence in found.fences] == [4]
    assert not found.shapes


def test_tinted_cells_may_lap_over_their_edges(sheet):
    sheet.bar(2.97, 3.0, 4.0, 4.03, "#ffdd88")
    sheet.bar(6.0, 4.96, 7.03, 6.0, "#ffdd88")
    sheet.grid()
    found = sheet.evidence()
    assert sorted(str(tint.cell) for tint in found.tints) == ["r4c4", "r6c7"]
    assert not found.shapes


def test_lines_drawn_evenly_over_the_unequal_rows_of_a_table_join_cells(sheet):
    table = Table(sheet)
    table.grid()
    sheet.line([(4.48, 1.5), (1.5, 4.48), (1.5, 7.5)], 0.03, "#aa66cc")
    sheet.disc(0.48, 0.48, 0.4, None, "#666666")
    sheet.line([(0.77, 0.77), (1.48, 1.48), (0.47, 1.48), (0.47, 2.4)], 0.03, "#666666")
    sheet.area([(0.37, 2.4), (0.47, 2.57), (0.57, 2.4)], "#666666")
    found = table.evidence()
    assert sorted(" ".join(map(str, trace.nodes)) for trace in found.traces) == [
        "r1c1 r2c1 r2c2 r3c1",
        "r2c5 r3c4 r4c3 r5c2 r6c2 r7c2 r8c2",
    ]
    assert not (found.unexplained or found.shapes)


def test_sparse_dots_in_a_row_are_an_edge_and_two_bars_are_none(tmp_path):
    sheet = Sheet(tmp_path / "page.pdf", 6, 6)
    thick_lines(sheet)
    for k in (1, 2, 4, 5):
        for at in np.arange(0.02, 6, 0.08):
            sheet.line([(k, at), (k, at + 0.02)], THIN)
            sheet.line([(at, k), (at + 0.02, k)], THIN)
    found = sheet.evidence()
    assert nothing_else(found)
    assert (found.edges.vertical > 0).all() and (found.edges.horizontal > 0).all()


def rectangle(sheet: Sheet, path, corners: tuple[float, float, float, float], turns: int = 1) -> None:
    """A rectangle of a path; `turns` -1 for the other way round, a hole in another."""
    left, top, right, bottom = corners
    points = [(left, top), (right, top), (right, bottom), (left, bottom)][::turns]
    path.moveTo(*sheet.at(*points[0]))
    for point in points[1:]:
        path.lineTo(*sheet.at(*point))
    path.close()


def test_thick_lines_as_one_outline_over_thin_ones_as_one_outline(sheet):
    """The thin ones run on under the thick ones, and are one area with a hole for each cell."""
    sheet.canvas._fillMode = 1
    sheet.canvas.setFillColor("#1a1a1a")
    thin, thick = sheet.canvas.beginPath(), sheet.canvas.beginPath()
    half = 0.011
    rectangle(sheet, thin, (-half, -half, 9 + half, 9 + half))
    for column, row in product(range(9), repeat=2):
        rectangle(sheet, thin, (column + half, row + half, column + 1 - half, row + 1 - half), -1)
    half = 0.0275
    for k in (3, 6):
        rectangle(sheet, thick, (k - half, -half, k + half, 9 + half))
        rectangle(sheet, thick, (-half, k - half, 9 + half, k + half))
    sheet.canvas.drawPath(thin, stroke=0, fill=1)
    sheet.canvas.drawPath(thick, stroke=0, fill=1)
    edges = sheet.evidence().edges
    assert edges.vertical[0] == pytest.approx([0.022] * 3 + [0.055] + [0.022] * 2 + [0.055] + [0.022] * 3, abs=0.002)
