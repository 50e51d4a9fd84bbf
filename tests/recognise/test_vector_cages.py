"""Cages in many makes: the same cells, whatever draws the line around them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import pairwise

import numpy as np
import pytest

from recognise.evidence import Evidence
from schema.cells import Cell
from schema.kinds._outline import inset_outline
from tests.recognise.drawn_pages import Sheet

CAGES = ("r1c1 r1c2 r2c2", "r1c3", "r2c1 r3c1 r3c2", "r5c5 r5c6 r6c5", "r6c6 r7c6", "r8c8 r8c9 r9c8 r9c9")
RING = "r4c1 r4c2 r4c3 r5c1 r5c3 r6c1 r6c2 r6c3"
"""A cage around a cage of one cell, r5c2."""
INSET, WIDTH = 0.08, 0.02

Make = Callable[[Sheet, list[tuple[float, float]]], None]


def cells_of(words: str) -> tuple[Cell, ...]:
    return tuple(sorted(map(Cell.parse, words.split())))


def outline(sheet: Sheet, loop: list[tuple[float, float]]) -> None:
    sheet.line(loop, WIDTH, "#333333", closed=True)


def dash_array(sheet: Sheet, loop: list[tuple[float, float]]) -> None:
    sheet.canvas.setDash(2, 2)
    outline(sheet, loop)
    sheet.canvas.setDash()


def dots(sheet: Sheet, loop: list[tuple[float, float]]) -> None:
    sheet.canvas.setLineCap(1)
    sheet.canvas.setDash(0.01, 1.8)
    outline(sheet, loop)
    sheet.canvas.setDash()
    sheet.canvas.setLineCap(0)


def sides(sheet: Sheet, loop: list[tuple[float, float]]) -> None:
    sheet.canvas.setDash(3, 1.5)
    for one, other in pairwise([*loop, loop[0]]):
        sheet.line([one, other], WIDTH, "#333333")
    sheet.canvas.setDash()


def pieces(loop: list[tuple[float, float]], dash: float = 0.1, gap: float = 0.07) -> Iterable[np.ndarray]:
    for one, other in pairwise([*loop, loop[0]]):
        start, way = np.array(one), np.array(other) - np.array(one)
        length = np.hypot(*way)
        for at in np.arange(0, length - dash / 2, dash + gap):
            yield np.array([start + way * at / length, start + way * min(at + dash, length) / length])


def single_strokes(sheet: Sheet, loop: list[tuple[float, float]]) -> None:
    for one, other in pieces(loop):
        sheet.line([tuple(one), tuple(other)], WIDTH, "#333333")


def filled_dashes(sheet: Sheet, loop: list[tuple[float, float]]) -> None:
    for ends in pieces(loop):
        (x0, y0), (x1, y1) = ends.min(axis=0) - WIDTH / 2, ends.max(axis=0) + WIDTH / 2
        sheet.bar(x0, y0, x1, y1, "#333333")


def one_filled_path(sheet: Sheet, loop: list[tuple[float, float]]) -> None:
    path = sheet.canvas.beginPath()
    for ends in pieces(loop):
        (x0, y0), (x1, y1) = ends.min(axis=0) - WIDTH / 2, ends.max(axis=0) + WIDTH / 2
        left, bottom = sheet.at(x0, y1)
        path.rect(left, bottom, (x1 - x0) * 30, (y1 - y0) * 30)
    sheet.canvas.setFillColor("#333333")
    sheet.canvas.drawPath(path, stroke=0, fill=1)


def filled_dots(sheet: Sheet, loop: list[tuple[float, float]]) -> None:
    for one, _ in pieces(loop, 0.02, 0.08):
        sheet.disc(one[0], one[1], 0.02, "#333333")


BROKEN: list[Make] = [dash_array, dots, sides, single_strokes, filled_dashes, one_filled_path, filled_dots]


def draw(sheet: Sheet, make: Make, cages: Iterable[str], inset: float = INSET) -> None:
    for cage in cages:
        for loop in inset_outline(cells_of(cage), inset):
            make(sheet, loop)


def found_cells(found: Evidence) -> list[tuple[Cell, ...]]:
    return sorted(fence.cells for fence in found.fences)


def nothing_else(found: Evidence) -> bool:
    return not (found.tints or found.discs or found.traces or found.shapes or found.unexplained)


@pytest.mark.parametrize("make", BROKEN, ids=lambda make: make.__name__)
@pytest.mark.parametrize("inset", [0.05, 0.12, 0.2])
def test_broken_lines_enclose_the_same_cells_in_every_make(sheet, make, inset):
    sheet.grid()
    draw(sheet, make, (*CAGES, RING, "r5c2"), inset)
    found = sheet.evidence()
    assert found_cells(found) == sorted(map(cells_of, (*CAGES, RING, "r5c2")))
    assert {fence.style for fence in found.fences} == {"dotted" if make in (dots, filled_dots) else "dashed"}
    assert {fence.colour for fence in found.fences} == {(51, 51, 51)}
    assert nothing_else(found)


def test_solid_lines_too(sheet):
    several = [cage for cage in CAGES if " " in cage]
    sheet.grid()
    draw(sheet, outline, (*several, "r1c3"))
    found = sheet.evidence()
    assert found_cells(found) == sorted(map(cells_of, (*several, "r1c3")))
    assert {fence.style for fence in found.fences} == {"solid"}


def test_a_filled_outline_is_a_solid_line(sheet):
    sheet.grid()
    cells = cells_of("r5c5 r5c6 r6c5")
    path = sheet.canvas.beginPath()
    for inset in (INSET - WIDTH / 2, INSET + WIDTH / 2):
        (loop,) = inset_outline(cells, inset)
        path.moveTo(*sheet.at(*loop[0]))
        for point in loop[1:]:
            path.lineTo(*sheet.at(*point))
        path.close()
    sheet.canvas.drawPath(path, stroke=0, fill=1, fillMode=0)
    found = sheet.evidence()
    assert found_cells(found) == [cells]
    assert nothing_else(found)


def test_the_line_is_open_where_the_total_stands(sheet):
    sheet.grid()
    (loop,) = inset_outline(cells_of("r3c3 r3c4"), INSET)
    way = sorted(loop)
    top_left, bottom_left, top_right, bottom_right = way
    sheet.canvas.setDash(2, 2)
    sheet.line([(2.4, 2 + INSET), top_right, bottom_right, bottom_left, (2 + INSET, 2.35)], WIDTH)
    sheet.canvas.setDash()
    sheet.text(2.2, 2.18, "12", 0.25)
    found = sheet.evidence()
    assert found_cells(found) == [cells_of("r3c3 r3c4")]
    assert [glyph.text for glyph in found.glyphs] == ["12"]
    assert top_left == pytest.approx((2 + INSET, 2 + INSET))


def test_a_square_in_one_cell_is_none(sheet):
    sheet.grid()
    sheet.line([(3.15, 3.15), (3.85, 3.15), (3.85, 3.85), (3.15, 3.85)], 0.03, closed=True)
    found = sheet.evidence()
    assert not found.fences
    assert [(shape.name, shape.filled) for shape in found.shapes] == [("square", False)]


@pytest.mark.parametrize("make", [dots, single_strokes])
def test_a_square_in_one_cell_is_none_among_broken_lines_of_its_colour(sheet, make: Make) -> None:
    sheet.grid()
    for words in CAGES:
        (loop,) = inset_outline(cells_of(words), INSET)
        make(sheet, loop)
    for column in (3, 7):
        square = [(column + x, 3 + y) for x, y in ((0.15, 0.15), (0.85, 0.15), (0.85, 0.85), (0.15, 0.85))]
        sheet.line(square, WIDTH, "#333333", closed=True)
    found = sheet.evidence()
    assert sorted(fence.cells for fence in found.fences) == sorted(map(cells_of, CAGES))
    assert [(shape.name, shape.filled) for shape in found.shapes] == [("square", False)] * 2


def test_an_open_line_encloses_nothing_and_is_not_dropped(sheet):
    sheet.grid()
    sheet.canvas.setDash(2, 2)
    sheet.line([(2.1, 2.1), (3.9, 2.1), (3.9, 2.9)], WIDTH)
    found = sheet.evidence()
    assert not found.fences
    assert found.shapes


def test_claims_leave_the_cells_free(sheet):
    sheet.grid()
    draw(sheet, dash_array, ("r5c5 r5c6 r6c5",))
    (fence,) = sheet.evidence().fences
    assert len(fence.claims) == 6
    for claim in fence.claims:
        xs, ys = zip(*claim, strict=True)
        assert min(max(xs) - min(xs), max(ys) - min(ys)) < 0.12


def test_thick_borders_round_groups_that_are_no_boxes(sheet):
    groups = ("r1c1 r1c2", "r1c3 r1c4 r2c4", "r2c1 r3c1 r4c1", "r2c2 r2c3 r3c2 r3c3 r3c4 r4c2", "r4c3 r4c4")
    sheet.rows = sheet.columns = 4
    sheet.grid(0.02, 0.02)
    draw(sheet, lambda s, loop: s.line(loop, 0.07, closed=True), groups, 0.0)
    found = sheet.evidence()
    assert found_cells(found) == sorted(map(cells_of, groups))
    assert {fence.style for fence in found.fences} == {"border"}


def test_boxes_are_no_cages(sheet):
    sheet.grid()
    for row in range(0, 9, 3):
        for column in range(0, 9, 3):
            corners = [(column, row), (column + 3, row), (column + 3, row + 3), (column, row + 3)]
            middle = np.mean(corners, axis=0)
            sheet.line([tuple(c + 0.06 * np.sign(middle - c)) for c in map(np.array, corners)], 0.02, closed=True)
    assert not sheet.evidence().fences


def test_marks_on_edges_are_no_cages(sheet):
    sheet.grid()
    for column in range(3, 6):
        sheet.text(column + 0.5, 3, "<", 0.4)
        sheet.bar(column + 0.1, 4.06, column + 0.9, 4.1)
        sheet.bar(column + 0.06, 4.2, column + 0.1, 4.8)
    assert not sheet.evidence().fences


def test_signs_on_all_edges_of_a_cell_are_no_cage(sheet):
    sheet.grid()
    for x, y, dx, dy in ((4, 4.5, 1, 0), (5, 4.5, -1, 0), (4.5, 4, 0, 1), (4.5, 5, 0, -1)):
        ends = [(x - dx * 0.1 - dy * 0.1, y - dy * 0.1 + dx * 0.1), (x + dx * 0.1, y + dy * 0.1)]
        sheet.line([*ends, (x - dx * 0.1 + dy * 0.1, y - dy * 0.1 - dx * 0.1)], 0.03)
    found = sheet.evidence()
    assert not found.fences
    assert [shape.name for shape in found.shapes] == ["sign"] * 4


def test_dashes_bent_round_the_corners_of_a_cage_are_its_own(sheet):
    def bent(x, y, dx, dy):
        """A filled dash from beside a corner to beneath it."""
        turn = [(x + dx * 0.1 * (1 - np.sin(a)), y + dy * 0.1 * (1 - np.cos(a))) for a in np.linspace(0, np.pi / 2, 8)]
        inner = [(px + dx * 0.03, py + dy * 0.03) for px, py in turn]
        sheet.area([*turn, *reversed(inner)], "#dd4433")

    sheet.grid()
    for x, y, dx, dy in ((2.08, 3.08, 1, 1), (3.92, 3.08, -1, 1), (3.92, 4.92, -1, -1), (2.08, 4.92, 1, -1)):
        bent(x, y, dx, dy)
    for k in range(11):
        for y in (3.08, 4.89):
            sheet.bar(2.24 + k * 0.14, y, 2.32 + k * 0.14, y + 0.03, "#dd4433")
        for x in (2.08, 3.89):
            sheet.bar(x, 3.24 + k * 0.14, x + 0.03, 3.32 + k * 0.14, "#dd4433")
    found = sheet.evidence()
    assert [sorted(map(str, fence.cells)) for fence in found.fences] == [["r4c3", "r4c4", "r5c3", "r5c4"]]
    assert not found.shapes


def test_dots_that_run_into_one_another_at_the_corner_of_a_cage_are_its_own(sheet):
    sheet.grid()
    (loop,) = inset_outline(cells_of("r3c3 r3c4"), 0.1)
    filled_dots(sheet, loop)
    x, y = min(loop, key=sum)
    sheet.area(
        [(x - 0.02, y - 0.02), (x + 0.04, y - 0.02), (x + 0.01, y), (x + 0.04, y + 0.02), (x - 0.02, y + 0.02)],
        "#333333",
    )
    found = sheet.evidence()
    assert len(found.fences) == 1
    assert not (found.shapes or found.characters)


def test_the_figures_of_a_small_total_are_no_dots_of_the_line(sheet):
    sheet.grid()
    (loop,) = inset_outline(cells_of("r3c3 r3c4"), INSET)
    sheet.canvas.setStrokeColor("#000000")
    sheet.canvas.setDash(0.5, 1.5)
    sheet.line(loop, WIDTH, "#000000", closed=True)
    sheet.canvas.setDash()
    path = sheet.canvas.beginPath()
    seven = [(0, 0), (0.07, 0), (0.07, 0.02), (0.03, 0.12), (0.01, 0.12), (0.05, 0.02), (0, 0.02)]
    for place, (x, y) in enumerate(seven):
        (path.lineTo if place else path.moveTo)(*sheet.at(2.05 + x, 2.06 + y))
    path.close()
    sheet.canvas.setFillColor("#000000")
    sheet.canvas.drawPath(path, stroke=0, fill=1)
    found = sheet.evidence()
    assert found_cells(found) == [cells_of("r3c3 r3c4")]
    assert len(found.shapes) == 1


def test_a_straight_1_of_a_total_is_no_part_of_the_line(sheet):
    """With its minus in one path, and as straight as the line that is stroked around it."""
    sheet.grid()
    (loop,) = inset_outline(cells_of("r3c3 r3c4"), INSET)
    sheet.canvas.setDash(1.5, 1)
    sheet.line(loop, WIDTH, "#000000", closed=True)
    sheet.canvas.setDash()
    one = [(0.03, 0), (0.08, 0), (0.08, 0.14), (0.11, 0.14), (0.11, 0.17), (0, 0.17), (0, 0.14), (0.03, 0.14)]
    minus = [(0.14, 0.1), (0.24, 0.1), (0.24, 0.13), (0.14, 0.13)]
    path = sheet.canvas.beginPath()
    for figure in (one, minus):
        for place, (x, y) in enumerate(figure):
            (path.lineTo if place else path.moveTo)(*sheet.at(2.14 + x, 2.12 + y))
        path.close()
    sheet.canvas.setFillColor("#000000")
    sheet.canvas.drawPath(path, stroke=0, fill=1)
    found = sheet.evidence()
    assert found_cells(found) == [cells_of("r3c3 r3c4")]
    assert [shape.name for shape in found.shapes] == ["glyph-path"]


def test_dashes_on_three_sides_of_a_cell_are_no_dotted_tint(sheet):
    sheet.grid()
    cells = "r4c5 r5c5 r5c6"
    draw(sheet, filled_dashes, [cells], 0.11)
    found = sheet.evidence()
    assert found_cells(found) == [cells_of(cells)]
    assert not found.tints


def test_a_wide_total_leaves_one_dash_of_its_side(sheet):
    sheet.grid()
    (loop,) = inset_outline(cells_of("r3c3 r3c4 r4c3"), 0.11)
    for ends in pieces(loop, 0.09, 0.06):
        (x0, y0), (x1, y1) = ends.min(axis=0) - WIDTH / 2, ends.max(axis=0) + WIDTH / 2
        if not (2.05 <= x0 <= 2.64 and y1 < 2.2):
            sheet.bar(x0, y0, x1, y1, "#333333")
    assert found_cells(sheet.evidence()) == [cells_of("r3c3 r3c4 r4c3")]


def test_a_broken_line_upon_a_pale_one_is_one_cage(sheet):
    sheet.grid()
    for words in CAGES:
        (loop,) = inset_outline(cells_of(words), INSET)
        sheet.line(loop, 0.09, "#cfd8e8", closed=True)
        dash_array(sheet, loop)
    found = sheet.evidence()
    assert {fence.cells for fence in found.fences} == set(map(cells_of, CAGES))
    assert len(found.fences) == len(CAGES)
    assert {fence.colour for fence in found.fences} == {(51, 51, 51)}


def test_a_side_of_dots_that_one_path_paints_is_a_line(sheet):
    """Also a short one, which is one ink with as many outlines as a word has."""
    sheet.grid()
    for low, high, at, across in (
        (1.1, 1.9, 1.1, True),
        (1.1, 1.9, 2.9, True),
        (1.1, 2.9, 1.1, False),
        (1.1, 2.9, 1.9, False),
    ):
        path = sheet.canvas.beginPath()
        for step in np.arange(low, high + 0.01, 0.08):
            x, y = sheet.at(step, at) if across else sheet.at(at, step)
            path.circle(x, y, 0.02 * 30)
        sheet.canvas.setFillColor("#333333")
        sheet.canvas.drawPath(path, stroke=0, fill=1)
    found = sheet.evidence()
    assert found_cells(found) == [cells_of("r2c2 r3c2")]
    assert nothing_else(found)


def test_circles_on_corners_in_the_colour_of_cages_are_none_of_their_lines(sheet):
    sheet.grid()
    draw(sheet, outline, ("r2c2 r2c3", "r3c2 r3c3"))
    for x in (1, 2, 3):
        sheet.disc(x, 2, 0.31, "#ffffff", "#333333", 0.02)
    found = sheet.evidence()
    assert found_cells(found) == [cells_of("r2c2 r2c3"), cells_of("r3c2 r3c3")]
    assert len(found.discs) == 3 and not found.shapes


@pytest.mark.parametrize("wide", [0.24, 0.4])
def test_the_box_round_a_total_is_no_line_of_its_cage(sheet, wide):
    """In the colour of the cage, and so narrow that it lies beside the edges of its cell."""
    sheet.grid()
    cells = cells_of("r3c2 r4c2")
    (loop,) = inset_outline(cells, INSET)
    sheet.canvas.setDash([6, 3])
    outline(sheet, loop)
    sheet.canvas.setDash([])
    sheet.area([(1.04, 2.04), (1.04 + wide, 2.04), (1.04 + wide, 2.32), (1.04, 2.32)], "#ffffff", "#333333", 0.02)
    sheet.text(1.04 + wide / 2, 2.18, "9", 0.25)
    assert found_cells(sheet.evidence()) == [cells]


def test_fine_dots_that_are_strokes_of_their_own_are_dotted(sheet):
    """Though their masks, which are no narrower than three pixels, run into one another."""
    sheet.grid()
    left, top, right, bottom = 2.08, 2.08, 3.92, 2.92
    for x in np.arange(left, right, 0.05):
        for y in (top, bottom):
            sheet.line([(float(x), y), (float(x) + 0.012, y)], 0.012, "#444444")
    for y in np.arange(top, bottom, 0.05):
        for x in (left, right):
            sheet.line([(x, float(y)), (x, float(y) + 0.012)], 0.012, "#444444")
    (fence,) = sheet.evidence().fences
    assert (fence.style, len(fence.cells)) == ("dotted", 2)
