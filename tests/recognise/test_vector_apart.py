"""Grids whose cells stand apart, each a box of its own."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from recognise.grids import find_grids
from recognise.vectors import lattices_from_vectors, read_vectors
from recognise.vectors.apart import gap_lattice
from tests.recognise.drawn_pages import SIDE, Sheet

CELL, NEAR, FAR = 0.93, 0.04, 0.13
"""Side of a cell's box, the gap to the next, and that between blocks of three."""


def start(k: int) -> float:
    """Where the box of row or column `k` begins."""
    return 1 / 15 + k * (CELL + NEAR) + k // 3 * (FAR - NEAR)


def cells(sheet: Sheet, stroke: str | None, fill: str | None, corner: float, count: int = 9) -> None:
    sheet.canvas.setLineWidth(0.6)
    sheet.canvas.setStrokeColor(stroke or "#000000")
    sheet.canvas.setFillColor(fill or "#000000")
    for row in range(count):
        for column in range(count):
            x, y = sheet.at(start(column), start(row) + CELL)
            side = CELL * SIDE
            sheet.canvas.roundRect(
                x, y, side, side, corner * SIDE, stroke=int(stroke is not None), fill=int(bool(fill))
            )


@pytest.mark.parametrize(
    ("stroke", "fill", "corner"), [("#000000", None, 0), (None, "#dfe7f3", 0), ("#556677", "#f4f6fa", 0.08)]
)
def test_the_gaps_between_cells_are_the_lattice_lines(sheet, stroke, fill, corner):
    cells(sheet, stroke, fill, corner)
    sheet.disc(start(4) + CELL / 2, start(5) + CELL / 2, 0.37, "#c4c4c4")
    for k in range(9):
        sheet.text(start(k) + CELL / 2, start(k * 4 % 9) + CELL / 2, str(k + 1))
    page = sheet.page()
    (lattice,) = find_grids(page.image, lattices_from_vectors(page))
    assert lattice.points.shape == (10, 10, 2)
    found = read_vectors(page, lattice)
    assert found is not None
    thick = [0, 3, 6, 9]
    inner = np.delete(np.arange(10), thick)
    assert (found.edges.vertical[:, inner] > 0).all()
    assert found.edges.vertical[:, [3, 6]].min() > 2 * found.edges.vertical[:, inner].max()
    assert found.edges.horizontal[[3, 6]].min() > 2 * found.edges.horizontal[inner].max()
    assert sorted(glyph.text for glyph in found.glyphs) == [str(k) for k in range(1, 10)]
    assert len(found.discs) == 1 and not found.tints and not found.shapes


def test_few_boxes_or_boxes_that_touch_or_lie_anyhow_are_none(sheet, tmp_path):
    cells(sheet, "#000000", None, 0, count=3)
    assert gap_lattice(sheet.page()) is None
    touching, anyhow = Sheet(tmp_path / "touching.pdf"), Sheet(tmp_path / "anyhow.pdf")
    for k in range(36):
        row, column = divmod(k, 6)
        touching.line([(column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1)], 0.02, closed=True)
        x, y = column * 1.1 + 0.05 * (k * 7 % 5), row * 1.1 + 0.06 * (k * 3 % 5)
        anyhow.line([(x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)], 0.02, closed=True)
    assert gap_lattice(touching.page()) is None and gap_lattice(anyhow.page()) is None


def test_tiles_cut_from_even_squares_are_smaller_beside_a_wider_gap_and_tinted_ones_stay_tints(sheet):
    teal = {(0, 1), (4, 4), (7, 2)}
    for row in range(9):
        for column in range(9):
            left, top, right, bottom = (0.11 / 2 if k % 3 == 0 else 0.02 for k in (column, row, column + 1, row + 1))
            sheet.canvas.setFillColor("#8fc1c4" if (row, column) in teal else "#e9e6df")
            x, y = sheet.at(column + left, row + 1 - bottom)
            sheet.canvas.roundRect(
                x, y, (1 - left - right) * SIDE, (1 - top - bottom) * SIDE, 0.05 * SIDE, stroke=0, fill=1
            )
    for k in range(9):
        sheet.text(k + 0.5, k * 4 % 9 + 0.5, str(k + 1))
    page = sheet.page()
    (lattice,) = find_grids(page.image, lattices_from_vectors(page))
    found = read_vectors(page, lattice)
    assert found is not None and lattice.points.shape == (10, 10, 2)
    assert found.edges.vertical[:, [3, 6]].min() > 2 * found.edges.vertical[:, [1, 2, 4, 5, 7, 8]].max()
    assert {(tint.cell.row - 1, tint.cell.column - 1) for tint in found.tints} == teal
    assert not found.shapes


