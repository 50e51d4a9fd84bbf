"""Which lines of a page as vectors make a lattice, and where exactly it lies."""

from __future__ import annotations

import numpy as np
import pytest

from recognise.grids import boxes_from, find_grids
from recognise.vectors import lattices_from_vectors, read_vectors
from schema.cells import Cell
from tests.recognise.drawn_pages import LEFT, SIDE, Sheet, nothing_else
from tests.recognise.test_vector_lattices import THIN


def test_a_frame_of_boxes_with_round_corners_is_the_grids(tmp_path) -> None:
    sheet = Sheet(tmp_path / "page.pdf", 12, 12)
    sheet.canvas.setLineWidth(0.05 * SIDE)
    for column in range(0, 12, 3):
        for row in range(0, 12, 4):
            low, high = sheet.at(column + 0.02, row + 3.98), sheet.at(column + 2.98, row + 0.02)
            sheet.canvas.roundRect(*low, high[0] - low[0], high[1] - low[1], 0.15 * SIDE)
    for k in range(1, 12):
        sheet.line([(k, 0.03), (k, 11.97)], THIN)
        sheet.line([(0.03, k), (11.97, k)], THIN)
    page = sheet.page()
    (lattice,) = lattices_from_vectors(page)
    assert (lattice.rows, lattice.columns) == (12, 12)
    # Where two boxes meet, the lattice line runs in their middle.
    assert lattice.points[0, 1:-1, 0] / page.scale == pytest.approx(LEFT + SIDE * np.arange(1, 12), abs=0.02)


@pytest.mark.parametrize("apart", [0.04, 0.058, 0.1])
def test_a_line_round_the_frame_is_not_the_lattices(tmp_path, apart: float) -> None:
    sheet = Sheet(tmp_path / "page.pdf", 6, 6)
    sheet.grid(box=2)
    sheet.line([(-apart, -apart), (6 + apart, -apart), (6 + apart, 6 + apart), (-apart, 6 + apart)], 0.012, closed=True)
    page = sheet.page()
    (lattice,) = lattices_from_vectors(page)
    assert lattice.points[0, :, 0] / page.scale == pytest.approx(LEFT + SIDE * np.arange(7), abs=0.02)


def test_lines_of_dashes_that_are_drawn_one_by_one_are_lines(sheet) -> None:
    for k in range(0, 10, 3):
        sheet.line([(k, 0), (k, 9)], 0.05)
        sheet.line([(0, k), (9, k)], 0.05)
    for k in (1, 2, 4, 5, 7, 8):
        for start in np.arange(0, 8.9, 0.2):
            sheet.line([(k, start), (k, start + 0.11)], THIN)
            sheet.line([(start, k), (start + 0.11, k)], THIN)
    (lattice,) = lattices_from_vectors(sheet.page())
    assert (lattice.rows, lattice.columns) == (9, 9)


def test_a_lattice_lies_in_the_middle_of_its_double_lines(sheet) -> None:
    for k in range(10):
        for off in (-0.03, 0.03) if k % 3 == 0 else (0.0,):
            sheet.line([(k + off, 0), (k + off, 9)], 0.012)
            sheet.line([(0, k + off), (9, k + off)], 0.012)
    page = sheet.page()
    (lattice,) = lattices_from_vectors(page)
    assert lattice.points[0, :, 0] / page.scale == pytest.approx(LEFT + SIDE * np.arange(10), abs=0.02)


def test_the_steps_of_gradients_beside_lines_are_no_second_strokes(sheet) -> None:
    for row in (6, 7):
        for step in range(10):
            sheet.bar(
                0, row + step / 10, 7, row + (step + 1) / 10, f"#{200 + step:02x}{200 + step:02x}{200 + step:02x}"
            )
    sheet.grid(THIN, THIN)
    page = sheet.page()
    (lattice,) = lattices_from_vectors(page)
    steps = np.diff(lattice.points[:, 0, 1]) / page.scale
    assert np.abs(steps) == pytest.approx(SIDE, abs=0.02)


