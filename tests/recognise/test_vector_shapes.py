"""Shapes of left-over paths, from shapes made by hand and from pages."""

from dataclasses import replace

import numpy as np
import pytest
from PIL import Image
from reportlab.lib.utils import ImageReader

from recognise.evidence import Shape
from recognise.vectors.marks import without_rims
from schema.cells import Cell
from tests.recognise.drawn_pages import SIDE, Sheet

CORNERS = ((0.87, 2.37), (1.13, 2.37), (1.13, 2.63), (0.87, 2.63), (0.87, 2.37))


def _square(filled: bool, by: float = 0.0) -> Shape:
    where = tuple((x + by, y) for x, y in CORNERS)
    box = (*where[0], *where[2])
    return Shape("square", box, (0, 0, 0), "vector", where=where, filled=filled)


def test_the_stroke_of_a_filled_path_is_no_second_mark() -> None:
    fill, rim, near, far = _square(True), _square(False), _square(False, 0.001), _square(False, 0.1)
    assert without_rims([fill, rim]) == [fill]
    assert without_rims([near, fill]) == [fill]
    assert without_rims([fill, far]) == [fill, far]
    assert without_rims([rim]) == [rim]
    assert without_rims([fill, replace(rim, where=())]) == [fill]
    widened = (rim.box[0] - 0.02, rim.box[1] - 0.02, rim.box[2] + 0.02, rim.box[3] + 0.02)
    assert without_rims([fill, replace(rim, box=widened)]) == [fill]


def round_bar(sheet: Sheet, x: float, y: float, across: float, down: float, fill: str) -> None:
    """A bar with round corners, filled and outlined, about a point."""
    sheet.canvas.setFillColor(fill)
    sheet.canvas.setStrokeColor("#503060")
    sheet.canvas.setLineWidth(0.6)
    left, low = sheet.at(x - across / 2, y + down / 2)
    sheet.canvas.roundRect(left, low, across * SIDE, down * SIDE, 0.05 * SIDE, stroke=1, fill=1)


def test_bars_with_round_corners_on_edges_are_bars_and_no_minus(sheet):
    sheet.grid()
    round_bar(sheet, 3.5, 2, 0.6, 0.15, "#8a7090")
    round_bar(sheet, 5, 4.5, 0.15, 0.6, "#8a7090")
    found = sheet.evidence()
    assert {shape.name for shape in found.shapes} == {"bar"}
    assert not found.glyphs


@pytest.mark.parametrize("length", [0.0, 0.0001, 0.01])
def test_a_stroke_with_round_ends_that_hardly_moves_is_a_disc(sheet, length):
    sheet.grid()
    sheet.canvas.setLineCap(1)
    for width, colour in ((0.3, "#000000"), (0.24, "#ffffff")):
        sheet.line([(3, 2.5), (3 + length, 2.5)], width, colour)
    found = sheet.evidence()
    (dot,) = found.discs
    assert dot.radius == pytest.approx(0.15, abs=0.01)
    assert (dot.fill, dot.outline) == ((255, 255, 255), (0, 0, 0))
    assert not found.shapes


@pytest.mark.parametrize(("turn", "wave", "is_ring"), [(0.0, 0.0, True), (22.5, 0.0, True), (22.5, 0.15, False)])
def test_a_regular_octagon_is_a_ring(sheet, turn, wave, is_ring):
    sheet.grid()
    angles = np.deg2rad(turn + 45 * np.arange(8))
    away = 0.25 * (1 - wave * (np.arange(8) % 2))
    sheet.area(list(zip(3 + away * np.cos(angles), 3 + away * np.sin(angles), strict=True)), "#ffffff", "#000000", 0.02)
    found = sheet.evidence()
    assert bool(found.discs) == is_ring
    assert bool(found.shapes) != is_ring
    assert not is_ring or found.discs[0].radius == pytest.approx(0.25, abs=0.01)


