"""Boxes and rings that print sets round numbers."""

import cv2
import numpy as np
import pytest

from recognise.evidence import Disc, Shape
from recognise.pixels.frame import Raster
from recognise.pixels.framing import frame_around, frames_of_all, hollow_round_others

CELL = 64
RASTER = Raster(2, 2, CELL, 2 * CELL)
FLOOR = 0.05
BLACK = 1.0


def _page() -> np.ndarray:
    """Ink of a page with a grid of 2 x 2 cells."""
    ink = np.zeros((6 * CELL, 6 * CELL), np.float32)
    for at in range(3):
        where = 2 * CELL + at * CELL
        cv2.line(ink, (where, 2 * CELL), (where, 4 * CELL), BLACK, 2)
        cv2.line(ink, (2 * CELL, where), (4 * CELL, where), BLACK, 2)
    return ink


def _number(ink: np.ndarray, x: float, y: float) -> tuple[float, float, float, float]:
    """A 3 about a point in cells, and its box."""
    px, py = round(RASTER.at(x)), round(RASTER.at(y))
    for middle in (py - 5, py + 5):
        cv2.ellipse(ink, (px, middle), (7, 5), 0, -150, 110, BLACK, 2)
    return x - 0.16, y - 0.17, x + 0.16, y + 0.17


def _around(ink: np.ndarray, box: tuple[float, float, float, float]) -> object:
    relative = np.repeat((1 - ink)[..., None], 3, axis=2)
    return frame_around(box, ink, relative, RASTER, FLOOR)


def _boxed(ink: np.ndarray, x: float, y: float, half: float = 0.26, shade: float = 0.4) -> None:
    corners = [(round(RASTER.at(x + s * half)), round(RASTER.at(y + s * half))) for s in (-1, 1)]
    cv2.rectangle(ink, *corners, 0.0, -1)
    cv2.rectangle(ink, *corners, shade, 2)


def test_a_box_round_a_number_beside_the_grid_is_a_frame() -> None:
    ink = _page()
    _boxed(ink, 0.5, -0.5)
    frame = _around(ink, _number(ink, 0.5, -0.5))
    assert frame is not None
    assert not frame.is_round
    assert np.allclose(frame.box, (0.24, -0.76, 0.76, -0.24), atol=0.05)


@pytest.mark.parametrize("walls", [True, False])
def test_a_box_on_a_corner_is_found_about_where_digits_stand_and_these_alone_are_none(walls: bool) -> None:
    ink = _page()
    if walls:
        _boxed(ink, 1.0, 1.0)
    for x, y in ((0.9, 0.9), (1.1, 0.9), (0.9, 1.1), (1.1, 1.1)):
        at = round(RASTER.at(x)), round(RASTER.at(y))
        cv2.rectangle(ink, (at[0] - 4, at[1] - 5), (at[0] + 4, at[1] + 5), BLACK, -1)
    relative = np.repeat((1 - ink)[..., None], 3, axis=2)
    about = (0.8, 0.8, 1.2, 1.2)
    frame = frame_around(about, ink, relative, RASTER, FLOOR, about=True)
    assert (frame is not None) == walls
    if frame is not None:
        assert np.allclose(frame.box, (0.74, 0.74, 1.26, 1.26), atol=0.05)


def test_a_ring_is_told_from_a_box() -> None:
    ink = _page()
    cv2.circle(ink, (round(RASTER.at(0.5)), round(RASTER.at(-0.5))), 18, 0.4, 2)
    frame = _around(ink, _number(ink, 0.5, -0.5))
    assert frame is not None
    assert frame.is_round
    mark = frame.mark()
    assert isinstance(mark, Disc)
    assert mark.radius == pytest.approx(18 / CELL, abs=0.04)


def test_a_box_on_an_edge_ends_the_lattice_line() -> None:
    ink = _page()
    _boxed(ink, 1.0, 0.5)
    frame = _around(ink, _number(ink, 1.0, 0.5))
    assert frame is not None
    assert np.allclose(frame.box, (0.74, 0.24, 1.26, 0.76), atol=0.05)


def test_a_number_without_a_frame_has_none() -> None:
    ink = _page()
    assert _around(ink, _number(ink, 0.5, -0.5)) is None
    assert _around(ink, _number(ink, -0.5, 0.5)) is None


