"""Lattice lines in many makes: the same edges and the same lattice."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString
from shapely.ops import unary_union

from recognise.looking import find_lattices
from recognise.vectors import exact, lattices_from_vectors, read_vectors
from tests.recognise.drawn_pages import LEFT, SIDE, TOP, Sheet, nothing_else

THIN, THICK = 0.02, 0.06


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


def drawn_again(sheet: Sheet) -> None:
    """All lines thin, then those of the boxes once more with a broad pen."""
    for width, places in ((THIN, range(10)), (THICK, range(0, 10, 3))):
        for k in places:
            sheet.line([(k, 0), (k, 9)], width)
            sheet.line([(0, k), (9, k)], width)


def piece_by_piece(sheet: Sheet) -> None:
    """Each line in many pieces with hardly a gap between them, some of which meet no other line; rounded this way and
    that, so that they lie beside each other by a little."""
    cuts = np.linspace(0, 9, 28)
    for k in range(10):
        width = THIN if k % 3 else THICK
        for start, end in zip(cuts[:-1], cuts[1:] - np.append(np.full(26, 0.001), 0), strict=True):
            off = k + (0.0004 if start % 2 < 1 else -0.0004)
            sheet.line([(off, start), (off, end)], width)
            sheet.line([(start, off), (end, off)], width)


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


def well_rounded_frame(sheet: Sheet) -> None:
    """The frame by itself, its corners rounded by more than a quarter of a cell."""
    for k in range(1, 9):
        sheet.line([(k, 0), (k, 9)], THIN if k % 3 else THICK)
        sheet.line([(0, k), (9, k)], THIN if k % 3 else THICK)
    sheet.canvas.setLineWidth(THICK * SIDE)
    left, bottom = sheet.at(0, 9)
    sheet.canvas.roundRect(left, bottom, 9 * SIDE, 9 * SIDE, 0.3 * SIDE)


def far_beyond_a_clip(sheet: Sheet) -> None:
    """Lines across the whole page and beyond, of which a clip leaves the grid."""
    sheet.canvas.saveState()
    half = THICK / 2
    clip = sheet.path_of([(-half, -half), (9 + half, -half), (9 + half, 9 + half), (-half, 9 + half)], True)
    sheet.canvas.clipPath(clip, stroke=0)
    for k in range(-2, 12):
        sheet.line([(k, -20), (k, 30)], THIN if k % 3 else THICK)
        sheet.line([(-20, k), (30, k)], THIN if k % 3 else THICK)
    sheet.canvas.restoreState()


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


def one_area(sheet: Sheet) -> None:
    """All thin lines as one area, and all thick ones as another, each with its holes."""
    for places, width in ((range(1, 9), THIN), (range(0, 10, 3), THICK)):
        lines = [LineString([(k, 0), (k, 9)]) for k in places] + [LineString([(0, k), (9, k)]) for k in places]
        area = unary_union([line.buffer(width / 2, cap_style="square") for line in lines])
        path = sheet.canvas.beginPath()
        for ring in (area.exterior, *area.interiors):
            path.moveTo(*sheet.at(*ring.coords[0]))
            for point in list(ring.coords)[1:-1]:
                path.lineTo(*sheet.at(*point))
            path.close()
        sheet.canvas.setFillColor("#000000")
        sheet.canvas.drawPath(path, stroke=0, fill=1, fillMode=0)


def by_hand(sheet: Sheet) -> None:
    """Lines that waver a little, each its own way, as a pen draws them."""
    along = np.linspace(0, 9, 16)
    for k in range(10):
        width = THIN if k % 3 else THICK
        for turned in (False, True):
            off = k + 0.02 * np.sin(1.3 * along + k + 2 * turned)
            points = [(float(x), float(y)) for x, y in zip(along, off, strict=True)]
            sheet.line([(y, x) for x, y in points] if turned else points, width)


def wavering(sheet: Sheet) -> None:
    """Each line one stroke of many points that trembles about its place, too steeply for a straight piece."""
    along = np.linspace(0, 9, 200)
    for k in range(10):
        off = k + 0.02 * np.sin(11 * along + k)
        sheet.line(list(zip(off, along, strict=True)), THIN if k % 3 else THICK)
        sheet.line(list(zip(along, off, strict=True)), THIN if k % 3 else THICK)


MANNERS = [
    Sheet.grid,
    cells_framed,
    filled_bars,
    edge_by_edge,
    drawn_again,
    piece_by_piece,
    one_path,
    white_cells_on_black,
    dashed,
    rounded_frame,
    far_beyond_a_clip,
    by_hand,
]


@pytest.mark.parametrize(
    "manner", [*MANNERS, rings, one_area, well_rounded_frame, wavering], ids=lambda manner: manner.__name__
)
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
    "manner", [m for m in (*MANNERS, rings, one_area) if m != white_cells_on_black], ids=lambda m: m.__name__
)
def test_lattices_are_exact(sheet, manner):
    manner(sheet)
    page = sheet.page()
    rough = sheet.lattice(page)
    fine = exact(rough, lattices_from_vectors(page))
    true = rough.points + np.array([-0.6, 0.6])
    assert np.abs(fine.points - true).max() < 0.05


def test_lines_under_white_paint_are_gone(sheet):
    sheet.grid()
    sheet.bar(3.2, 3.02, 4.8, 3.98, "#ffffff")
    edges = sheet.evidence().edges
    assert edges.vertical[3, 4] == 0
    assert edges.vertical[2, 4] > 0


def test_a_grid_within_a_picture_is_not_read(sheet):
    sheet.text(4, -2, "A page with words")
    page = sheet.page()
    assert read_vectors(page, sheet.lattice(page)) is None
    assert read_vectors(replace(page, vectors=None), sheet.lattice(page)) is None


def test_a_short_line_beside_a_long_one_by_rounding_takes_nothing_from_it(sheet):
    short, long = 0.024 / SIDE, 0.026 / SIDE
    for k in range(10):
        sheet.line([(k + short, 4), (k + short, 6)], THIN)
        sheet.line([(4, k + short), (6, k + short)], THIN)
        sheet.line([(k + long, 0), (k + long, 9)], THIN)
        sheet.line([(0, k + long), (9, k + long)], THIN)
    assert [(lattice.rows, lattice.columns) for lattice in lattices_from_vectors(sheet.page())] == [(9, 9)]


@pytest.mark.parametrize("dotted", [False, True])
def test_solid_lines_are_told_from_dotted_ones_that_are_as_thick(sheet: Sheet, dotted: bool) -> None:
    for k in range(10):
        if k % 3 and dotted:
            sheet.canvas.setDash(1, 1)
        sheet.line([(k, 0), (k, 9)], 0.03)
        sheet.line([(0, k), (9, k)], 0.03)
        sheet.canvas.setDash()
    edges = sheet.evidence().edges
    assert edges.vertical[:, 3] == pytest.approx(edges.vertical[:, 4] * (2 if dotted else 1))


@pytest.mark.parametrize("apart", [0.02, 0.05, 0.09])
def test_double_lines_are_thick_ones(sheet: Sheet, apart: float) -> None:
    sheet.grid(THIN, THIN)
    for k in (3, 6):
        for off in (-apart, apart):
            sheet.line([(k + off, 0), (k + off, 9)], 0.012)
            sheet.line([(0, k + off), (9, k + off)], 0.012)
    found = sheet.evidence()
    for k in (3, 6):
        assert found.edges.vertical[:, k] == pytest.approx(2 * apart + 0.012, abs=2e-3)
        assert found.edges.horizontal[k] == pytest.approx(2 * apart + 0.012, abs=2e-3)
    assert found.edges.vertical[:, 4] == pytest.approx(THIN, abs=2e-3)
    assert nothing_else(found) and not found.fences


def boxes_beside(sheet: Sheet, places: Iterable[tuple[int, int]]) -> None:
    """Thin boxes for clues, by row and column, as large as cells."""
    for row, column in places:
        around = [(column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1)]
        sheet.line(around, THIN, "#999999", closed=True)


ALL_ROUND = (
    [(k, -1) for k in range(9)] + [(k, 9) for k in range(9)] + [(-1, k) for k in range(9)] + [(9, k) for k in range(9)]
)


@pytest.mark.parametrize(
    "places",
    [
        ALL_ROUND,
        [place for place in ALL_ROUND if not {0, 4}.intersection(place)],
        [place for place in ALL_ROUND[:18] if place != (1, -1) and place != (5, 9)],
        [place for place in ALL_ROUND if -1 in place],
    ],
    ids=["all", "some", "two sides", "above and left"],
)
def test_boxes_for_clues_against_the_frame_are_no_cells(sheet: Sheet, places: list[tuple[int, int]]) -> None:
    sheet.grid()
    boxes_beside(sheet, places)
    page = sheet.page()
    (lattice,) = lattices_from_vectors(page)
    assert (lattice.rows, lattice.columns) == (9, 9)
    assert lattice.points[0, 0] / page.scale == pytest.approx((LEFT, TOP), abs=0.05)


def test_lines_that_go_on_round_cells_for_clues_draw_no_marks(sheet: Sheet) -> None:
    """As in a spreadsheet, whose cells beside the puzzle hold its clues."""
    sheet.grid()
    for k in range(10):
        sheet.line([(-1, k), (9, k)], THIN)
    sheet.line([(-1, 0), (-1, 9)], THIN)
    page = sheet.page()
    (lattice,) = find_lattices(page)
    assert (lattice.rows, lattice.columns) == (9, 9)
    found = read_vectors(page, lattice)
    assert found is not None and nothing_else(found)


def test_the_sides_of_two_cages_are_no_double_line(sheet: Sheet) -> None:
    sheet.grid(THIN, THIN)
    for left, right in ((2.05, 2.95), (3.05, 3.95)):
        for x in (left, right):
            sheet.line([(x, 2.05), (x, 4.95)], 0.012)
        for y in (2.05, 4.95):
            sheet.line([(left, y), (right, y)], 0.012)
    found = sheet.evidence()
    assert found.edges.vertical[:, 3] == pytest.approx(THIN, abs=2e-3)
    assert len(found.fences) == 2


def test_an_area_of_which_ground_leaves_a_strip_is_cut_where_the_strip_is(sheet: Sheet) -> None:
    sheet.bar(0, 0, 9, 6.02)
    sheet.bar(-0.1, -0.1, 9.1, 5.98, "#ffffff")
    sheet.grid()
    found = sheet.evidence()
    assert nothing_else(found)
    assert found.edges.horizontal[3] == pytest.approx(THICK, abs=0.01)
    assert found.edges.horizontal[4] == pytest.approx(THIN, abs=0.01)


def test_dashes_beside_a_mark_that_hides_the_rest_of_their_edge_are_lattice(sheet: Sheet) -> None:
    for k in (0, 3, 6, 9):
        sheet.line([(k, 0), (k, 9)], THICK)
        sheet.line([(0, k), (9, k)], THICK)
    for k in (1, 2, 4, 5, 7, 8):
        for start in np.arange(0.02, 8.95, 0.11):
            sheet.bar(k - 0.006, start, k + 0.006, start + 0.06)
            sheet.bar(start, k - 0.006, start + 0.06, k + 0.006)
    sheet.bar(4.22, 3.5, 4.78, 4.5, "#ffffff")
    sheet.bar(3.5, 7.22, 4.5, 7.78, "#ffffff")
    found = sheet.evidence()
    assert found.edges.horizontal[4, 4] == pytest.approx(found.edges.horizontal[4, 5]) != 0
    assert found.edges.vertical[7, 4] == pytest.approx(found.edges.vertical[6, 4]) != 0
    assert nothing_else(found)