def test_a_white_bar_on_a_line_leaves_the_line(sheet):
    sheet.grid()
    sheet.bar(3.99, 1, 4.01, 2)
    for x in (3, 4):
        around = [(x - 0.08, 1.18), (x + 0.08, 1.18), (x + 0.08, 1.82), (x - 0.08, 1.82)]
        sheet.area(around, "#ffffff", "#000000", 0.02)
    found = sheet.evidence()
    assert (found.edges.vertical > 0).all()
    assert [shape.name for shape in found.shapes] == ["bar", "bar"]


@pytest.mark.parametrize(("turn", "name"), [(0, "bar"), (2, "bar"), (4, "bar"), (45, "diamond")])
def test_a_bar_set_askew_is_a_bar(sheet, turn: float, name: str):
    sheet.grid()
    along = np.array([np.cos(np.deg2rad(90 + turn)), np.sin(np.deg2rad(90 + turn))])
    aside = np.array([-along[1], along[0]])
    ends = (along * 0.27 + aside * 0.08, along * 0.27 - aside * 0.08)
    corners = [ends[0], ends[1], -ends[0], -ends[1]]
    sheet.area([(4 + x, 2.5 + y) for x, y in corners], "#000000")
    assert [shape.name for shape in sheet.evidence().shapes] == [name]


def test_the_fill_of_a_straight_line_is_nothing(sheet):
    sheet.grid()
    (x, y), (to_x, to_y) = sheet.at(2.04, 3.02), sheet.at(6.03, 3.01)
    path = sheet.canvas.beginPath()
    path.moveTo(x, y)
    path.lineTo(to_x, to_y)
    sheet.canvas.setStrokeColor("#1a1512")
    sheet.canvas.setFillColor("#000000")
    sheet.canvas.drawPath(path, stroke=1, fill=1)
    assert not sheet.evidence().shapes


def test_a_row_of_stars_above_a_grid_is_no_arrow(sheet):
    sheet.grid()
    for number in range(5):
        turns = np.arange(10) * np.pi / 5
        away = np.where(np.arange(10) % 2, 0.05, 0.12)
        points = np.stack([6.5 + 0.3 * number + away * np.sin(turns), -0.4 - away * np.cos(turns)], axis=1)
        sheet.area([tuple(point) for point in points.tolist()], "#d0a030")
    assert not [shape for shape in sheet.evidence().shapes if shape.name == "arrow"]


@pytest.mark.parametrize("flat", [True, False])
def test_a_picture_all_of_one_colour_is_a_tint_and_what_little_is_of_another_is_seen(sheet, flat: bool):
    pixels = np.full((4, 4, 3), 210, np.uint8)
    pixels[1, 1] = 210 if flat else 20
    sheet.canvas.drawImage(ImageReader(Image.fromarray(pixels)), *sheet.at(3, 5), SIDE, SIDE)
    sheet.grid()
    found = sheet.evidence()
    assert [(tint.cell, tint.colour) for tint in found.tints] == [(Cell(5, 4), (210, 210, 210))]
    assert [shape.colour for shape in found.shapes] == ([] if flat else [(20, 20, 20)])
    assert not found.unexplained


@pytest.mark.parametrize("manner", ["filled", "ring", "figure"])
def test_a_round_thing_that_a_hand_drew_is_a_disc_and_a_figure_is_none(sheet, manner):
    """Twice as uneven as a circle may be, one end beyond where it began."""
    sheet.grid()
    turns = np.linspace(0, 2 * np.pi * (1.02 if manner == "ring" else 1), 40)
    away = 0.3 * (1 + (0.07 if manner != "figure" else 0.2) * np.sin(2 * turns) + 0.02 * np.sin(5 * turns))
    points = [sheet.at(4.5 + r * np.cos(t), 2.5 + r * np.sin(t)) for r, t in zip(away, turns, strict=True)]
    path = sheet.canvas.beginPath()
    path.moveTo(*points[0])
    for one, other, third in zip(points[1::3], points[2::3], points[3::3], strict=False):
        path.curveTo(*one, *other, *third)
    sheet.canvas.setFillColor("#222222")
    sheet.canvas.setLineWidth(0.8)
    sheet.canvas.drawPath(path, stroke=int(manner == "ring"), fill=int(manner != "ring"))
    found = sheet.evidence()
    assert len(found.discs) == (manner != "figure")


