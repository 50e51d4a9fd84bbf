"""Little arrows beside the grid: thin ones that touch a double frame, and wedges at corners of the lattice."""

from collections.abc import Collection

import cv2
import numpy as np

from recognise.evidence import Flat, Glyph, Guess
from recognise.marks.slanted import slanted
from recognise.pixels.blobs import find_pieces, measure_tones
from recognise.pixels.frame import Raster
from recognise.pixels.ground import measure_ground
from recognise.pixels.ink import measure_ink

CELL, MARGIN, SIZE = 64, 1.5, 9
DARK = (30, 30, 30)


def _at(x: float, y: float) -> tuple[int, int]:
    return round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)


def _page(*, framed: bool = False) -> np.ndarray:
    side = round((SIZE + 2 * MARGIN) * CELL)
    image = np.full((side, side, 3), 245, np.uint8)
    for k in range(SIZE + 1):
        cv2.line(image, _at(k, 0), _at(k, SIZE), DARK, 3 if k % 3 == 0 else 1)
        cv2.line(image, _at(0, k), _at(SIZE, k), DARK, 3 if k % 3 == 0 else 1)
    if framed:
        cv2.rectangle(image, _at(-0.09, -0.09), _at(SIZE + 0.09, SIZE + 0.09), DARK, 1)
    return image


def _number(text: str, x: float, y: float) -> Glyph:
    return Glyph((x - 0.17, y - 0.12, x + 0.17, y + 0.12), (Guess(text, 1.0),), 0.24, DARK, "ocr")


def _found(image: np.ndarray, *numbers: Glyph, seen: Collection[tuple[int, int]] = ()) -> set[tuple[int, int, str]]:
    maps = np.zeros(image.shape[:2], np.float32)
    flat = Flat(image, SIZE, SIZE, CELL, MARGIN, maps, maps)
    ink, raster = measure_ink(flat, measure_ground(flat)), Raster.of(flat)
    pieces = find_pieces(ink.drawn, raster, measure_tones(ink, raster))

    def told(row: int, column: int, way: str) -> bool:
        return (row, column) in seen and way == "NE"

    return {(arrow.row, arrow.column, arrow.way) for arrow in slanted(pieces, raster, numbers, told)}


def test_an_arrow_is_parted_from_the_outer_line_of_a_double_frame() -> None:
    image = _page(framed=True)
    for start, end in (((4.65, -0.34), (4.92, -0.09)), ((SIZE + 0.34, 1.65), (SIZE + 0.09, 1.92))):
        cv2.arrowedLine(image, _at(*start), _at(*end), DARK, 1, cv2.LINE_AA, tipLength=0.3)
    assert _found(image, _number("22", 4.5, -0.52), _number("24", SIZE + 0.5, 1.45)) == {(0, 5, "SE"), (2, 10, "SW")}


def test_a_wedge_at_a_corner_points_away_from_its_number() -> None:
    image = _page()
    for x, y, way in ((9, 5, (-1, -1)), (9, 6, (-1, -1)), (1, 9, (1, -1))):
        tip = np.array((x, y)) - 0.03 * np.array(way)
        back, aside = tip - 0.17 * np.array(way), 0.08 * np.array((way[1], -way[0]))
        cv2.fillPoly(image, [np.array([_at(*corner) for corner in (tip, back + aside, back - aside)])], DARK)
    numbers = [_number("21", 9.5, 5.5), _number("33", 9.5, 6.5), _number("45", 0.5, 9.5)]
    # A wedge between two numbers belongs to the one that has no other.
    assert _found(image, *numbers) == {(6, 10, "NW"), (7, 10, "NW"), (10, 1, "NE")}
    assert _found(image, numbers[1]) == {(7, 10, "NW")}


def _arrow(image: np.ndarray, tail: tuple[float, float], tip: tuple[float, float], head: float) -> None:
    """An arrow with an open head whose strokes are so long, in cells, and run along rows and columns."""
    cv2.line(image, _at(*tail), _at(*tip), DARK, 2, cv2.LINE_AA)
    for axis in (0, 1):
        end = list(tip)
        end[axis] += np.sign(tail[axis] - tip[axis]) * head
        cv2.line(image, _at(*tip), _at(end[0], end[1]), DARK, 2, cv2.LINE_AA)


def test_a_short_arrow_with_a_large_head_is_no_wedge() -> None:
    image = _page()
    _arrow(image, (2.36, SIZE + 0.36), (2.07, SIZE + 0.07), 0.17)
    # As a wedge it would belong to the number at the left, which has no other.
    assert _found(image, _number("36", 1.5, SIZE + 0.55), _number("4", 2.5, SIZE + 0.55)) == {(10, 3, "NW")}


def test_two_arrows_whose_tips_touch_are_parted() -> None:
    image = _page()
    _arrow(image, (-0.36, 1.66), (-0.05, 1.97), 0.12)
    _arrow(image, (-0.36, 2.34), (-0.05, 2.03), 0.12)
    cv2.line(image, _at(-0.05, 1.97), _at(-0.05, 2.03), DARK, 2)
    _arrow(image, (4.66, -0.36), (4.97, -0.05), 0.12)
    _arrow(image, (5.34, -0.36), (5.03, -0.05), 0.12)
    cv2.line(image, _at(4.97, -0.05), _at(5.03, -0.05), DARK, 2)
    assert _found(image, _number("9", 8.5, -0.5)) == {(2, 0, "SE"), (3, 0, "NE"), (0, 5, "SE"), (0, 6, "SW")}


def test_an_arrow_like_others_needs_no_number_that_was_read_before() -> None:
    for off, arrows in ((0.0, 4), (0.12, 3)):
        image = _page()
        for column in (2, 3, 4):
            _arrow(image, (column - 0.34, SIZE + 0.34), (column - 0.1, SIZE + 0.1), 0.1)
        _arrow(image, (7.34 + off, -0.34), (7.1 + off, -0.1), 0.1)
        assert len(_found(image, *(_number("22", column - 0.5, SIZE + 0.55) for column in (2, 3, 4)))) == arrows
        assert len(_found(image, seen={(10, 3), (10, 4)})) == arrows
        assert not _found(image)
