"""Little arrows beside the grid: thin ones that touch a double frame, and wedges at corners of the lattice."""

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


def _found(image: np.ndarray, *numbers: Glyph) -> set[tuple[int, int, str]]:
    maps = np.zeros(image.shape[:2], np.float32)
    flat = Flat(image, SIZE, SIZE, CELL, MARGIN, maps, maps)
    ink, raster = measure_ink(flat, measure_ground(flat)), Raster.of(flat)
    pieces = find_pieces(ink.drawn, raster, measure_tones(ink, raster))
    return {(arrow.row, arrow.column, arrow.way) for arrow in slanted(pieces, raster, numbers)}


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