def test_tags_drawn_as_rings_are_outlines_and_no_row_of_letters(sheet):
    """Each with a point towards its row, a thin ring that is filled; five side by side are no line of text."""
    sheet.grid()
    tag = np.array([(0.05, -1.05), (0.95, -1.05), (0.95, -0.45), (0.5, -0.05), (0.05, -0.45)])
    middle = np.array([0.5, -0.65])
    for column in range(5):
        path = sheet.canvas.beginPath()
        for points in (tag, middle + 0.96 * (tag[::-1] - middle)):
            for place, (x, y) in enumerate(points):
                (path.lineTo if place else path.moveTo)(*sheet.at(column + x, y))
            path.close()
        sheet.canvas.setFillColor("#000000")
        sheet.canvas.drawPath(path, stroke=0, fill=1)
        sheet.text(column + 0.5, -0.7, "3", 0.4)
    found = sheet.evidence()
    assert [(shape.name, shape.filled) for shape in found.shapes] == [("outline", False)] * 5
    assert [glyph.text for glyph in found.glyphs] == ["3"] * 5


@pytest.mark.parametrize(("bay", "name"), [(0.0, "outline"), (0.3, "mark")])
def test_a_stroked_tag_has_no_bay(sheet, bay, name):
    """A figure that is drawn as an outline has one."""
    sheet.grid()
    points = [(0.07, -0.83), (0.5, -0.83 + bay), (0.93, -0.83), (0.93, -0.15), (0.5, 0.1), (0.07, -0.15)]
    sheet.line(points, 0.02, closed=True)
    assert [shape.name for shape in sheet.evidence().shapes] == [name]


@pytest.mark.parametrize("lies", ["across", "down"])
def test_the_strips_of_a_square_are_one_square(sheet, lies):
    for number in range(5):
        low, high = 0.1 + 0.16 * number, 0.1 + 0.16 * (number + 1)
        level = 210 + 3 * number
        colour = f"#{level:02x}{level:02x}{level:02x}"
        if lies == "across":
            sheet.bar(4.1, 2 + low, 4.9, 2 + high, colour)
        else:
            sheet.bar(4 + low, 2.1, 4 + high, 2.9, colour)
    sheet.grid()
    assert [(s.name, s.filled, s.colour) for s in sheet.evidence().shapes] == [("square", True, (210, 210, 210))]


def test_the_strips_of_a_tint_are_known_where_a_picture_shows_lines_for_them(sheet):
    for number in range(5):
        level = 210 + 3 * number
        sheet.bar(4, 2 + 0.2 * number, 5, 2.2 + 0.2 * number, f"#{level:02x}{level:02x}{level:02x}")
    sheet.grid()
    (tint,) = sheet.evidence().tints
    assert (str(tint.cell), tint.colour, round(tint.share, 2)) == ("r3c5", (210, 210, 210), 1)
    tops = [min(y for _, y in strip) for strip in tint.strokes]
    assert tops == pytest.approx([2, 2.2, 2.4, 2.6, 2.8], abs=0.01)


def test_a_row_of_dots_from_corner_to_corner_is_a_diagonal(sheet):
    sheet.grid()
    for row in range(9):
        for part in (0.2, 0.4, 0.6, 0.8):
            sheet.disc(row + part, row + part, 0.03, "#262626")
    found = sheet.evidence()
    assert [(shape.name, shape.direction) for shape in found.shapes] == [("diagonal", "down")]
    assert not found.discs
