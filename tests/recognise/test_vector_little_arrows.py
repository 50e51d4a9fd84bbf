"""Little arrows beside the grid as vectors, and what is none."""

from __future__ import annotations

import numpy as np
import pytest

from tests.recognise.drawn_pages import Sheet
from tests.recognise.test_vector_signs import arms, only_shapes

DIAGONAL = {"down-right": (1, 1), "down-left": (-1, 1), "up-right": (1, -1), "up-left": (-1, -1)}

pytestmark = pytest.mark.usefixtures("grid_first")


def shaft_and_head(sheet: Sheet, x: float, y: float, way: tuple[float, float]) -> None:
    unit = np.array(way) / np.hypot(*way)
    tip = np.array((x, y)) + unit * 0.15
    points = arms(*(tip - unit * 0.05), tuple(unit), 0.05, 0.06)
    sheet.line([tuple(np.array((x, y)) - unit * 0.15), tuple(tip)], 0.02)
    sheet.line(points, 0.02)


def shaft_and_triangle(sheet: Sheet, x: float, y: float, way: tuple[float, float]) -> None:
    unit = np.array(way) / np.hypot(*way)
    tip = np.array((x, y)) + unit * 0.15
    sheet.line([tuple(np.array((x, y)) - unit * 0.15), tuple(tip - unit * 0.05)], 0.02)
    sheet.area(arms(*(tip - unit * 0.05), tuple(unit), 0.05, 0.06), "#000000")


def one_outline(sheet: Sheet, x: float, y: float, way: tuple[float, float]) -> None:
    unit = np.array(way) / np.hypot(*way)
    aside = np.array((-unit[1], unit[0]))
    middle = np.array((x, y))
    corners = ((-0.15, 0.015), (0.03, 0.015), (0.03, 0.08), (0.15, 0), (0.03, -0.08), (0.03, -0.015), (-0.15, -0.015))
    sheet.area([tuple(middle + unit * s + aside * v) for s, v in corners], "#000000")


def bare_triangle(sheet: Sheet, x: float, y: float, way: tuple[float, float]) -> None:
    unit = np.array(way) / np.hypot(*way)
    sheet.area(arms(x, y, tuple(unit), 0.1, 0.08), "#000000")


@pytest.mark.parametrize(
    "make", [shaft_and_head, shaft_and_triangle, one_outline, bare_triangle], ids=lambda m: m.__name__
)
def test_a_little_arrow_beside_the_grid(sheet, make):
    places = {"down-right": (-0.3, 2.7), "down-left": (4.3, -0.3), "up-right": (-0.3, 6.3), "up-left": (9.3, 5.3)}
    for name, (x, y) in places.items():
        make(sheet, x, y, DIAGONAL[name])
        sheet.text(x + (0.5 if x > 9 else -0.5 if x < 0 else 0), y - (0.5 if y < 0 else 0), "23", 0.4)
    found = sheet.evidence()
    assert {(shape.name, shape.direction) for shape in only_shapes(found)} == {("arrow", name) for name in places}
    assert [glyph.text for glyph in found.glyphs] == ["23"] * 4


def test_arrows_that_cross_or_touch_their_number_are_arrows(sheet):
    for make, way, at in ((shaft_and_head, "up-right", (-0.3, 3.2)), (shaft_and_head, "down-right", (-0.3, 3.36))):
        make(sheet, *at, DIAGONAL[way])
    shaft_and_head(sheet, -0.3, 6.3, DIAGONAL["up-right"])
    seven = [(0, 0), (0.3, 0), (0.3, 0.06), (0.14, 0.45), (0.07, 0.45), (0.22, 0.06), (0, 0.06)]
    sheet.area([(-0.58 + x, 6.38 + y) for x, y in seven], "#000000")
    found = [shape for shape in sheet.evidence().shapes if shape.name == "arrow"]
    assert sorted(shape.direction for shape in found) == ["down-right", "up-right", "up-right"]


