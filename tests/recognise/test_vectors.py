"""The vector reader on pages drawn in many manners: the same puzzle, whatever the make of its PDF."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pikepdf
import pytest
from PIL import Image as Pillow

from fixtures.bench.places import FOREIGN
from fixtures.bench.vectors import on_foreign, on_printed
from ingest.page import Page
from ingest.pdf import pdf_pages
from recognise.evidence import Evidence, Lattice, Trace
from recognise.vectors import exact, lattices_from_vectors, read_vectors
from tests.recognise.drawn_pages import SIDE, Drawing, Sheet, ends

THIN, THICK = 0.02, 0.06


@pytest.fixture
def sheet(tmp_path):
    return Sheet(tmp_path / "page.pdf")


# Lattice lines


def cells_framed(sheet: Sheet) -> None:
    for r in range(9):
        for c in range(9):
            sheet.line([(c, r), (c + 1, r), (c + 1, r + 1), (c, r + 1)], THIN, closed=True)
    for r in range(0, 9, 3):
        for c in range(0, 9, 3):
            sheet.line([(c, r), (c + 3, r), (c + 3, r + 3), (c, r + 3)], THICK, closed=True)


def filled_bars(sheet: Sheet) -> None:
    for k in range(10):
        half = (THIN if k % 3 else THICK) / 2
        sheet.bar(k - half, 0, k + half, 9)
        sheet.bar(0, k - half, 9, k + half)


def edge_by_edge(sheet: Sheet) -> None:
    for k in range(10):
        for j in range(9):
            width = THIN if k % 3 else THICK
            sheet.line([(k, j), (k, j + 1)], width)
            sheet.line([(j, k), (j + 1, k)], width)


def one_path(sheet: Sheet) -> None:
    for width, places in ((THIN, range(10)), (THICK, range(0, 10, 3))):
        path = sheet.canvas.beginPath()
        for k in places:
            path.moveTo(*sheet.at(k, 0))
            path.lineTo(*sheet.at(k, 9))
            path.moveTo(*sheet.at(0, k))
            path.lineTo(*sheet.at(9, k))
        sheet.canvas.setLineWidth(width * SIDE)
        sheet.canvas.drawPath(path)


def white_cells_on_black(sheet: Sheet) -> None:
    sheet.bar(-THICK / 2, -THICK / 2, 9 + THICK / 2, 9 + THICK / 2)
    for r in range(9):
        for c in range(9):
            left, right = ((THIN if k % 3 else THICK) / 2 for k in (c, c + 1))
            top, bottom = ((THIN if k % 3 else THICK) / 2 for k in (r, r + 1))
            sheet.bar(c + left, r + top, c + 1 - right, r + 1 - bottom, "#ffffff")


def dashed(sheet: Sheet) -> None:
    sheet.canvas.setDash(2, 2)
    sheet.grid(THIN, THIN)
    sheet.canvas.setDash()
    for k in range(0, 10, 3):
        sheet.line([(k, 0), (k, 9)], THICK)
        sheet.line([(0, k), (9, k)], THICK)


def rounded_frame(sheet: Sheet) -> None:
    sheet.grid(THIN, THICK)
    sheet.canvas.setLineWidth(THICK * SIDE)
    left, bottom = sheet.at(0, 9)
    sheet.canvas.roundRect(left, bottom, 9 * SIDE, 9 * SIDE, 0.1 * SIDE)


def rings(sheet: Sheet) -> None:
    """Frames round the boxes as outlines of strokes: two rectangles, filled between."""
    sheet.grid(THIN, THIN)
    for r in range(0, 9, 3):
        for c in range(0, 9, 3):
            path = sheet.canvas.beginPath()
            for grow in (THICK / 2, -THICK / 2):
                x0, y0 = sheet.at(c - grow, r + 3 + grow)
                path.rect(x0, y0, (3 + 2 * grow) * SIDE, (3 + 2 * grow) * SIDE)
            sheet.canvas.setFillColor("#000000")
            sheet.canvas.drawPath(path, stroke=0, fill=1, fillMode=0)


MANNERS = [Sheet.grid, cells_framed, filled_bars, edge_by_edge, one_path, white_cells_on_black, dashed, rounded_frame]


@pytest.mark.parametrize("manner", [*MANNERS, rings], ids=lambda manner: manner.__name__)
def test_edges_are_the_same_however_they_are_drawn(sheet, manner):
    manner(sheet)
    found = sheet.evidence()
    lines = np.array([THIN if k % 3 else THICK for k in range(10)])
    # Where lines are what white cells leave of a black square, they are measured in pixels of a 64th of a cell.
    close = 0.017 if manner == white_cells_on_black else 2e-3
    assert found.edges.vertical == pytest.approx(np.tile(lines, (9, 1)), abs=close)
    assert found.edges.horizontal == pytest.approx(np.tile(lines[:, None], (1, 9)), abs=close)
    assert found.edges.vertical_darkness.min() > 0.99
    assert nothing_else(found)


@pytest.mark.parametrize(
    "manner", [m for m in (*MANNERS, rings) if m != white_cells_on_black], ids=lambda m: m.__name__
)
def test_lattices_are_exact(sheet, manner):
    manner(sheet)
    page = sheet.page()
    rough = sheet.lattice(page)
    fine = exact(rough, lattices_from_vectors(page))
    true = rough.points + np.array([-0.6, 0.6])
    assert np.abs(fine.points - true).max() < 0.05


def nothing_else(found: Evidence) -> bool:
    return not (found.glyphs or found.tints or found.discs or found.traces or found.shapes or found.unexplained)


def test_lines_under_white_paint_are_gone(sheet):
    sheet.grid()
    sheet.bar(3.2, 3.2, 4.8, 3.8, "#ffffff")
    edges = sheet.evidence().edges
    assert edges.vertical[3, 4] == 0
    assert edges.vertical[2, 4] > 0


def test_a_grid_within_a_picture_is_not_read(sheet):
    sheet.text(4, -2, "A page with words")
    page = sheet.page()
    assert read_vectors(page, sheet.lattice(page)) is None
    assert read_vectors(replace(page, vectors=None), sheet.lattice(page)) is None


# Thermometers

WAY = "r3c3 r3c4 r4c5 r5c5"
GREY = "#b0b0b0"


def pen(sheet: Sheet) -> None:
    sheet.canvas.setLineCap(1)
    sheet.canvas.setLineJoin(1)
    sheet.disc(*ends(WAY)[0], 0.36, GREY)
    sheet.line(ends(WAY), 0.34, GREY)


def pen_pieces(sheet: Sheet) -> None:
    sheet.canvas.setLineCap(1)
    points = ends(WAY)
    for one, other in pairwise(points):
        sheet.line([one, other], 0.34, GREY)
    sheet.disc(*points[0], 0.36, GREY)


def mitred_and_flat(sheet: Sheet) -> None:
    sheet.canvas.setLineJoin(0)
    sheet.disc(*ends(WAY)[0], 0.36, GREY)
    sheet.line(ends(WAY), 0.34, GREY)


def see_through(sheet: Sheet) -> None:
    sheet.canvas.setFillAlpha(0.4)
    sheet.canvas.setStrokeAlpha(0.4)
    pen(sheet)
    sheet.canvas.setFillAlpha(1)
    sheet.canvas.setStrokeAlpha(1)


def bars_and_disc(sheet: Sheet) -> None:
    points = ends(WAY)
    for (x0, y0), (x1, y1) in pairwise(points):
        way = np.array([x1 - x0, y1 - y0])
        aside = np.array([-way[1], way[0]]) / np.hypot(*way) * 0.17
        start, end = np.array([x0, y0]), np.array([x1, y1])
        sheet.area([tuple(corner) for corner in (start + aside, end + aside, end - aside, start - aside)], GREY)
    for point in points[1:]:
        sheet.disc(*point, 0.17, GREY)
    sheet.disc(*points[0], 0.36, GREY)


def in_a_form(sheet: Sheet) -> None:
    sheet.canvas.beginForm("tube")
    pen(sheet)
    sheet.canvas.endForm()
    sheet.canvas.doForm("tube")


def under_the_grid_and_clipped(sheet: Sheet) -> None:
    sheet.canvas.saveState()
    x, y = sheet.at(0, 9)
    clip = sheet.canvas.beginPath()
    clip.rect(x, y, 9 * SIDE, 9 * SIDE)
    sheet.canvas.clipPath(clip, stroke=0)
    pen(sheet)
    sheet.canvas.restoreState()


SOLID = [pen, pen_pieces, mitred_and_flat, see_through, bars_and_disc, in_a_form, under_the_grid_and_clipped]


def wide_under_white(sheet: Sheet) -> None:
    for grow, colour in ((0.03, "#303030"), (-0.03, "#ffffff")):
        sheet.canvas.setLineCap(1)
        sheet.canvas.setLineJoin(1)
        sheet.disc(*ends(WAY)[0], 0.36 + grow, colour)
        sheet.line(ends(WAY), 0.34 + 2 * grow, colour)


def wall(sheet: Sheet) -> None:
    """The outline of tube and bulb, by hand, around r3c3 r3c4."""
    half, bulb = 0.17, 0.36
    angles = np.linspace(np.arcsin(half / bulb), 2 * np.pi - np.arcsin(half / bulb), 40)
    points = [(2.5 + bulb * np.cos(a), 2.5 + bulb * np.sin(a)) for a in angles]
    cap = [(3.5 + half * np.cos(a), 2.5 + half * np.sin(a)) for a in np.linspace(-np.pi / 2, np.pi / 2, 16)]
    sheet.line([*points, *cap], 0.03, closed=True)


def only(found: Evidence) -> Trace:
    (trace,) = found.traces
    assert not (found.shapes or found.unexplained or found.discs or found.tints), found
    return trace


@pytest.mark.parametrize("manner", SOLID, ids=lambda manner: manner.__name__)
@pytest.mark.parametrize("above", [False, True])
def test_a_thermometer_is_the_same_however_it_is_drawn(sheet, manner: Drawing, above):
    if above:
        sheet.grid()
    manner(sheet)
    if not above:
        sheet.grid()
    sheet.text(4.5, 3.5, "7")
    trace = only(sheet.evidence())
    assert " ".join(map(str, trace.nodes)) == WAY
    assert trace.links == ((0, 1), (1, 2), (2, 3))
    ((bulb, radius),) = trace.discs
    assert (bulb, radius) == (0, pytest.approx(0.36, abs=0.01))
    assert (trace.width, trace.outlined, trace.how) == (pytest.approx(0.34, abs=0.02), False, "vector")
    assert not trace.ambiguous


@pytest.mark.parametrize("manner", [wide_under_white, wall], ids=lambda manner: manner.__name__)
def test_a_hollow_thermometer(sheet, manner: Drawing):
    manner(sheet)
    sheet.grid()
    trace = only(sheet.evidence())
    assert trace.outlined
    assert " ".join(map(str, trace.nodes)) in (WAY, "r3c3 r3c4")
    assert [node for node, _ in trace.discs] == [0]


def test_branches_from_one_bulb_are_one_drawing(sheet):
    sheet.canvas.setLineCap(1)
    sheet.disc(4.5, 4.5, 0.36, GREY)
    sheet.line(ends("r5c5 r5c6 r5c7"), 0.3, GREY)
    sheet.line(ends("r5c5 r4c4 r3c3 r2c3"), 0.3, GREY)
    sheet.line(ends("r5c7 r6c7 r7c7"), 0.3, GREY)
    sheet.grid()
    trace = only(sheet.evidence())
    assert len(trace.nodes) == 8
    assert [str(trace.nodes[node]) for node, _ in trace.discs] == ["r5c5"]


def test_neighbours_stay_apart(sheet):
    sheet.canvas.setLineCap(1)
    for start, way in (("r2c2", "r2c2 r2c3 r2c4"), ("r3c4", "r3c4 r3c3 r3c2"), ("r4c2", "r4c2 r5c3 r6c4")):
        sheet.disc(*ends(start)[0], 0.45, GREY)
        sheet.line(ends(way), 0.5, GREY)
    sheet.grid()
    traces = sheet.evidence().traces
    assert [" ".join(map(str, trace.nodes)) for trace in traces] == [
        "r2c2 r2c3 r2c4",
        "r3c2 r3c3 r3c4",
        "r4c2 r5c3 r6c4",
    ]


def test_crossing_thermometers_of_two_paths(sheet):
    sheet.canvas.setLineCap(1)
    for way in ("r2c2 r3c3 r4c4", "r4c2 r3c3 r2c4"):
        sheet.disc(*ends(way)[0], 0.36, GREY)
        sheet.line(ends(way), 0.3, GREY)
    sheet.grid()
    traces = sheet.evidence().traces
    assert sorted(len(trace.links) for trace in traces) == [2, 2]
    assert all(len(trace.discs) == 1 for trace in traces)


def test_what_is_painted_over_is_not_there(sheet):
    pen(sheet)
    sheet.bar(-0.5, -0.5, 9.5, 9.5, "#ffffff")
    sheet.grid()
    sheet.text(4.5, 4.5, "5")
    found = sheet.evidence()
    assert not found.traces
    assert [glyph.text for glyph in found.glyphs] == ["5"]


def test_a_spur_that_no_line_explains_is_shown(sheet):
    pen(sheet)
    sheet.area([(3.5, 2.4), (3.9, 1.6), (4.1, 1.6), (3.8, 2.6)], GREY)
    sheet.grid()
    found = sheet.evidence()
    assert found.unexplained or found.shapes


# Numbers


def test_numbers_in_and_around_a_grid(sheet):
    sheet.grid()
    sheet.text(0.5, 0.5, "16")
    sheet.text(8.5, 8.5, "A", font="Times-Roman")
    for column, clue in ((1, "11"), (2, "23"), (5, "7")):
        sheet.text(column - 0.5, -0.5, clue, 0.45)
    sheet.text(-1.5, 2.5, "4", 0.45)
    sheet.text(-0.6, 2.5, "12", 0.45)
    sheet.text(4.5, 10.2, "Place 1 to 9 in every row, column and box, as 3, 4.", 0.4)
    sheet.text(4.5, -2, "Number 12 of the Fixture Press", 0.7)
    found = sheet.evidence()
    read = {glyph.text: glyph for glyph in found.glyphs}
    assert sorted(read) == sorted(["16", "A", "11", "23", "7", "4", "12"])
    assert read["12"].centre == pytest.approx((-0.6, 2.5), abs=0.06)
    assert read["16"].size == pytest.approx(0.36, abs=0.03)
    assert not (found.shapes or found.unexplained)


def test_numbers_of_neighbouring_cells_stay_apart(sheet):
    sheet.grid()
    for column, given in enumerate(("15", "16", "13", "9"), start=1):
        sheet.text(column - 0.5, 0.5, given, 0.66)
    assert sorted(glyph.text for glyph in sheet.evidence().glyphs) == ["13", "15", "16", "9"]


def test_a_table_beside_a_grid_is_none_of_its_clues(sheet):
    sheet.grid()
    for row in range(9):
        sheet.text(-2.6, 0.5 + row, "Oaks", 0.4)
        for column in range(3):
            sheet.text(-1.6 + 0.5 * column, 0.5 + row, str((row * 3 + column) % 10), 0.4)
    assert not sheet.evidence().glyphs


def test_numbers_within_another_grid_are_its_own(sheet):
    sheet.grid()
    for k in range(5):
        sheet.line([(9.6 + 0.5 * k, 1), (9.6 + 0.5 * k, 3)], 0.02)
        sheet.line([(9.6, 1 + 0.5 * k), (11.6, 1 + 0.5 * k)], 0.02)
    for row in range(4):
        sheet.text(9.85, 1.25 + 0.5 * row, str(row + 1), 0.35)
    assert not sheet.evidence().glyphs


def test_small_totals_keep_their_size(sheet):
    sheet.grid()
    sheet.text(0.5, 0.5, "8", 0.6)
    sheet.text(2.2, 0.2, "15", 0.25)
    sizes = {glyph.text: glyph.size for glyph in sheet.evidence().glyphs}
    assert sizes["15"] < 0.5 * sizes["8"]


# Other marks


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


def test_a_picture_on_the_grid_is_not_explained(sheet, tmp_path):
    Pillow.new("RGB", (20, 20), "#336699").save(tmp_path / "star.png")
    sheet.grid()
    sheet.canvas.drawImage(str(tmp_path / "star.png"), *sheet.at(4.2, 4.8), 0.6 * SIDE, 0.6 * SIDE)
    (box,) = sheet.evidence().unexplained
    assert box == pytest.approx((4.2, 4.2, 4.8, 4.8), abs=0.02)


def test_frames_and_rules_around_a_grid_are_not_its_own(sheet):
    sheet.grid()
    sheet.line([(-0.4, -0.4), (9.4, -0.4), (9.4, 9.4), (-0.4, 9.4)], 0.04, closed=True)
    sheet.line([(-2, -1), (11, -1)], 0.02)
    assert nothing_else(sheet.evidence())


# Frames


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
    read = list(on_foreign())
    assert sum(not one.wrong for one in read) >= 0.95 * len(read)


@pytest.mark.slow
def test_a_few_printed_pages():
    try:
        read = list(on_printed(4, "train"))
    except LookupError:
        pytest.skip("the fonts of the training half are not here")
    assert [one.wrong for one in read] == [()] * len(read)