def test_a_frame_that_is_open_on_one_side_is_none() -> None:
    ink = _page()
    _boxed(ink, 0.5, -0.5)
    ink[round(RASTER.at(-0.7)) : round(RASTER.at(-0.3)), round(RASTER.at(0.7)) : round(RASTER.at(0.8))] = 0
    assert _around(ink, _number(ink, 0.5, -0.5)) is None


def test_boxes_count_only_where_every_number_has_one() -> None:
    ink = _page()
    relative = np.repeat((1 - ink)[..., None], 3, axis=2)
    _boxed(ink, 0.5, -0.5)
    boxes = [_number(ink, 0.5, -0.5), _number(ink, 1.5, -0.5)]
    assert frames_of_all(boxes, ink, relative, RASTER, FLOOR) == []
    _boxed(ink, 1.5, -0.5)
    boxes = [boxes[0], _number(ink, 1.5, -0.5)]
    frames = frames_of_all(boxes, ink, relative, RASTER, FLOOR)
    assert [type(frame) for frame in frames] == [Shape, Shape]


def test_a_piece_round_another_is_a_frame_and_a_zero_is_none() -> None:
    mask = np.zeros((80, 200), np.uint8)
    cv2.rectangle(mask, (10, 10), (60, 70), 1, 2)
    cv2.polylines(mask, [np.array([(45, 45), (25, 45), (38, 25), (38, 55)])], False, 1, 2)
    cv2.ellipse(mask, (120, 40), (18, 28), 0, 0, 360, 1, 2)
    cv2.circle(mask, (120, 40), 3, 1, -1)
    _, labels, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8)
    outer = int(labels[10, 30])
    assert hollow_round_others(labels, stats, range(1, len(stats)), RASTER) == {outer}


@pytest.mark.parametrize(
    ("shape", "is_frame"),
    [("box", True), ("ring", True), ("nought", False), ("round nought", False)],
)
def test_a_small_number_in_a_box_or_ring_is_framed_and_a_speck_in_a_zero_is_none(shape: str, is_frame: bool) -> None:
    mask = np.zeros((80, 80), np.uint8)
    if shape == "box":
        cv2.rectangle(mask, (10, 10), (70, 70), 1, 2)
    else:
        width, stroke = {"ring": (30, 2), "nought": (25, 3), "round nought": (30, 8)}[shape]
        cv2.ellipse(mask, (40, 40), (width, 30), 0, 0, 360, 1, stroke)
    cv2.line(mask, (40, 35), (40, 47), 1, 3)
    _, labels, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8)
    assert bool(hollow_round_others(labels, stats, range(1, len(stats)), RASTER)) == is_frame


def test_a_small_number_in_a_tag_whose_point_ends_at_the_grid_is_framed() -> None:
    page = _page()
    left, top, right, tip = (round(RASTER.at(each)) for each in (0.1, -0.9, 0.9, 0))
    corners = np.array([(left, top), (right, top), (right, tip - 20), ((left + right) // 2, tip), (left, tip - 20)])
    cv2.polylines(page, [corners], True, BLACK, 1)
    number = _number(page, 0.5, -0.55)
    relative = np.repeat((1 - page)[..., None], 3, axis=2)
    (frame,) = frames_of_all([number], page, relative, RASTER, FLOOR)
    assert isinstance(frame, Shape), "a tag is no ring"
    mask = (page > 0.5).astype(np.uint8)
    mask[tip - 3 :] = 0  # the lines of the grid are taken out with what is close to them
    _, labels, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8)
    assert hollow_round_others(labels, stats, range(1, len(stats)), RASTER) == {int(labels[top, left])}


@pytest.mark.parametrize("radius", [12, 15, 19])
def test_a_ring_is_no_tag_however_few_pixels_it_has(radius: int) -> None:
    page = _page()
    cv2.circle(page, (round(RASTER.at(0.5)), round(RASTER.at(-0.5))), radius, BLACK, 2, cv2.LINE_AA)
    number = _number(page, 0.5, -0.5) if radius > 14 else (0.42, -0.58, 0.58, -0.42)
    relative = np.repeat((1 - page)[..., None], 3, axis=2)
    (frame,) = frames_of_all([number], page, relative, RASTER, FLOOR)
    assert isinstance(frame, Disc)
