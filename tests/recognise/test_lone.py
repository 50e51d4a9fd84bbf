"""A number alone beside a side of the grid that has no clues."""

import cv2
import numpy as np

from recognise.doubt.lone import lone_numbers
from recognise.draft import box_polygon
from recognise.pixels.frame import Raster

CELL, MARGIN, SIZE = 64, 2.0, 4
RASTER = Raster(SIZE, SIZE, CELL, round(MARGIN * CELL))
SIDE = round((SIZE + 2 * MARGIN) * CELL)
CLUE = box_polygon((1.3, -0.58, 1.7, -0.3))


def _page(*words: tuple[str, float, float]) -> np.ndarray:
    """Words whose lower left corners lie at these places, in cells."""
    letters = np.zeros((SIDE, SIDE), np.uint8)
    for word, x, y in words:
        at = round((x + MARGIN) * CELL), round((y + MARGIN) * CELL)
        cv2.putText(letters, word, at, cv2.FONT_HERSHEY_SIMPLEX, 0.8, 255, 2)
    return np.asarray(letters / 255, np.float32)


def test_a_number_alone_beside_a_side_without_clues_is_found() -> None:
    (box,) = lone_numbers(_page(("12", 1.3, -0.3), ("17", 4.25, 2.65)), [CLUE], RASTER)
    assert 4.1 < box[0] < box[2] < 5
    assert 2 < box[1] < box[3] < 3


def test_without_other_clues_and_beside_those_that_were_read_nothing_is() -> None:
    assert list(lone_numbers(_page(("17", 4.25, 2.65)), [], RASTER)) == []
    assert list(lone_numbers(_page(("17", 2.3, -0.3)), [CLUE], RASTER)) == []


def test_text_beside_the_grid_is_no_clue() -> None:
    column = [(word, 4.2, 0.6 + row) for row, word in enumerate(("of", "the", "sum"))]
    assert list(lone_numbers(_page(*column), [CLUE], RASTER)) == []
    assert list(lone_numbers(_page(("as it stands", 4.2, 2.65)), [CLUE], RASTER)) == []


def test_out_of_line_with_the_cells_stands_no_clue() -> None:
    assert list(lone_numbers(_page(("17", 4.2, 3.2)), [CLUE], RASTER)) == []


def test_what_is_left_of_the_frame_is_no_company() -> None:
    page = _page(("17", 1.2, -0.15))
    page[RASTER.slices((0, 0, SIZE, 0.1))] = 0.6
    (box,) = lone_numbers(page, [box_polygon((-0.5, 2.4, -0.05, 2.7))], RASTER)
    assert box[3] <= 0


def test_a_number_close_to_an_advertisement_is_found_and_one_of_another_size_is_none() -> None:
    page = _page(("7", 2.4, 4.6))
    page[RASTER.slices((0, 4.7, SIZE, 4.74))] = 1.0
    (box,) = lone_numbers(page, [CLUE], RASTER)
    assert 2.3 < box[0] < box[2] < 2.7
    small = box_polygon((1.4, -0.5, 1.6, -0.38))
    assert list(lone_numbers(page, [small], RASTER)) == []


def test_a_whole_side_of_clues_is_found() -> None:
    page = _page(("12", 1.3, -0.3), *((str(n + 11), 4.25, 0.65 + n) for n in range(SIZE)))
    assert len(list(lone_numbers(page, [CLUE], RASTER))) == SIZE


def test_of_a_side_of_clues_one_may_have_its_figures_apart() -> None:
    apart = [("1", 4.2, 2.65), ("1", 4.55, 2.65)]
    page = _page(("12", 1.3, -0.3), *((str(n + 11), 4.25, 0.65 + n) for n in (0, 1, 3)), *apart)
    assert len(list(lone_numbers(page, [CLUE], RASTER))) == SIZE - 1


def test_a_short_word_at_the_end_of_a_line_of_text_is_no_clue() -> None:
    # Two words that are wider than numbers, and one that is lower.
    words = [(0.0, 4.38, 0.97, 4.58), (1.1, 4.38, 2.07, 4.58), (2.3, 4.44, 2.8, 4.58)]
    page = _page(("so", 3.25, 4.58))
    for count, found in ((0, 1), (2, 1), (3, 0)):
        for word in words[:count]:
            page[RASTER.slices(word)] = 1.0
        assert len(list(lone_numbers(page, [CLUE], RASTER))) == found
