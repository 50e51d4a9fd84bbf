"""A rendered picture drawn again as paths, from pages of our own without their vectors."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from recognise.evidence import Evidence
from recognise.glyphs import GlyphReader
from recognise.vectors import read_vectors
from recognise.vectors.rendered import areas_of, is_rendered
from recognise.vectors.retraced import retraced
from schema.cells import Cell
from tests.recognise.drawn_pages import Sheet, ends


@pytest.fixture(scope="module")
def reader() -> GlyphReader:
    return GlyphReader()


def seen(sheet: Sheet, reader: GlyphReader) -> Evidence:
    page = sheet.page()
    again = retraced(replace(page, vectors=None), sheet.lattice(page))
    assert again is not None
    found = read_vectors(*again, reader)
    assert found is not None
    return found


def test_givens_and_lattice_lines_of_a_picture(sheet, reader):
    sheet.grid()
    for cell, digit in (("r1c1", "5"), ("r4c7", "8"), ("r9c9", "2")):
        sheet.text(*Cell.parse(cell).centre, digit, 0.6)
    found = seen(sheet, reader)
    assert {(Cell(int(g.centre[1]) + 1, int(g.centre[0]) + 1), g.text) for g in found.glyphs} == {
        (Cell(1, 1), "5"), (Cell(4, 7), "8"), (Cell(9, 9), "2"),
    }  # fmt: skip
    assert (found.edges.horizontal > 0).all()
    assert found.edges.vertical[:, 3].min() > 1.5 * found.edges.vertical[:, 4].max()
    assert not (found.shapes or found.unexplained or found.tints or found.traces)


def test_a_cage_whose_wall_crosses_and_touches_lattice_lines(sheet, reader):
    sheet.grid(thick=0.1)
    sheet.line([(2.09, 0.09), (2.91, 0.09), (2.91, 1.91), (2.09, 1.91)], 0.04, closed=True)
    sheet.line([(4.09, 1.09), (6.91, 1.09), (6.91, 1.91), (4.09, 1.91)], 0.04, closed=True)
    found = seen(sheet, reader)
    assert {fence.cells for fence in found.fences} == {
        (Cell(1, 3), Cell(2, 3)), (Cell(2, 5), Cell(2, 6), Cell(2, 7)),
    }  # fmt: skip
    assert not found.shapes


def test_a_thermometer_of_another_colour_under_a_lattice_and_a_given(sheet, reader):
    sheet.line(ends("r2c2 r3c3 r3c4 r4c4"), 0.3, "#c8c8c8")
    sheet.disc(*Cell.parse("r2c2").centre, 0.36, "#c8c8c8")
    sheet.grid()
    sheet.text(*Cell.parse("r3c4").centre, "7", 0.6)
    found = seen(sheet, reader)
    (trace,) = found.traces
    assert {trace.nodes[node] for node, _ in trace.discs} == {Cell.parse("r2c2")}
    assert len(trace.nodes) == 4
    assert [glyph.text for glyph in found.glyphs] == ["7"]


def test_a_ring_and_the_line_that_ends_in_it_through_a_corner(sheet, reader):
    sheet.grid()
    sheet.line([(2.75, 2.75), (3.5, 3.5), (5.5, 3.5)], 0.08, "#202020")
    sheet.disc(2.5, 2.5, 0.36, "#ffffff", "#202020", 0.04)
    found = seen(sheet, reader)
    (trace,) = found.traces
    assert set(trace.nodes) == {Cell(3, 3), Cell(4, 4), Cell(4, 5), Cell(4, 6)}
    assert {trace.nodes[node] for node, _ in trace.discs} == {Cell(3, 3)}


def test_a_tint_is_that_of_its_cell_though_a_tube_stands_on_it(sheet, reader):
    sheet.bar(2, 2, 3, 3, "#d8d8d8")
    sheet.grid()
    sheet.canvas.setLineCap(1)
    sheet.line(ends("r2c2 r3c3 r3c4"), 0.32, "#30a0a0")
    sheet.line(ends("r2c2 r3c3 r3c4"), 0.24, "#ffffff")
    found = seen(sheet, reader)
    assert [tint.cell for tint in found.tints] == [Cell(3, 3)]
    assert len(found.traces) == 1


def test_text_beside_the_grid_is_no_mark(sheet, reader):
    sheet.grid()
    sheet.text(4.5, -0.6, "Place 1 to 9 in every row, column and box; lines rise.", 0.36)
    assert not seen(sheet, reader).shapes


def test_noise_is_no_rendering(sheet):
    sheet.grid()
    page = sheet.page()
    assert is_rendered(page.image)
    noise = np.random.default_rng(7).normal(0, 6, page.image.shape)
    assert not is_rendered(np.clip(page.image + noise, 0, 255).astype(np.uint8))
    grey = cv2.cvtColor(page.image, cv2.COLOR_RGB2GRAY)
    bitonal = np.where(grey > 128, 255, 0).astype(np.uint8)
    assert not is_rendered(np.repeat(bitonal[..., None], 3, axis=2)), "a scan for text has two colours"


def test_a_shaded_picture_has_no_areas():
    across = np.linspace(0, 255, 400, dtype=np.uint8)
    shaded = np.repeat(np.repeat(across[None, :, None], 400, axis=0), 3, axis=2)
    assert areas_of(np.ascontiguousarray(shaded), 128) is None or not is_rendered(shaded)