@pytest.mark.parametrize(("ground", "line"), [("#d8e4d0", "#ffffff"), ("#15202b", "#e0e6ec")])
def test_light_lines_on_tints_or_on_dark_ground_make_a_grid(sheet, ground, line):
    for r in range(0, 9, 3):
        for c in range(0, 9, 3):
            sheet.bar(c, r, c + 3, r + 3, ground)
    for k in range(10):
        sheet.line([(k, 0), (k, 9)], 0.03 if k % 3 else 0.09, line)
        sheet.line([(0, k), (9, k)], 0.03 if k % 3 else 0.09, line)
    for k in range(9):
        sheet.text(k + 0.5, (k * 4) % 9 + 0.5, str(k + 1), colour="#000000" if line == "#ffffff" else "#ffffff")
    page = sheet.page()
    (found,) = find_grids(page.image, lattices_from_vectors(page))
    evidence = read_vectors(page, found)
    assert evidence is not None
    assert (evidence.edges.vertical > 0).all()
    assert (evidence.edges.horizontal > 0).all()
    assert len(evidence.glyphs) == 9
    assert [box[0] for box in boxes_from(evidence.edges).cells] == [Cell(r, c) for r in (1, 4, 7) for c in (1, 4, 7)]


def test_boxes_for_clues_on_all_sides_make_lines_longer_than_the_lattice(tmp_path):
    sheet = Sheet(tmp_path / "page.pdf", 4, 4)
    sheet.grid(box=2)
    # Boxes that lie against the grid: two rows and two columns have one on either side.
    for left, top in [(-1, 1), (4, 1), (-1, 2), (4, 2), (1, -1), (1, 4), (2, -1), (2, 4)]:
        sheet.line([(left, top), (left + 1, top), (left + 1, top + 1), (left, top + 1)], 0.02, "#666666", closed=True)
    (lattice,) = lattices_from_vectors(sheet.page())
    assert (lattice.rows, lattice.columns) == (4, 4)


def test_borders_of_cells_in_two_shades_are_lattice_lines(sheet):
    sheet.grid(0.01, 0.01)
    canvas = sheet.canvas
    for column in range(9):
        outer = [(column, 1), (column + 1, 1), (column + 1, 2), (column, 2)]
        inner = [(column + 0.03, 1.03), (column + 0.97, 1.03), (column + 0.97, 1.97), (column + 0.03, 1.97)]
        # Each side is the whole ring, cut to a trapezoid; two sides are lit and two lie in the shade.
        for side in range(4):
            ends = [outer[side], outer[side - 3], inner[side - 3], inner[side]]
            canvas.saveState()
            canvas.clipPath(sheet.path_of(ends, True), stroke=0, fill=0)
            ring = sheet.path_of(outer, True)
            for number, point in enumerate(inner):
                (ring.lineTo if number else ring.moveTo)(*sheet.at(*point))
            ring.close()
            canvas.setFillColor(("#808080", "#737373")[side % 2])
            canvas._fillMode = 0
            canvas.drawPath(ring, stroke=0, fill=1)
            canvas.restoreState()
    found = sheet.evidence()
    assert nothing_else(found)


def test_lines_that_stop_short_of_each_other_are_no_lattice(sheet):
    for k in range(1, 8):
        far = 9 if k == 1 else 5.1
        sheet.line([(0, k), (far, k)], 0.02)
        sheet.line([(k, 0), (k, far)], 0.02)
    assert not lattices_from_vectors(sheet.page())


def test_cells_cut_out_of_one_area_with_a_thick_frame_are_all_of_the_lattice(sheet) -> None:
    """Lines between cells end where the frame begins, farther from its middle than lines that touch lie apart."""
    path = sheet.canvas.beginPath()
    frame, thin = 0.17, 0.02
    boxes = [(-frame, -frame, 9 + frame, 9 + frame)]
    boxes += [(c + thin, r + thin, c + 1 - thin, r + 1 - thin) for r in range(9) for c in range(9)]
    for place, (x0, y0, x1, y1) in enumerate(boxes):
        corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
        for step, corner in enumerate(corners[:: -1 if place else 1]):
            (path.lineTo if step else path.moveTo)(*sheet.at(*corner))
        path.close()
    sheet.canvas.drawPath(path, stroke=0, fill=1)
    (lattice,) = lattices_from_vectors(sheet.page())
    assert (lattice.rows, lattice.columns) == (9, 9)