def test_digits_as_paths_beside_the_grid_are_no_arrows(sheet):
    seven = [(0, 0), (0.3, 0), (0.3, 0.06), (0.14, 0.45), (0.07, 0.45), (0.22, 0.06), (0, 0.06)]
    one = [(0, 0.1), (0.13, 0), (0.2, 0), (0.2, 0.45), (0.13, 0.45), (0.13, 0.1), (0.03, 0.16)]
    for place, digit in enumerate((seven, one)):
        sheet.area([(2.35 + place + x, -0.7 + y) for x, y in digit], "#000000")
    assert not [shape for shape in sheet.evidence().shapes if shape.name == "arrow"]


@pytest.mark.parametrize("gap", [0.006, 0.03])
def test_two_figures_as_paths_side_by_side_are_no_arrow(sheet, gap: float) -> None:
    """A 2 whose foot and a 1 whose flag lie on a slant that has as much on the one side as on the other."""
    two = [(0, 0.07), (0.05, 0), (0.12, 0), (0.16, 0.06), (0.06, 0.23), (0.16, 0.23), (0.16, 0.27), (0, 0.27)]
    two += [(0, 0.23), (0.11, 0.07), (0.09, 0.04), (0.06, 0.04), (0.03, 0.09)]
    one = [(0, 0.05), (0.06, 0), (0.09, 0), (0.09, 0.27), (0.055, 0.27), (0.055, 0.05), (0.02, 0.08)]
    for points, left in ((two, 3.4), (one, 3.56 + gap)):
        sheet.area([(left + x, 9.4 + y) for x, y in points], "#000000")
    assert not [shape for shape in sheet.evidence().shapes if shape.name == "arrow"]


def test_the_head_of_an_arrow_close_to_the_grid_is_no_corner_of_its_frame(sheet):
    sheet.line([(1.7, -0.3), (1.93, -0.07)], 0.03)
    sheet.line([(1.8, -0.07), (1.93, -0.07), (1.93, -0.2)], 0.03)
    assert [(shape.name, shape.direction) for shape in sheet.evidence().shapes] == [("arrow", "down-right")]


def test_a_house_round_a_number_beside_the_grid_is_no_arrow(sheet):
    house = [(0.2, 0.9), (0.2, 0.35), (0.5, 0.1), (0.8, 0.35), (0.8, 0.9)]
    for row, half in ((2, 0.0), (5, 0.3)):
        sheet.line([(-1 + x, row + half + y) for x, y in house], 0.02, "#006688", closed=True)
    sheet.area([(9 + x, 4 + y) for x, y in house], "#ccddee")
    assert not [shape for shape in sheet.evidence().shapes if shape.name == "arrow"]


@pytest.mark.parametrize("half", [(0.2, 0.3), (0.34, 0.3)])
def test_a_frame_round_a_number_beside_the_grid_is_no_arrow(sheet, half):
    across, down = half
    sheet.grid()
    sheet.text(-0.6, 2.5, "21", 0.4)
    sheet.line([(-0.6 - across, 2.5 - down), (-0.6 + across, 2.5 - down), (-0.6 + across, 2.5 + down),
                (-0.6 - across, 2.5 + down)], 0.02, closed=True)  # fmt: skip
    assert [shape.name for shape in sheet.evidence().shapes] == ["square"]


@pytest.mark.parametrize(("across", "down", "way"), [(1, 1, "down-right"), (-1, -1, "up-left"), (1, -1, "up-right")])
def test_a_head_longer_than_what_is_seen_of_its_shaft_points_by_its_tip(sheet, across, down, way):
    tip = np.array([-0.3, 4.5])
    along = np.array([across, down]) / np.sqrt(2)
    aside = np.array([-along[1], along[0]])
    base = tip - 0.17 * along
    sheet.line([tuple(tip - 0.31 * along), tuple(tip)], 0.023)
    sheet.area([tuple(tip), tuple(base + 0.09 * aside), tuple(base - 0.09 * aside)], "#000000")
    (arrow,) = sheet.evidence().shapes
    assert (arrow.name, arrow.direction) == ("arrow", way)
