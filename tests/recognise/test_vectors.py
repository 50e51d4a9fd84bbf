"""The vector reader on whole pages: other marks, page furniture, turned pages, pages of printers."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pikepdf
import pytest
from PIL import Image as Pillow

from fixtures.bench.places import FOREIGN
from fixtures.bench.vectors import on_foreign, on_printed
from ingest.page import Page
from ingest.pdf import pdf_pages
from recognise.evidence import Lattice
from recognise.vectors import read_vectors
from tests.recognise.drawn_pages import SIDE, Sheet, nothing_else
from tests.recognise.test_vector_tubes import WAY, only, pen


def test_tints_and_discs(sheet):
    sheet.bar(0, 0, 3, 3, "#dddddd")
    sheet.area([(3, 3), (5, 3), (5, 4), (4, 4), (4, 5), (3, 5)], "#cfe2f3")
    sheet.disc(7.5, 7.5, 0.4, "#aaaaaa")
    sheet.disc(7, 1.5, 0.12, "#ffffff", "#000000")
    sheet.disc(1.5, 7, 0.12, "#000000")
    sheet.grid()
    found = sheet.evidence()
    assert sum(tint.colour == (221, 221, 221) for tint in found.tints) == 9
    assert sorted(str(t.cell) for t in found.tints if t.colour != (221, 221, 221)) == ["r4c4", "r4c5", "r5c4"]
    by_place = {disc.centre: disc for disc in found.discs}
    assert len(by_place) == 3
    grey, ring, dot = sorted(found.discs, key=lambda disc: -disc.centre[0])
    assert (grey.fill, grey.outline, grey.radius) == ((170, 170, 170), None, pytest.approx(0.4, abs=0.01))
    assert (ring.fill, ring.outline) == ((255, 255, 255), (0, 0, 0))
    assert (dot.fill, dot.centre) == ((0, 0, 0), pytest.approx((1.5, 7)))
    assert not (found.shapes or found.unexplained or found.traces)


def test_of_two_dots_on_one_place_the_lower_is_asked_about(sheet):
    sheet.disc(7, 1.5, 0.16, "#ffffff", "#000000")
    sheet.disc(7, 1.5, 0.16, "#000000", "#000000")
    sheet.disc(1.5, 7, 0.16, "#000000")
    sheet.disc(1.5, 7, 0.16, "#ffffff", "#000000")
    sheet.grid()
    found = sheet.evidence()
    # Each lower one looks like the other that is seen: a rim of its own colour makes no difference.
    fills = sorted((round(disc.centre[0], 2), disc.fill) for disc in found.discs)
    assert fills == [(x, fill) for x in (1.5, 7) for fill in ((0, 0, 0), (255, 255, 255))]
    assert found.notes == ("a circle at r2c7 lies under another", "a circle at r7c2 lies under another")


def test_tinted_cells_stay_tinted_under_circles_on_their_corners(sheet):
    for cell in ((3, 3), (4, 3), (3, 4)):
        sheet.bar(cell[0], cell[1], cell[0] + 1, cell[1] + 1, "#dddddd")
    sheet.grid()
    for corner in ((4, 4), (3, 3), (5, 4), (4, 3)):
        sheet.disc(*corner, 0.3, "#ffffff", "#000000")
    found = sheet.evidence()
    assert sorted(str(tint.cell) for tint in found.tints) == ["r4c4", "r4c5", "r5c4"]
    assert len(found.discs) == 4
    assert not found.shapes


@pytest.mark.parametrize(
    ("draw", "name"),
    [
        (lambda s: s.bar(3.95, 2.3, 4.05, 2.7), "bar"),
        (lambda s: s.area([(4, 2.3), (4.15, 2.5), (4, 2.7), (3.85, 2.5)], "#000000"), "diamond"),
        (lambda s: s.bar(4.2, 2.2, 4.8, 2.8, "#888888"), "square"),
        (lambda s: s.line([(3.9, 2.4), (4.1, 2.5), (3.9, 2.6)], 0.03), "sign"),
        (lambda s: s.line([(0, 0), (9, 9)], 0.03), "diagonal"),
        (lambda s: s.area([(4.5, 2.2), (4.6, 2.6), (4.9, 2.6), (4.3, 2.9), (4.2, 2.3)], "#445566"), "glyph-path"),
    ],
)
def test_every_other_mark_is_shown(sheet, draw, name):
    sheet.grid()
    draw(sheet)
    found = sheet.evidence()
    assert [shape.name for shape in found.shapes] == [name]
    assert not found.traces


def test_a_small_picture_of_two_colours_is_a_mark(sheet, tmp_path):
    star = Pillow.new("RGB", (20, 20), "#336699")
    star.paste((255, 255, 255), (5, 5, 10, 10))
    star.save(tmp_path / "star.png")
    sheet.grid()
    sheet.canvas.drawImage(str(tmp_path / "star.png"), *sheet.at(4.2, 4.8), 0.6 * SIDE, 0.6 * SIDE)
    (shape,) = sheet.evidence().shapes
    assert (shape.name, shape.colour) == ("glyph-path", (0x33, 0x66, 0x99))  # no square: it has a hole
    assert shape.box == pytest.approx((4.2, 4.2, 4.8, 4.8), abs=0.02)


def test_a_picture_on_the_grid_is_not_explained(sheet, tmp_path):
    star = Pillow.linear_gradient("L").resize((20, 20))
    star.save(tmp_path / "star.png")
    sheet.grid()
    sheet.canvas.drawImage(str(tmp_path / "star.png"), *sheet.at(4.2, 4.8), 0.6 * SIDE, 0.6 * SIDE)
    (box,) = sheet.evidence().unexplained
    assert box == pytest.approx((4.2, 4.2, 4.8, 4.8), abs=0.02)


def test_frames_and_rules_around_a_grid_are_not_its_own(sheet):
    sheet.grid()
    sheet.line([(-0.4, -0.4), (9.4, -0.4), (9.4, 9.4), (-0.4, 9.4)], 0.04, closed=True)
    sheet.line([(-2, -1), (11, -1)], 0.02)
    assert nothing_else(sheet.evidence())


@pytest.mark.parametrize("rotation", [90, 180, 270])
def test_a_page_turned_to_be_read_gives_the_same_evidence(sheet, rotation):
    """A page displayed sideways, and its image turned upright again by `turned` quarter turns."""
    pen(sheet)
    sheet.grid()
    sheet.text(0.5, 0.5, "3")
    upright = sheet.page()
    lattice = sheet.lattice(upright)
    with pikepdf.open(sheet.path, allow_overwriting_input=True) as document:
        document.pages[0].obj.Rotate = rotation
        document.save()
    (page,) = pdf_pages(sheet.path, "0" * 64)
    assert isinstance(page, Page)
    turns = (360 - rotation) // 90
    turned = replace(page, image=np.ascontiguousarray(np.rot90(page.image, -turns)), turned=turns)
    scaled = Lattice(lattice.points * page.scale / upright.scale)
    found = read_vectors(turned, scaled)
    assert found is not None
    assert [glyph.text for glyph in found.glyphs] == ["3"]
    assert found.glyphs[0].centre == pytest.approx((0.5, 0.5), abs=0.05)
    assert " ".join(map(str, only(found).nodes)) == WAY


@pytest.mark.slow
@pytest.mark.skipif(not FOREIGN.exists(), reason="the foreign pages are not here")
def test_foreign_pages():
    read = list(on_foreign(each=2))
    assert sum(not one.wrong for one in read) >= 0.95 * len(read)


@pytest.mark.slow
def test_a_few_printed_pages():
    try:
        read = list(on_printed(4, "train"))
    except LookupError:
        pytest.skip("the fonts of the training half are not here")
    assert [one.wrong for one in read] == [()] * len(read)


def test_a_bit_of_white_under_a_mark_is_no_gap_in_the_lattice(sheet: Sheet) -> None:
    sheet.grid()
    sheet.bar(0.8, 1.3, 1.2, 1.7, "#ffffff")
    sheet.bar(4.0, 4.9, 5.0, 5.1, "#ffffff")
    found = sheet.evidence()
    assert found.edges.vertical[1, 1] == found.edges.vertical[5, 1] > 0
    assert found.edges.horizontal[5, 4] == 0
    assert found.patches == (pytest.approx((0.8, 1.3, 1.2, 1.7)),)


def test_what_all_of_a_grid_stands_on_is_a_ground(sheet: Sheet) -> None:
    sheet.bar(-0.3, -0.3, 9.3, 9.3, "#f6f1e4")
    sheet.bar(0, 0, 9, 9, "#ffffff")
    sheet.bar(-0.3, 3, 9.3, 4, "#dddddd")
    sheet.grid()
    assert sheet.evidence().grounds == ((246, 241, 228),)


def test_the_shadow_of_a_grid_is_a_ground_and_its_frame_is_none(sheet: Sheet) -> None:
    """Of the shadow only a strip is seen beside the thick frame, which is an area too, but fills little of its box."""
    sheet.bar(0.12, 0.12, 9.12, 9.12, "#dcdddf")
    sheet.bar(0, 0, 9, 9, "#ffffff")
    sheet.grid()
    path = sheet.canvas.beginPath()
    for reach, way in ((0.07, 1), (-0.07, -1)):
        corners = [(-reach, -reach), (9 + reach, -reach), (9 + reach, 9 + reach), (-reach, 9 + reach)]
        for place, corner in enumerate(corners[::way]):
            (path.lineTo if place else path.moveTo)(*sheet.at(*corner))
        path.close()
    sheet.canvas.setFillColor("#000000")
    sheet.canvas.drawPath(path, stroke=0, fill=1)
    assert sheet.evidence().grounds == ((220, 221, 223),)


def test_a_dot_wholly_under_a_bit_of_white_is_spoken_of(sheet: Sheet) -> None:
    sheet.grid()
    sheet.disc(3, 1.5, 0.1, "#000000")
    sheet.bar(2.8, 1.3, 3.2, 1.7, "#ffffff")
    sheet.text(3, 1.5, "7", 0.3)
    sheet.disc(6, 1.5, 0.1, "#000000")
    found = sheet.evidence()
    assert found.notes == ("a circle at r2c3 lies under another",)
    # It is one of the page's dots all the same.
    assert sorted(disc.centre for disc in found.discs) == [pytest.approx((3, 1.5)), pytest.approx((6, 1.5))]


def test_what_was_drawn_before_a_panel_under_the_whole_grid_is_not(sheet: Sheet) -> None:
    sheet.disc(3, 1.5, 0.1, "#000000")
    sheet.bar(10, 1, 10.5, 1.5, "#000000")
    sheet.bar(-0.5, -0.5, 9.5, 9.5, "#f3f0e6")
    sheet.grid()
    found = sheet.evidence()
    assert not (found.notes or found.tints or found.shapes or found.discs)


def test_a_row_of_dots_beside_the_grid_says_how_hard_it_is(sheet):
    """Full and empty ones of one size, close together; two, and dots a cell apart, may be marks."""
    sheet.grid()
    for number in range(5):
        sheet.disc(-0.5 + 0.25 * number, -0.6, 0.06, "#336699" if number < 2 else None, "#336699", 0.015)
    for x in (6.5, 6.75):
        sheet.disc(x, -0.6, 0.06, "#336699")
    for y in (1.5, 2.5, 3.5):
        sheet.disc(9.5, y, 0.06, "#336699")
    places = sorted((round(disc.centre[0], 2), round(disc.centre[1], 2)) for disc in sheet.evidence().discs)
    assert places == [(6.5, -0.6), (6.75, -0.6), (9.5, 1.5), (9.5, 2.5), (9.5, 3.5)]


def test_a_tint_of_the_page_under_the_panel_of_a_grid_is_no_mark(sheet):
    sheet.bar(-3, -4, 12, 13, "#fff7f0")
    a, b = (-0.02, 0.25), (9.02, 8.75)
    rounded = [a, a[::-1], (b[1], a[0]), (b[0], a[1]), b, b[::-1], (a[1], b[0]), (a[0], b[1])]
    sheet.area(rounded, "#ffffff")
    sheet.grid()
    assert not sheet.evidence().shapes


def test_a_dark_area_under_cells_of_another_colour_than_the_page_is_no_tint_of_theirs(sheet):
    sheet.bar(-0.6, -0.6, 9.6, 9.6, "#f0f0f0")
    sheet.bar(0, 0, 9, 9, "#0b1f33")
    for row, column in itertools.product(range(9), range(9)):
        left, top = (0.04 if place % 3 == 0 else 0.02 for place in (column, row))
        sheet.bar(column + left, row + top, column + 0.98, row + 0.98, "#ffffff")
    assert {tint.colour for tint in sheet.evidence().tints} <= {(255, 255, 255)}


def test_a_dot_of_a_lattice_line_is_no_mark(sheet):
    sheet.grid()
    sheet.disc(0.006, 1.006, 0.012, "#000000")
    sheet.disc(4.0, 4.5, 0.012, "#000000")
    sheet.disc(4.0, 5.5, 0.07, "#000000")
    (found,) = sheet.evidence().discs
    assert found.centre == pytest.approx((4.0, 5.5))


def test_squares_that_are_set_in_alike_but_for_a_hair_are_tints_or_marks_all_alike(sheet):
    sheet.grid()
    for row, inset in enumerate((0.0595, 0.0605, 0.0605)):
        sheet.bar(4 + inset, row + inset, 5 - inset, row + 1 - inset, "#c0c0c0")
    found = sheet.evidence()
    assert {str(tint.cell) for tint in found.tints} == {"r1c5", "r2c5", "r3c5"}
    assert not found.shapes
