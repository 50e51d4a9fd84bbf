"""Small marks in many makes: signs, texts and dots on edges, circles on corners, squares in cells, diagonals."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from ingest.pdf_symbols import is_symbol
from recognise.evidence import Evidence, Shape
from recognise.vectors.inks import Ink
from recognise.vectors.marks import is_frame
from recognise.vectors.patches import Patch
from tests.recognise.drawn_pages import SIDE, Sheet

WAYS = {"right": (1, 0), "left": (-1, 0), "up": (0, -1), "down": (0, 1)}
Points = list[tuple[float, float]]

pytestmark = pytest.mark.usefixtures("grid_first")


def arms(x: float, y: float, way: tuple[float, float], half: float = 0.11, lean: float = 0.12) -> Points:
    """The ends of two strokes that meet in a point towards `way`, the point in the middle."""
    dx, dy = way
    return [
        (x - dx * half - dy * lean, y - dy * half + dx * lean),
        (x + dx * half, y + dy * half),
        (x - dx * half + dy * lean, y - dy * half - dx * lean),
    ]


def polyline(sheet: Sheet, points: Points) -> None:
    sheet.line(points, 0.03)


def round_polyline(sheet: Sheet, points: Points) -> None:
    sheet.canvas.setLineCap(1)
    sheet.canvas.setLineJoin(1)
    sheet.line(points, 0.05)


def two_strokes(sheet: Sheet, points: Points) -> None:
    sheet.line(points[:2], 0.03)
    sheet.line(points[1:], 0.03)


def chevron(sheet: Sheet, points: Points) -> None:
    """The outline of the strokes, filled."""
    one, point, other = map(np.array, points)
    inward = ((one + other) / 2 - point) * 0.3
    way = (other - one) / np.linalg.norm(other - one) * 0.02
    sheet.area(
        [tuple(p) for p in (one, point, other, other + inward * 0.4 - way, point + inward, one + inward * 0.4 + way)],
        "#000000",
    )


def triangle(sheet: Sheet, points: Points) -> None:
    sheet.area(points, "#000000")


def outlined_triangle(sheet: Sheet, points: Points) -> None:
    """Filled, and its outline filled again as the ring that a pen draws, whose corners lie far out."""
    sheet.area(points, "#000000")
    middle = np.mean(points, axis=0)
    path = sheet.canvas.beginPath()
    for grow in (1.3, 0.75):
        corners = [tuple(middle + grow * (np.array(point) - middle)) for point in points]
        for place, corner in enumerate(corners[:: 1 if grow > 1 else -1]):
            (path.lineTo if place else path.moveTo)(*sheet.at(*corner))
        path.close()
    sheet.canvas.drawPath(path, stroke=0, fill=1)


def only_shapes(found: Evidence) -> tuple[Shape, ...]:
    assert not (found.discs or found.traces or found.fences or found.unexplained or found.tints), found
    return found.shapes


MAKES = [polyline, round_polyline, two_strokes, chevron, triangle, outlined_triangle]


@pytest.mark.parametrize("make", MAKES, ids=lambda m: m.__name__)
@pytest.mark.parametrize("white", [False, True])
def test_a_sign_points_the_same_way_in_every_make(sheet, make: Callable[[Sheet, Points], None], white):
    places = {"right": (3.0, 1.5), "left": (5.0, 4.5), "up": (1.5, 5.0), "down": (7.5, 6.0)}
    for name, (x, y) in places.items():
        if white:
            sheet.bar(x - 0.16, y - 0.16, x + 0.16, y + 0.16, "#ffffff")
        make(sheet, arms(x, y, WAYS[name]))
    found = only_shapes(sheet.evidence())
    assert {(shape.name, shape.direction) for shape in found} == {("sign", name) for name in places}
    assert len(found) == 4
    for shape in found:
        x, y = places[shape.direction]
        assert shape.box == pytest.approx((x - 0.13, y - 0.13, x + 0.13, y + 0.13), abs=0.06)


@pytest.mark.parametrize("degrees", [0, 90, 180, 270])
def test_signs_set_as_text_at_any_angle(sheet, degrees):
    sheet.canvas.saveState()
    sheet.canvas.translate(*sheet.at(4.5, 3))
    sheet.canvas.rotate(-degrees)
    sheet.canvas.setFont("Helvetica", 0.3 * SIDE)
    sheet.canvas.drawCentredString(0, -0.1 * SIDE, ">")
    sheet.canvas.restoreState()
    found = sheet.evidence()
    if degrees == 0:
        assert [glyph.text for glyph in found.glyphs] == [">"]
        return
    (shape,) = only_shapes(found)
    assert (shape.name, shape.direction) == ("sign", {90: "down", 180: "left", 270: "up"}[degrees])


def test_a_v_as_a_path_is_a_letter_where_no_other_sign_stands(sheet):
    v = [(-0.12, -0.12), (-0.07, -0.12), (0.0, 0.06), (0.07, -0.12), (0.12, -0.12), (0.03, 0.12), (-0.03, 0.12)]
    sheet.area([(3 + x, 2.5 + y) for x, y in v], "#000000")
    (shape,) = only_shapes(sheet.evidence())
    assert shape.name == "glyph-path"


def test_texts_on_edges_have_their_middle_there(sheet):
    for x, y, text in ((3, 1.5, "X"), (4.5, 2, "10"), (6, 3.5, "12"), (7, 3.5, "10")):
        sheet.text(x, y, text, 0.3)
    sheet.text(3.5, 5.5, "15", 0.66)
    sheet.text(4.5, 5.5, "16", 0.66)
    found = sheet.evidence()
    read = sorted((glyph.text, round(glyph.centre[0], 1), round(glyph.centre[1], 1)) for glyph in found.glyphs)
    assert read == [
        ("10", 4.5, 2.0), ("10", 7.0, 3.5), ("12", 6.0, 3.5), ("15", 3.5, 5.5), ("16", 4.5, 5.5), ("X", 3.0, 1.5),
    ]  # fmt: skip


def test_totals_keep_their_sign(sheet):
    for column, text in enumerate(("12+", "3-", "6x", "8:", "2/")):
        sheet.text(column + 0.25, 0.2, text, 0.25)
    assert sorted(glyph.text for glyph in sheet.evidence().glyphs) == ["12+", "2/", "3-", "6x", "8:"]


@pytest.mark.parametrize("make", ["circle", "polygon", "ring", "two"])
def test_dots_know_ground_and_outline(sheet, make):
    x, y, r = 4.0, 2.5, 0.13
    circle = [(x + r * np.cos(a), y + r * np.sin(a)) for a in np.linspace(0, 2 * np.pi, 24, endpoint=False)]
    if make == "circle":
        sheet.disc(x, y, r, "#ffffff", "#000000", 0.02)
    elif make == "polygon":
        sheet.area(circle, "#ffffff", "#000000", 0.02)
    elif make == "ring":
        sheet.disc(x, y, r, "#000000")
        sheet.disc(x, y, r - 0.03, "#ffffff")
    else:
        sheet.disc(x, y, r, "#ffffff")
        sheet.disc(x, y, r, None, "#000000", 0.02)
    (disc,) = sheet.evidence().discs
    assert (disc.fill, disc.outline) == ((255, 255, 255), (0, 0, 0))
    assert disc.centre == pytest.approx((x, y), abs=0.01)
    assert disc.radius == pytest.approx(r, abs=0.02)


def test_a_circle_on_a_corner_and_its_digits(sheet):
    sheet.disc(4, 4, 0.25, "#ffffff", "#000000", 0.02)
    for dx, dy, digit in ((-0.1, -0.1, "1"), (0.1, -0.1, "2"), (-0.1, 0.1, "3"), (0.1, 0.1, "9")):
        sheet.text(4 + dx, 4 + dy, digit, 0.2)
    found = sheet.evidence()
    (disc,) = found.discs
    assert disc.centre == pytest.approx((4, 4), abs=0.01)
    assert sorted(glyph.text for glyph in found.glyphs) == ["1", "2", "3", "9"]


@pytest.mark.parametrize("make", ["fill", "stroke", "frame", "both"])
def test_squares_in_cells(sheet, make):
    corners = [(3.2, 3.2), (3.8, 3.2), (3.8, 3.8), (3.2, 3.8)]
    if make == "fill":
        sheet.area(corners, "#bbbbbb")
    elif make == "stroke":
        sheet.line(corners, 0.03, "#555555", closed=True)
    elif make == "both":
        sheet.area(corners, "#bbbbbb", "#555555")
    else:
        path = sheet.canvas.beginPath()
        for grow in (0.015, -0.015):
            left, bottom = sheet.at(3.2 - grow, 3.8 + grow)
            path.rect(left, bottom, (0.6 + 2 * grow) * SIDE, (0.6 + 2 * grow) * SIDE)
        sheet.canvas.setFillColor("#555555")
        sheet.canvas.drawPath(path, stroke=0, fill=1, fillMode=0)
    (shape,) = only_shapes(sheet.evidence())
    assert (shape.name, shape.filled) == ("square", make in ("fill", "both"))
    assert shape.colour == ((187, 187, 187) if make in ("fill", "both") else (85, 85, 85))


def test_a_square_with_round_corners_is_one_whatever_draws_its_rim(sheet):
    turns = np.linspace(0, np.pi / 2, 8)
    rings = []
    for half, radius in ((0.42, 0.08), (0.39, 0.05)):
        corners = [
            (4.5 + x * (half - radius), 4.5 + y * (half - radius), x, y)
            for x, y in ((1, 1), (-1, 1), (-1, -1), (1, -1))
        ]
        starts = (0, np.pi / 2, np.pi, 3 * np.pi / 2)
        rings.append(
            [
                (x + radius * np.cos(s + t), y + radius * np.sin(s + t))
                for (x, y, *_), s in zip(corners, starts, strict=True)
                for t in turns
            ]
        )
    path = sheet.canvas.beginPath()
    for ring in rings:
        path.moveTo(*sheet.at(*ring[0]))
        for point in ring[1:]:
            path.lineTo(*sheet.at(*point))
        path.close()
    sheet.canvas.setFillColor("#663377")
    sheet.canvas.drawPath(path, stroke=0, fill=1, fillMode=0)
    (shape,) = only_shapes(sheet.evidence())
    assert (shape.name, shape.filled) == ("square", False)


@pytest.mark.parametrize("size", [(0.42, 0.49), (0.42, 0.29), (0.24, 0.29)])
def test_a_stroked_frame_with_round_corners_is_a_square(sheet, size: tuple[float, float]) -> None:
    """On a corner of four cells, bare paper in it."""
    across, down = size
    left, bottom = sheet.at(4 - across / 2, 5 + down / 2)
    sheet.canvas.setLineWidth(0.02 * SIDE)
    sheet.canvas.setFillColor("#ffffff")
    sheet.canvas.roundRect(left, bottom, across * SIDE, down * SIDE, 0.08 * SIDE, stroke=1, fill=1)
    (shape,) = only_shapes(sheet.evidence())
    assert (shape.name, shape.filled) == ("square", False)


def test_two_tints_on_a_cell_are_two_layers(sheet):
    sheet.bar(0, 0, 3, 3, "#e0e0e0")
    sheet.bar(1, 1, 2, 2, "#ffd0d0")
    sheet.bar(4, 4, 5, 5, "#d0ffd0")
    sheet.grid()
    found = sheet.evidence()
    layers = [tint.colour for tint in found.tints if str(tint.cell) == "r2c2"]
    assert layers == [(224, 224, 224), (255, 208, 208)]
    assert len(found.tints) == 11


def test_a_tint_of_a_whole_cell_is_one_where_a_white_tube_lies_on_most_of_it(sheet):
    sheet.bar(1, 1, 4, 2, "#ececec")
    sheet.line([(1.5, 1.5), (2.5, 1.5), (3.5, 2.5)], 0.76)
    sheet.line([(1.5, 1.5), (2.5, 1.5), (3.5, 2.5)], 0.72, "#ffffff")
    sheet.grid()
    found = sheet.evidence()
    assert sorted(str(tint.cell) for tint in found.tints) == ["r2c2", "r2c3", "r2c4"]
    assert not [shape for shape in found.shapes if shape.name == "square"]


@pytest.mark.parametrize("make", ["line", "pieces", "dashes", "outline"])
def test_long_diagonals(sheet, make):
    for start, end in (((0, 0), (9, 9)), ((0, 9), (9, 0))):
        ends = [np.array(start, float), np.array(end, float)]
        if make == "line":
            sheet.line([start, end], 0.03, "#4444cc")
        elif make == "pieces":
            for k in range(9):
                sheet.line([tuple(ends[0] + (ends[1] - ends[0]) * t / 9) for t in (k, k + 1)], 0.03, "#4444cc")
        elif make == "dashes":
            sheet.canvas.setDash(3, 3)
            sheet.line([start, end], 0.03, "#4444cc")
            sheet.canvas.setDash()
        else:
            aside = np.array((ends[0] - ends[1])[::-1] * (1, -1)) / 9 * 0.01
            sheet.area(
                [tuple(p) for p in (ends[0] + aside, ends[1] + aside, ends[1] - aside, ends[0] - aside)], "#4444cc"
            )
    found = only_shapes(sheet.evidence())
    assert [(s.name, s.direction, s.colour) for s in found] == [
        ("diagonal", "down", (68, 68, 204)), ("diagonal", "up", (68, 68, 204)),
    ]  # fmt: skip


def test_the_band_of_a_dotted_diagonal_is_as_wide_as_its_dots(sheet):
    for at in np.arange(0.1, 9, 0.2):
        sheet.disc(at, at, 0.04, "#4444cc")
    (shape,) = only_shapes(sheet.evidence())
    assert shape.name == "diagonal"
    assert np.hypot(*np.subtract(shape.where[0], shape.where[3])) == pytest.approx(0.08, abs=0.02)


def test_a_line_through_the_cells_of_a_diagonal_is_none(sheet):
    sheet.line([(0.5, 0.5), (8.5, 8.5)], 0.2, "#bbbbbb")
    found = sheet.evidence()
    (trace,) = found.traces
    assert len(trace.nodes) == 9
    assert not found.shapes


def test_signs_that_touch_are_two(sheet):
    for way, (x, y) in (("left", (7.0, 7.5)), ("up", (7.5, 7.0))):
        sheet.area(arms(x, y, WAYS[way], 0.17, 0.26), "#1f6b3a", "#1f6b3a", 0.06)
    found = only_shapes(sheet.evidence())
    assert {(shape.name, shape.direction) for shape in found} == {("sign", "left"), ("sign", "up")}


def test_white_panels_on_tinted_paper_are_no_marks(tmp_path):
    sheet = Sheet(tmp_path / "page.pdf")
    sheet.bar(-3, -3, 12, 12, "#fbf5e6")
    sheet.grid()
    sheet.bar(2.02, 3.02, 2.32, 3.27, "#ffffff")
    sheet.text(2.17, 3.15, "12", 0.25)
    found = sheet.evidence()
    assert not only_shapes(found)
    assert [glyph.text for glyph in found.glyphs] == ["12"]


def test_a_narrow_figure_as_a_path_on_an_edge_is_not_taken_for_the_line(sheet):
    eight = sheet.canvas.beginPath()
    for y, r in ((2.44, 0.055), (2.56, 0.065)):
        for grow in (0.0, -0.03):
            left, bottom = sheet.at(3 - r - grow, y + r + grow)
            eight.ellipse(left, bottom, 2 * (r + grow) * SIDE, 2 * (r + grow) * SIDE)
    sheet.canvas.setFillColor("#000000")
    sheet.canvas.drawPath(eight, stroke=0, fill=1, fillMode=0)
    found = sheet.evidence()
    assert [shape.name for shape in found.shapes] == ["glyph-path"]


def test_a_round_letter_of_a_line_of_text_above_the_grid_is_no_circle(sheet):
    """As paths: l, o, w, e, the o of them a ring."""
    sheet.bar(2.0, -0.9, 2.03, -0.7)
    path = sheet.canvas.beginPath()
    for radius in (0.06, 0.04):
        path.circle(*sheet.at(2.12, -0.76), radius * SIDE)
    sheet.canvas.setFillColor("#000000")
    sheet.canvas.drawPath(path, stroke=0, fill=1, fillMode=0)
    zigzag = [(0, 0), (0.03, 0.12), (0.06, 0.04), (0.09, 0.12), (0.12, 0), (0.09, 0.09), (0.06, 0.01), (0.03, 0.09)]
    for left in (2.2, 2.34):
        sheet.area([(left + x, -0.82 + y) for x, y in zigzag], "#000000")
    found = sheet.evidence()
    assert not [disc for disc in found.discs if disc.centre[1] < 0]


@pytest.mark.parametrize(("sign", "radius"), [("\u25cf", 0.15), ("\u25cf", 0.3)])
def test_a_disc_out_of_a_fount_of_signs_is_a_disc(sheet, sign: str, radius: float):
    # The disc of this fount is 0.722 of its size wide, and its middle 0.345 of it above the base line.
    sheet.text(3, 4.5, sign, size=2 * radius / 0.722, font="ZapfDingbats")
    found = sheet.evidence()
    (disc,) = found.discs
    assert disc.centre == pytest.approx((3, 4.5), abs=0.03)
    assert disc.radius == pytest.approx(radius, abs=0.02)
    assert disc.fill == (0, 0, 0)
    assert found.glyphs == ()


@pytest.mark.parametrize(("x", "y", "across", "down"), [(3, 4.5, 0.22, 0.34), (2.5, 6, 0.36, 0.24)])
@pytest.mark.parametrize("filled", [True, False])
def test_an_oval_on_the_border_of_two_cells_is_a_dot(sheet, x, y, across, down, filled: bool) -> None:
    sheet.canvas.setFillColor("#305030" if filled else "#ffffff")
    low, high = sheet.at(x - across / 2, y + down / 2), sheet.at(x + across / 2, y - down / 2)
    sheet.canvas.ellipse(*low, *high, stroke=1, fill=1)
    (disc,) = sheet.evidence().discs
    assert disc.centre == pytest.approx((x, y), abs=0.01)
    assert disc.radius == pytest.approx((across + down) / 4, abs=0.03)


def test_an_oval_elsewhere_is_no_dot(sheet) -> None:
    """In a cell it may be a figure, and one that is twice as long as wide is none of a pair."""
    for x, y, wide in [(2.5, 4.5, 0.24), (5.3, 4.5, 0.24), (7.0, 4.5, 0.15)]:
        sheet.canvas.setFillColor("#305030")
        sheet.canvas.ellipse(*sheet.at(x - wide / 2, y + 0.17), *sheet.at(x + wide / 2, y - 0.17), stroke=0, fill=1)
    found = sheet.evidence()
    assert not found.discs
    assert len(found.shapes) == 3


def ringed_square(side: float, down: float, *, is_sign: bool) -> Ink:
    """A square with round corners, an outline in another, as founts of icons have it."""
    turn = np.linspace(0, 2 * np.pi, 40, endpoint=False)
    ring = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    ring = np.sign(ring) * np.abs(ring) ** 0.25
    outlines = tuple(0.5 + ring * (np.array((side, down)) / 2 - wall) for wall in (0.0, 0.05))
    patch = Patch(0, 0, np.ones((1, 1), np.bool_))
    return Ink(
        role="fill",
        outlines=outlines,
        closed=(True, True),
        curved=True,
        colour=(80, 80, 80),
        opaque=True,
        width=0.0,
        dash=(),
        cap="butt",
        order=0,
        part=0,
        even_odd=True,
        patch=patch,
        whole=patch,
        is_sign=is_sign,
    )


def test_a_small_square_with_round_corners_is_one_where_it_is_a_sign_and_no_nought() -> None:
    assert is_frame(ringed_square(0.5, 0.5, is_sign=True))
    assert not is_frame(ringed_square(0.5, 0.5, is_sign=False))
    assert not is_frame(ringed_square(0.44, 0.5, is_sign=True))
    assert is_frame(ringed_square(0.62, 0.62, is_sign=False))


def test_signs_of_founts_of_icons_stand_for_their_shapes() -> None:
    assert all(map(is_symbol, ("\uf10c", "\ue836", "\uf06e", "\u25cb")))
    assert not any(map(is_symbol, ("O", "0", "\u00d7", "\uf9ff")))


def test_a_square_out_of_a_fount_of_signs_is_a_square(sheet):
    sheet.text(3.5, 4.5, "\u25a0", size=0.6, font="ZapfDingbats")
    (shape,) = sheet.evidence().shapes
    assert (shape.name, shape.filled) == ("square", True)


def test_a_seven_of_two_strokes_is_no_sign(sheet):
    sheet.line([(4.33, 2.23), (4.67, 2.23), (4.47, 2.77)], 0.05)
    sheet.line([(5.9, 4.42), (6.08, 4.5), (5.9, 4.58)], 0.03)
    found = {round(shape.box[1]): shape.name for shape in sheet.evidence().shapes}
    assert found == {2: "mark", 4: "sign"}


def test_signs_that_touch_and_are_drawn_twice_are_one_each(sheet):
    """All of them in one path, as some programs stroke them."""
    path = sheet.canvas.beginPath()
    for sign in ([(3.8, 0.13), (4.2, 0.5), (3.8, 0.87)], [(3.13, 0.8), (3.5, 1.2), (3.87, 0.8)]) * 2:
        for place, point in enumerate(sign):
            (path.lineTo if place else path.moveTo)(*sheet.at(*point))
    sheet.canvas.setLineWidth(0.05 * SIDE)
    sheet.canvas.drawPath(path, stroke=1, fill=0)
    assert sorted((s.name, s.direction) for s in sheet.evidence().shapes) == [("sign", "down"), ("sign", "right")]