@pytest.mark.parametrize("rows", [9, 3])
def test_frames_of_one_look_within_the_lattice_lines_mark_nothing_where_every_cell_has_one(sheet, rows):
    """Grids of tiles between box borders; a smaller frame within a tile marks its cell."""
    sheet.grid()
    for row, column in itertools.product(range(rows), range(9)):
        sheet.canvas.setStrokeColor("#444444")
        sheet.canvas.setLineWidth(0.02 * SIDE)
        sheet.canvas.roundRect(*sheet.at(column + 0.07, row + 0.93), 0.86 * SIDE, 0.86 * SIDE, 0.12 * SIDE)
    sheet.line([(4.2, 1.2), (4.8, 1.2), (4.8, 1.8), (4.2, 1.8)], 0.04, "#8a8a8a", closed=True)
    assert len(sheet.evidence().shapes) == (1 if rows == 9 else 28)


def test_white_tiles_on_a_tinted_page_mark_nothing_where_every_cell_has_one(sheet):
    sheet.area([(-3, -3), (12, -3), (12, 12), (-3, 12)], "#eef1f4")
    sheet.canvas.setFillColor("#ffffff")
    for row, column in itertools.product(range(9), range(9)):
        at = sheet.at(column + 0.04, row + 0.96)
        sheet.canvas.roundRect(*at, 0.92 * SIDE, 0.92 * SIDE, 0.12 * SIDE, stroke=0, fill=1)
    sheet.grid()
    assert not sheet.evidence().shapes


def _framed(sheet: Sheet, row: int, column: int, inside: float, width: float = 0.02) -> None:
    near, far = inside, 1 - inside
    corners = [(near, near), (far, near), (far, far), (near, far)]
    sheet.line([(column + x, row + y) for x, y in corners], width, "#888888", closed=True)


@pytest.mark.parametrize("case", ["within", "smaller", "thicker", "missing"])
def test_a_frame_that_differs_from_those_in_all_other_cells_marks_its_cell(sheet, case):
    """In their colour: a second one within, a smaller or a thicker one, and where all other cells have one, none."""
    marked = [(1, 1), (4, 4)]
    sheet.grid()
    for place in itertools.product(range(9), range(9)):
        if place not in marked or case == "within":
            _framed(sheet, *place, 0.06)
    for place in marked if case != "missing" else ():
        _framed(sheet, *place, *{"within": (0.18,), "smaller": (0.18,), "thicker": (0.06, 0.08)}[case])
    shapes = sheet.evidence().shapes
    assert len(shapes) >= 2


def test_tiles_of_two_colours_that_each_lie_on_a_shadow_are_the_cells_and_tell_two_tints(sheet):
    sheet.area([(-3, -3), (12, -3), (12, 12), (-3, 12)], "#203a55")
    tiles = {(row, column): (row // 3 + column // 3) % 2 for row, column in itertools.product(range(9), range(9))}
    for (row, column), kind in tiles.items():
        for aside, colour in ((0.05, "#14283c"), (0.0, ("#f7d9c4", "#d5ecd0")[kind])):
            sheet.canvas.setFillColor(colour)
            at = sheet.at(column + 0.04 + aside, row + 0.96 + aside)
            sheet.canvas.roundRect(*at, 0.92 * SIDE, 0.92 * SIDE, 0.12 * SIDE, stroke=0, fill=1)
    page = sheet.page()
    (lattice,) = lattices_from_vectors(page)
    left = (lattice.points[0, :, 0] / page.scale - 100) / SIDE
    assert left == pytest.approx(np.arange(10), abs=0.005)
    found = read_vectors(page, lattice)
    assert found is not None and not found.shapes
    assert {(t.cell.row - 1, t.cell.column - 1) for t in found.tints} == {at for at, kind in tiles.items() if kind}
